"""One nominal flight: its figures, its events in words, its time history."""

import math
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero import mach_warning
from goodflight.physics.aero.reading import scalar
from goodflight.physics.bearings import bearing_rad, distance_m
from goodflight.physics.flight import fly_ensemble, fly_history, registry
from goodflight.physics.motor import grain_item
from goodflight.physics.vehicle import MassItem, combine
from goodflight.project import Project
from goodflight.quantity.said import Words
from goodflight.studies.case.doubts import doubts_of
from goodflight.studies.case.planned import Case, motor_aft_m
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.layout import slow_cp_m
from goodflight.studies.results import FlightReport
from goodflight.studies.sampling.trials import Trials, nominal
from goodflight.studies.stands_on import stands_on

Array = NDArray[np.float64]

_EVENTS: Final = (  # words, time, height (an outcome's name, a height in m, or None)
    ("first motion", "liftoff_s", 0.0),
    ("forward guide leaves the rail", "guide_exit_s", None),
    ("last guide leaves the rail", "rail_exit_s", None),
    ("highest speed", "max_speed_s", "max_speed_height_m"),
    ("burnout", "burnout_s", "burnout_m"),
    ("apogee", "apogee_s", "apogee_m"),
    ("ejection", "ejection_s", "ejection_m"),
    ("charge of the second canopy", "main_s", "main_m"),
    ("on the ground", "landing_s", 0.0),
)
_STATUS: Final = {
    registry.NEVER_LEFT: "the rocket never leaves the rail: too little thrust for its weight",
    registry.GAVE_UP: "the flight could not be computed to the ground",
    registry.NOTHING_OPEN: "the rocket reaches the ground before any parachute opens",
}


def nominal_flight(
    project: Project, plan: str | None = None, calm: bool = False, seed: int = 1
) -> FlightReport:
    """The flight with every figure at its nominal value.

    In the plan's mean wind with one run of gusts, or in calm air with the rail as planned.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        calm : bool - no wind and no gusts. [-]
        seed : int - of the run of gusts. [-]
    Returns
        report : FlightReport - figures by name with unit, events, history. [SI]
    Raises
        NoSuchPlan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        One flight out of many; the ledger says how far others scatter.
    Source
        The flight kernel.
    Example
        >>> report = goodflight.fly(goodflight.load("fieldfare"), calm=True)
        >>> report.events[0][0], report.figures["apogee_m"] > 0
        ('first motion', True)
    """
    return nominal_of(case_of(project, plan), calm, seed)


def nominal_of(case: Case, calm: bool = False, seed: int = 1) -> FlightReport:
    """The nominal flight of a resolved case; see `nominal_flight`."""
    if calm:
        case = replace(case, day=replace(case.day, wind_m_s=0.0))
    sample = nominal(case)
    launch = replace(case.launch, turbulence=not calm)
    flown = fly_history(launch, sample.parameters[0], seed)
    unopened = replace(launch, deployment=registry.NOTHING_OPENS)
    seeds = np.array([seed], dtype=np.uint64)
    nothing = fly_ensemble(unopened, sample.parameters, seeds)[0]
    figures = _figures(case, sample, flown.outcomes, nothing)
    return FlightReport(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        calm=calm,
        figures=figures,
        events=events_of(flown.outcomes, flown.history),
        history=flown.history,
        warnings=_warnings(case, flown.outcomes),
        invented=case.origin.invented,
        stands_on=stands_on(case),
    )


def _figures(
    case: Case, sample: Trials, outcomes: dict[str, float], nothing: Array
) -> dict[str, float | None]:
    figures: dict[str, float | None] = {
        name: value if math.isfinite(value) else None
        for name, value in outcomes.items()
        if name not in ("status", "steps")
    }

    def parameter(name: str) -> float:
        return float(sample.parameter(name)[0])

    empty = MassItem(
        "without propellant",
        parameter("dry_mass_kg"),
        parameter("dry_cg_m"),
        parameter("dry_pitch_inertia_kg_m2"),
        0.0,
    )
    grain = grain_item(case.motor, motor_aft_m(case.rocket) or 0.0)
    whole, cp = combine([empty, grain]), slow_cp_m(case)
    figures["liftoff_mass_kg"] = whole.mass_kg
    figures["dry_mass_kg"] = empty.mass_kg
    figures["cg_liftoff_m"] = whole.cg_m
    figures["cg_burnout_m"] = empty.station_m
    figures["pitch_inertia_kg_m2"] = whole.pitch_inertia_kg_m2
    figures["cp_m"] = cp
    figures["margin_liftoff_cal"] = (cp - whole.cg_m) / scalar(case.tables, "diameter_m")
    _after(figures)
    for name in ("landing_east_m", "landing_north_m", "landing_m_s"):
        value = float(nothing[registry.OUTCOME_INDEX[name]])
        figures[f"ballistic_{name}"] = value if math.isfinite(value) else None
    return figures


def _after(figures: dict[str, float | None]) -> None:
    """Figures that follow from others."""
    ejection, apogee = figures.get("ejection_s"), figures.get("apogee_s")
    figures["ejection_after_apogee_s"] = (
        ejection - apogee if ejection is not None and apogee is not None else None
    )
    east, north = figures.get("landing_east_m"), figures.get("landing_north_m")
    if east is not None and north is not None:
        figures["landing_distance_m"] = float(distance_m(east, north))
        figures["landing_bearing_rad"] = float(bearing_rad(east, north))


def events_of(
    outcomes: dict[str, float], history: dict[str, Array]
) -> tuple[tuple[str, float, float], ...]:
    """Events of one flight in the order they happen: words, time [s], height [m]."""
    found = []
    for words, time_name, height in _EVENTS:
        time = outcomes[time_name]
        if not math.isfinite(time):
            continue
        if isinstance(height, str):
            place = outcomes[height]
        elif height is None:
            place = float(np.interp(time, history["time_s"], history["up_m"]))
        else:
            place = height
        found.append((words, time, place))
    return tuple(sorted(found, key=lambda event: event[1]))


def _warnings(case: Case, outcomes: dict[str, float]) -> tuple[Words, ...]:
    found = [*case.tables.warnings, *doubts_of(case)]
    transonic = mach_warning(outcomes["max_mach"])
    if transonic is not None:
        found.append(transonic)
    status = _STATUS.get(outcomes["status"])
    if status is not None:
        found.append(status)
    return tuple(found)
