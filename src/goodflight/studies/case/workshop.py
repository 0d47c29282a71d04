"""The workshop behind a rocket: glue joints and the places they cured in, coats, checks, devices.

Plain records made from `build.toml` and the devices of `rocket.toml`; the rows of workmanship and
electronics and the strength of the bonds stand on them.
"""

from dataclasses import dataclass

from goodflight.project import Project, defaults
from goodflight.project.bench_files import BuildFile
from goodflight.project.calendar_files import WorkplaceTable
from goodflight.project.workshop_files import PaintTable
from goodflight.quantity import Quantity
from goodflight.studies.bench.done import done_steps
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.bench.ticked import locked_out
from goodflight.studies.case.joints import GluedJoint, Stay, joints_of

COLD_LOSS = 0.2  # of a cell's capacity at 0 degC against 20 degC; common practice, no source


@dataclass(frozen=True)
class Coat:
    """One coat of paint; None = not entered."""

    name: str
    place: str
    temperature_k: float | None = None
    sigma_k: float = 0.0
    humidity: float | None = None
    humidity_sigma: float = 0.0
    surface_k: float | None = None
    recoat_least_s: float | None = None
    recoat_most_s: float | None = None
    interval_s: float | None = None


@dataclass(frozen=True)
class Device:
    """A battery-run device: how long it runs at 20 degC and how long it records."""

    name: str
    run_s: float | None = None
    recording_s: float | None = None
    from_lift_off: bool | None = None  # it begins to record then; None: nobody says
    cold_loss: float = COLD_LOSS
    temperature_k: float | None = None  # of the cell; None = the day's
    on_board: bool = True  # False: the rocket has none, which this entry says
    records: bool = True  # False: it records nothing that must come back


@dataclass(frozen=True)
class Workshop:
    """Everything the builder wrote of the workshop.

    checks : (what, open | tight | loose); early : (step that closes, what it shuts
    out).
    """

    joints: tuple[GluedJoint, ...] = ()
    coats: tuple[Coat, ...] = ()
    checks: tuple[tuple[str, str], ...] = ()
    early: tuple[tuple[str, str], ...] | None = None  # None = no step says what it closes
    fin_limit_rad: float | None = None
    painted: bool | None = None  # None = the builder does not say
    launch_day: str = ""  # ISO date; empty = not given
    tube_kept: str | None = None  # "dry room" or "damp shed", where the body lay before the flight

    def places(self) -> tuple[Stay, ...]:
        """One stay (or coat) for every place whose temperature is drawn."""
        found: dict[str, Stay] = {}
        for stay in (stay for joint in self.joints for stay in joint.stays):
            found.setdefault(stay.place, stay)
        for coat in self.coats:
            if coat.temperature_k is not None:
                stay = Stay(coat.place, 0.0, coat.temperature_k, coat.sigma_k)
                found.setdefault(coat.place, stay)
        return tuple(found.values())


def workshop_of(project: Project) -> Workshop:
    """The workshop of a project; empty without a `build.toml`."""
    build = project.build
    if build is None:
        return Workshop()
    places = {place.name: place for place in build.workplace}
    return Workshop(
        joints=joints_of(build),
        coats=tuple(_coat(table, places) for table in build.paint),
        checks=tuple((check.name, check.state) for check in build.check),
        early=_early(project, build),
        fin_limit_rad=_value(build.fin_limit),
        painted=build.painted,
        launch_day=build.launch_day,
        tube_kept=build.tube_kept,
    )


_FROM_LIFT_OFF = {"lift_off": True, "switched_on": False, None: None}


def devices_of(project: Project) -> tuple[Device, ...]:
    """The devices named in the rocket's file."""
    return tuple(
        Device(
            name=table.name,
            run_s=_value(table.run_time),
            recording_s=_value(table.recording),
            from_lift_off=_FROM_LIFT_OFF[table.records_from],
            cold_loss=COLD_LOSS if table.cold_loss is None else table.cold_loss.value,
            temperature_k=_value(table.temperature),
            on_board=table.kind != "none",
            records=table.kind == "on_board" or table.recording is not None,
        )
        for table in project.head.device
    )


def _value(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value


def _coat(table: PaintTable, places: dict[str, WorkplaceTable]) -> Coat:
    place = places.get(table.workplace) if table.workplace is not None else None
    temperature = table.temperature or (place.temperature if place else None)
    humidity = table.humidity or (place.humidity if place else None)
    where = table.workplace if table.temperature is None and place else f"coat {table.name}"
    return Coat(
        name=table.name,
        place=where or table.name,
        temperature_k=_value(temperature),
        sigma_k=0.0 if temperature is None else defaults.sigma_of("temperature", temperature),
        humidity=_value(humidity),
        humidity_sigma=0.0 if humidity is None else defaults.sigma_of("humidity", humidity),
        surface_k=_value(table.surface),
        recoat_least_s=_value(table.recoat_min),
        recoat_most_s=_value(table.recoat_max),
        interval_s=_value(table.interval),
    )


def _early(project: Project, build: BuildFile) -> tuple[tuple[str, str], ...] | None:
    """Parts closed in before they are fitted: by the order of the steps, or by what is done.

    None where no step says what it closes, or where a step closes in what no step fits.
    """
    done = {key: each.done for key, each in done_steps(project).items()}
    ticked = [key for key, yes in done.items() if yes]
    steps = steps_of(project, guided=False) if ticked else ()
    if locked_out(steps, ticked):  # told by their titles, of which the fins' names the guide
        steps = steps_of(project)
    shut = tuple((first.title, late.title) for first, late in locked_out(steps, ticked))
    closing = [(i, step, part) for i, step in enumerate(build.step) for part in step.closes]
    fitted = {part: i for i, step in enumerate(build.step) for part in step.fits}
    early = tuple(
        (step.name, part)
        for i, step, part in closing
        if part in fitted
        and (fitted[part] > i or (step.done and not build.step[fitted[part]].done))
    )
    if not early and not shut and (not closing or any(part not in fitted for *_, part in closing)):
        return None
    return (*early, *shut)
