"""The unopened rocket and people: can it come down where they are?"""

from typing import Final
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.reading import coast_drag_area_m2, scalar
from goodflight.physics.bearings import distance_m
from goodflight.physics.flight.descent import FALL_MACH
from goodflight.physics.flight.fall import Impact, MeanWind, Start, nose_first_impact
from goodflight.physics.polygon import signed_distance_m
from goodflight.physics.sources import Constant
from goodflight.physics.structure.landing import landing_energy_j
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import asked, outline
from goodflight.studies.case.planned import Case
from goodflight.studies.rows.answers import people_away
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.sampling import air, airframe, motor, rail
from goodflight.studies.sampling.remembered import Remembered

PERSON_M: Final = 0.3  # radius of a person seen from above
EARLY_CLIMB_M_S: Final = 15.0  # a rocket climbing faster has more than ten metres to go
ONE_PERSON: Final = 1e-6  # a launch's chance of killing one person who has no part in it
FALLS: Final = Remembered()
_START: Final = ("m", "east_m", "north_m", "east_m_s", "north_m_s")  # at apogee
_IMPACT: "WeakKeyDictionary[View, Impact]" = WeakKeyDictionary()


def impact_of(view: View) -> Impact:
    """Where each flight comes down, and how fast, if nothing opens: nose first from apogee."""
    if view not in _IMPACT:
        _IMPACT[view] = _impact(view)
    return _IMPACT[view]


def _impact(view: View) -> Impact:
    return fallen_from(view, Start(*(view.outcome(f"apogee_{name}") for name in _START)))


def fallen_from(view: View, start: Start) -> Impact:
    """Where each flight comes down, and how fast, nose first from a given apogee."""
    case, parameter = view.case, view.parameter
    wind = [
        parameter(name) for name in ("wind_m_s", "wind_from_rad", "wind_height_m", "wind_exponent")
    ]
    mach = full(view, FALL_MACH)
    rest = [
        coast_drag_area_m2(case.tables, mach, parameter("axial_factor")),
        *(
            parameter(name)
            for name in ("dry_mass_kg", "ground_temperature_k", "ground_pressure_pa")
        ),
    ]
    rows = np.column_stack([*start, *wind, *rest])
    gravity = case.site.gravity_m_s2

    def fall(new: NDArray[np.int64]) -> Array:
        columns = rows[new].T
        area, mass, temperature, pressure = columns[9:]
        found = nose_first_impact(
            Start(*columns[:5]),
            MeanWind(*columns[5:9]),
            drag_area_m2=area,
            mass_kg=mass,
            ground_temperature_k=temperature,
            ground_pressure_pa=pressure,
            gravity_m_s2=gravity,
        )
        return np.column_stack(found)

    return Impact(*FALLS.of(rows, fall, np.float64(gravity).tobytes()).T)


def people_gap_m(case: Case, found: Impact) -> Array | None:
    """Distance of impacts from the nearest people or property [m]; None where it is not known."""
    areas, alone = case.site.people_areas_m, case.field_says.people
    if areas:
        gaps = [signed_distance_m(found.east_m, found.north_m, ring) for _, ring in areas]
        gap = np.min(gaps, axis=0)
    elif alone is not None:  # a distance without a direction: it may be any
        gap = alone.value - distance_m(found.east_m, found.north_m)
    else:
        return None
    return np.asarray(np.where(np.isfinite(found.east_m), gap, np.nan))


def people_needed_m(case: Case) -> float:
    """The least such distance that reaches nobody [m]."""
    return scalar(case.tables, "length_m") + PERSON_M


def _reach(view: View) -> Evaluation | Missing:
    found = impact_of(view)
    gap = people_gap_m(view.case, found)
    if gap is None:
        return asked(
            "say where people and property are: draw them on the field, or measure the distance "
            "from the pad to the nearest person, house or road that has no part in the launch",
            people_away(view.case),
            outline(view.case, "people", "or where they are", "corners of the area, in metres"),
        )
    needed = people_needed_m(view.case)
    if view.masks_only:
        return Evaluation(gap, full(view, needed), np.isfinite(gap))
    reached = int((gap < needed).sum())
    hits = point(found.speed_m_s, 50.0)
    energy = float(landing_energy_j(point(view.parameter("dry_mass_kg"), 50.0), hits))
    told: list[Words] = [
        said(
            "it would hit at {speed} with {energy}, nose first; a rocket that falls flat comes "
            "down slower and elsewhere",
            speed=(hits, "speed"),
            energy=(energy, "energy"),
        )
    ]
    early = int((view.outcome("ejection_climb_m_s") > EARLY_CLIMB_M_S).sum())
    if early:
        told.append(
            f"{early} of {view.count} flights eject while they climb; unopened they would go "
            "higher and further than counted here: the field page flies them on"
        )
    if reached:
        told.append(
            f"probability of impact if nothing opens: {reached} of {view.count} flights; times the "
            "chance that nothing opens it is what range safety sets against 1 in a million for "
            "one person (RCC 321, from memory). The range safety officer decides"
        )
    return Evaluation(gap, full(view, needed), np.isfinite(gap), warnings=tuple(told))


ROWS = (
    LimitState(
        "unopened_reach",
        "Unopened rocket can reach people or property",
        phase="code",
        unit="length",
        more_is_worse=False,
        evaluate=_reach,
        formula=(
            "distance between where the rocket comes down nose first when nothing opens and the "
            "nearest people or property, against the rocket's length + {person}; with only a "
            "distance from the pad, that less the way of the rocket, whatever its direction. "
            "Range safety sets the chance of impact against {one} for one person"
        ),
        sources=("rcc321", "kernel"),
        needs=(
            air.wind,
            air.wind_from,
            motor.impulse,
            *airframe.DRAG,
            airframe.mass,
            rail.lean_along,
        ),
        constants={
            "person": Constant(PERSON_M, "length", "rcc321", note="radius of a person, 1 ft"),
            "one": Constant(ONE_PERSON, "ratio", "rcc321", note="per launch"),
        },
        kind="rule",
    ),
)
