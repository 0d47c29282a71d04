"""From a project and the name of a plan to the case that is flown."""

from collections.abc import Mapping, Sequence
from typing import Any, Final, Protocol

from goodflight.physics.aero import MODEL_SPREAD, aero_tables, summary
from goodflight.physics.air.model import Site
from goodflight.physics.flight import registry
from goodflight.physics.motor import total_impulse_ns
from goodflight.physics.motor.model import Motor
from goodflight.physics.vehicle import combine, mass_items, reference_diameter_m
from goodflight.physics.vehicle.parts import Canopy, Rocket
from goodflight.studies.canopies import opening_numbers
from goodflight.studies.case import Case, Sensitivity, fins_of
from goodflight.studies.codes import CODE_SETS
from goodflight.studies.spreads import SPREADS

INTO_WIND: Final = "into wind"
MASS_DIMENSIONS: Final = ("mass",)
FEATURE_MACH: Final = 0.3


class ProjectLike(Protocol):
    """What a study needs of a loaded project."""

    @property
    def motors(self) -> Mapping[str, Motor]: ...

    @property
    def plans(self) -> Sequence[Any]: ...

    @property
    def sites(self) -> Mapping[str, Any]: ...

    def rocket(self, overrides: Mapping[str, float] | None = None) -> Rocket: ...

    def uncertain(self, plan: Any) -> Sequence[Any]: ...


def plan_of(project: ProjectLike, name: str | None) -> Any:
    """A plan by name; None gives the first."""
    plans = tuple(project.plans)
    if not plans:
        raise ValueError("the project has no plan; add one to plans.toml")
    if name is None:
        return plans[0]
    for plan in plans:
        if plan.name == name:
            return plan
    known = ", ".join(repr(plan.name) for plan in plans)
    raise ValueError(f"no plan is called {name!r}; the plans are {known}")


def features_of(rocket: Rocket) -> dict[str, float]:
    """Numbers of a rocket that a changed length moves."""
    whole = combine(mass_items(rocket))
    air = summary(rocket, FEATURE_MACH)
    canopy = next((p for p in rocket.parts if isinstance(p, Canopy)), None)
    found = {
        "mass_kg": whole.mass_kg,
        "cg_m": whole.cg_m,
        "fin_slope": air.fin_slope,
        "body_slope": air.body_slope,
        "cp_m": air.cp_m,
        "axial": air.axial,
        "canopy_area": opening_numbers(canopy).cloth_area_m2 if canopy is not None else 0.0,
        "flutter_m_s": flutter_m_s(rocket),
    }
    return found


def flutter_m_s(rocket: Rocket) -> float:
    """Flutter speed of the fins at sea level [m/s]; 0 when the stiffness is not known."""
    fins = fins_of(rocket)
    if fins is None or fins.material is None or fins.material.shear_modulus_pa is None:
        return 0.0
    return 0.0


def case_of(project: ProjectLike, plan_name: str | None = None) -> Case:
    """Resolve one plan of a project.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan_name : str or None - which plan; None = the first. [-]
    Returns
        case : Case - everything the flight and the rows need. [SI]
    Raises
        ValueError - no such plan, motor or site.
    Validity
        Finite differences of one standard deviation: lengths that move things smoothly.
    Source
        First-order propagation of small changes.
    """
    plan = plan_of(project, plan_name)
    motor, site = _named(project.motors, plan.motor, "motor"), _site(project, plan)
    rocket = project.rocket()
    day = plan.day
    tables = aero_tables(rocket, motor.diameter_m, day.temperature_k, day.pressure_pa)
    figures = tuple(project.uncertain(plan))
    fins = fins_of(rocket)
    azimuth = getattr(plan, "rail_azimuth_rad", None)
    counts = dict(getattr(project, "figures", {}) or {})
    canopies = tuple(p for p in rocket.parts if isinstance(p, Canopy))
    return Case(
        plan=plan.name,
        rocket=rocket,
        motor=motor,
        tables=tables,
        items=mass_items(rocket),
        site=site,
        day=day,
        canopy=_canopy(canopies, plan.canopy),
        rail_length_m=plan.rail_length_m,
        rail_tilt_rad=plan.rail_tilt_rad,
        rail_azimuth_rad=None if azimuth in (None, INTO_WIND) else float(azimuth),
        trim_s=plan.trim_s or 0.0,
        deployment=(registry.BY_ALTIMETER if plan.deployment == "altimeter" else registry.BY_DELAY),
        level=getattr(plan, "level", "") or "",
        stop_height_m=getattr(plan, "stop_height_m", 0.0),
        code=CODE_SETS.get(site.code),
        people_m=getattr(site, "people_m", None),
        spectators_m=getattr(site, "flight_line_m", None),
        motors=dict(project.motors),
        canopies=canopies,
        sensitivities=sensitivities_of(project, rocket, figures),
        features=features_of(rocket),
        model_spreads=model_spreads(rocket, motor),
        cant_sigma_rad=_cant_sigma(fins.cant_sigma_rad if fins is not None else 0.0),
        mass_paths=_mass_paths(figures),
        plan_path=f"plans.toml:plan[{plan.name}]",
        measured=int(counts.get("measured", 0)),
        figures=sum(int(count) for count in counts.values()),
        invented=bool(getattr(project, "invented", False)),
        inputs_hash=str(getattr(project, "hash", "")),
        warnings=tuple(getattr(project, "warnings", ())),
        retable=lambda r, m: aero_tables(r, m.diameter_m, day.temperature_k, day.pressure_pa),
    )


def sensitivities_of(
    project: ProjectLike, rocket: Rocket, figures: Sequence[Any]
) -> tuple[Sensitivity, ...]:
    """What one standard deviation of every length (and other shape figure) does to the rocket."""
    base = features_of(rocket)
    found = []
    for figure in figures:
        if figure.dimension in MASS_DIMENSIONS or not figure.sigma:
            continue
        if not figure.path.startswith("rocket.toml"):
            continue
        moved = features_of(project.rocket({figure.path: figure.value + figure.sigma}))
        effects = {
            key: moved[key] - base[key]
            for key in base
            if abs(moved[key] - base[key]) > 1e-9 * max(1.0, abs(base[key]))
        }
        if effects:
            found.append(
                Sensitivity(figure.path, figure.label, figure.dimension, figure.value,
                            figure.sigma, figure.known, effects)
            )  # fmt: skip
    return tuple(found)


def _named(found: Mapping[str, Any], name: str, kind: str) -> Any:
    if name in found:
        return found[name]
    known = ", ".join(repr(each) for each in found) or "none"
    raise ValueError(f"the plan names {kind} {name!r}; the project has {known}")


def _site(project: ProjectLike, plan: Any) -> Site:
    if isinstance(plan.site, Site):
        return plan.site
    site: Site = _named(project.sites, plan.site, "site")
    return site


def _canopy(canopies: tuple[Canopy, ...], wanted: Any) -> Canopy | None:
    if wanted is None or isinstance(wanted, Canopy):
        return wanted
    return next((c for c in canopies if c.name == wanted), None)


def model_spreads(rocket: Rocket, motor: Motor) -> tuple[tuple[str, str, float, str], ...]:
    """Spreads of the model: key, words, sigma, reason. CP in metres, the rest relative."""
    model = MODEL_SPREAD
    # the speed an unbraked rocket would reach: above Mach 1.1 drag makes it about Mach 0.9
    vacuum = total_impulse_ns(motor) / (combine(mass_items(rocket)).mass_kg + motor.loaded_kg)
    axial = model.axial_transonic if vacuum > 1.1 * 340.0 else model.axial
    return (
        ("cp", "centre of pressure of the model", model.cp_cal * reference_diameter_m(rocket),
         model.cp_reason),
        ("axial", "drag of the model", axial, model.axial_reason),
        ("body_slope", "body lift of the model", model.slope, model.slope_reason),
        ("fin_slope", "fin lift of the model", model.slope, model.slope_reason),
        ("crossflow", "cross-flow lift of the model", model.crossflow, model.crossflow_reason),
    )  # fmt: skip


def _cant_sigma(given_rad: float) -> float:
    return given_rad if given_rad > 0.0 else SPREADS["fin_cant"].sigma


def _mass_paths(figures: Sequence[Any]) -> dict[str, str]:
    """Project path of every part's mass, by the part's name."""
    found = {}
    for figure in figures:
        if figure.dimension in MASS_DIMENSIONS and "[" in figure.path:
            found[figure.path.split("[", 1)[1].split("]", 1)[0]] = figure.path
    return found
