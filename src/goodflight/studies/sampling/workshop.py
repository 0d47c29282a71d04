"""What is uncertain about glue, paint and the places they dried in."""

from collections.abc import Iterator

from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import KNOWLEDGE, Family, Measured, Quantity, Stated
from goodflight.studies.sampling.spread import Normal, Relative

_TOLD = "as the project says, or by how the figure is known"


def _glued(case: Case) -> bool:
    return bool(case.workshop.joints)


def _cure(case: Case) -> Stated | None:
    joints = case.workshop.joints
    if not joints:
        return None
    sigma = max(joint.activation_sigma_j_mol / joint.activation_j_mol for joint in joints)
    reason = f"{joints[0].activation_j_mol / 1e3:g} kJ/mol; others 55 to 70 seen"
    return Stated(None, sigma, reason=reason)


def _humidity(case: Case) -> Stated | None:
    coats = case.workshop.coats
    if all(coat.humidity is None for coat in coats):
        return None
    return Stated(None, max(coat.humidity_sigma for coat in coats))


def _places(case: Case) -> Iterator[Stated]:
    for stay in case.workshop.places():
        path = f"build.toml:workplace[{stay.place}].temperature"
        yield Stated(stay.temperature_k, stay.sigma_k, stay.known, path, name=stay.place)


working_time = Quantity(
    "working_time",
    "working time of the glue",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="size of the batch and warmth of the cup",
    exists=_glued,
    measured_by=Measured("time the rest of the glue in its cup", 10.0, "clock", 0.05),
)
glue_pace = Quantity(
    "glue_pace",
    "time the glue-up takes",
    "ratio",
    Relative(0.25),
    nature=KNOWLEDGE,
    because="guess",
    reason="first time",
    exists=_glued,
    measured_by=Measured("time a dry run of the glue-up", 30.0, "clock", 0.1),
)
cure_speed = Quantity(
    "cure_speed",
    "how the cure slows in the cold (Ea)",
    "ratio",
    Relative(0.0),
    nature=KNOWLEDGE,
    because="memory",
    reason="activation energies of other epoxies",
    exists=_glued,
    given=_cure,
    measured_by=Measured(
        "cure two cups of one batch, one in the cold, and time both to hard",
        60.0,
        "clock and thermometer",
        0.05,
    ),
)
warmth = Family(
    "warmth:",
    "temperature of {}",
    "temperature",
    Normal(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    members=_places,
    measured_by=Measured(
        "leave a thermometer that keeps the lowest and highest beside it",
        5.0,
        "thermometer that keeps the lowest and highest",
        0.5,
    ),
)
humidity = Quantity(
    "humidity",
    "humidity where the paint dries",
    "ratio",
    Normal(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=_humidity,
    exists=lambda case: any(coat.humidity is not None for coat in case.workshop.coats),
    at="build.toml:workplace.humidity",
    measured_by=Measured("read a hygrometer there", 2.0, "hygrometer", 0.03),
)
