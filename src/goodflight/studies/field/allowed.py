"""The greatest apogee that a field allows against the wind: the plan's flights moved up and down.

Each flight of the plan keeps its wind, gusts, mass, canopy and the height it falls until the canopy
is open. Its way to the apogee goes with the apogee, its speed over the ground there with the root
of it; the mean wind is integrated anew from where the canopy opens; what else carried it (gusts,
filling) goes with the height it came down under the canopy. At its own apogee it is the flight
itself. Left out: that another motor leaves the rail faster or slower and so leans otherwise.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.drift import Hanging, Landed, landing_from_m, moved_apogee
from goodflight.physics.flight.fall import MeanWind, Start
from goodflight.physics.polygon import signed_distance_m
from goodflight.studies.case.planned import Case
from goodflight.studies.field.conditions import Conditions, under
from goodflight.studies.judging.chance import wilson
from goodflight.studies.rows.applies import came_down_open
from goodflight.studies.rows.model import View
from goodflight.studies.rows.reach import fallen_from, people_gap_m, people_needed_m
from goodflight.studies.sampling.flights import COARSE_TOLERANCE, fly_together
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

SHARE: Final = 0.9  # of the landings under the canopy that stay inside
WINDS_M_S: Final = tuple(float(wind) for wind in range(1, 10))
FLIGHTS: Final = 400  # in each wind: a share of 90 in 100 is known to 3 in 100
STEP_M: Final = 10.0
AT_ONCE: Final = 10  # heights looked at before the next
SPAN: Final = (0.25, 2.5)  # apogees looked at, of the plan's own
WIND: Final = ("wind_m_s", "wind_from_rad", "wind_height_m", "wind_exponent")


@dataclass(frozen=True)
class Allowed:
    """What one mean wind allows."""

    wind_m_s: Annotated[float, "mean wind at the plan's height [m/s]"]
    apogee_m: Annotated[
        float | None,
        "greatest apogee up to which the share stays inside [m]; null = not even from the lowest",
    ]
    low_m: Annotated[float | None, "the same by the lower end of the 95 % Wilson interval [m]"]
    high_m: Annotated[float | None, "the same by its upper end [m]"]
    planned_m: Annotated[float | None, "median apogee of the plan's own flights [m]"]
    planned_inside: Annotated[float | None, "share of their landings that stays inside"]
    unopened_near: Annotated[
        float | None,
        "share that reaches people or property unopened, from that apogee; null = not known",
    ]


@dataclass(frozen=True)
class AllowedApogees:
    """Allowed apogee against the wind, for the plan's canopy and lean of the rail."""

    share: Annotated[float, "share of the landings under the canopy that stays inside"]
    lowest_m: Annotated[float, "lowest apogee looked at [m]"]
    highest_m: Annotated[float, "highest apogee looked at [m]"]
    flights: Annotated[int, "flights in each wind"]
    wind_from_rad: Annotated[float, "where the wind comes from [rad]"]
    wind_from_sigma_rad: Annotated[float, "how far that is off, one standard deviation [rad]"]
    ceiling_m: Annotated[float | None, "agreed ceiling above the pad [m]; null = not known"]
    keep_outs: Annotated[bool, "whether what must not be hit is known: else the apogees are bounds"]
    winds: Annotated[tuple[Allowed, ...], "one for each wind; empty = the outline is not known"]


def allowed_of(
    case: Case, winds: Sequence[float] = WINDS_M_S, flights: int = FLIGHTS, seed: int = 1
) -> AllowedApogees:
    """The greatest apogee in each wind from which 9 in 10 landings stay where they may be.

    Parameters
        case : Case - the planned flight. [SI]
        winds : sequence - mean winds at the plan's height. [m/s]
        flights : int - in each wind. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        allowed : AllowedApogees - for each wind, and what it stands on. [SI]
    Raises
        StudyRefused - the rocket lacks what a flight needs.
    Validity
        Apogees from a quarter to two and a half of the plan's; held against full flights of other
        motors from half of it to one and a half.
    Source
        Flight kernel; derived.
    """
    known = len(case.site.outline_m) >= 3
    cases = [under(case, Conditions(wind_m_s=wind)) for wind in winds] if known else []
    samples = [make_trials(each, flights, seed) for each in cases]
    views = fly_together(cases, samples, COARSE_TOLERANCE) if cases else ()
    middle = [_middle(view.outcome("apogee_m")) for view in views]
    reached = max((each for each in middle if each is not None), default=0.0)
    heights = _heights(reached)
    return AllowedApogees(
        share=SHARE,
        lowest_m=float(heights[0]),
        highest_m=float(heights[-1]),
        flights=flights,
        wind_from_rad=case.day.wind_from_rad,
        wind_from_sigma_rad=case.day.wind_from_sigma_rad,
        ceiling_m=case.site.ceiling_m,
        keep_outs=bool(case.site.keep_outs_m) or case.field_says.nothing_to_avoid,
        winds=tuple(
            _allowed(view, wind, heights, own) for view, wind, own in zip(views, winds, middle)
        ),
    )


def _heights(reached_m: float) -> Array:
    low, high = (max(round(share * reached_m / STEP_M), 1) for share in SPAN)
    return np.asarray(STEP_M * np.arange(low, high + 1))


def _allowed(view: View, wind_m_s: float, heights: Array, planned_m: float | None) -> Allowed:
    shares = _shares(view, heights)
    best, low, high = (_up_to(heights, column >= SHARE) for column in shares.T)
    landed, own = inside_from(view, view.outcome("apogee_m")[None])
    return Allowed(
        wind_m_s=wind_m_s,
        apogee_m=best,
        low_m=low,
        high_m=high,
        planned_m=planned_m,
        planned_inside=float(landed.sum() / own.sum()) if own.any() else None,
        unopened_near=None if best is None else _unopened(view, best),
    )


def _shares(view: View, heights: Array) -> Array:
    """Share inside with its interval from each height, (k, 3), up to where it is surely too low."""
    found: list[tuple[float, float, float]] = []
    for start in range(0, heights.size, AT_ONCE):
        inside, opened = inside_from(view, heights[start : start + AT_ONCE, None])
        for held, many in zip(inside.sum(axis=1).tolist(), opened.sum(axis=1).tolist()):
            if not many:
                return np.asarray([*found, (0.0, 0.0, 0.0)], dtype=np.float64)
            told = wilson(held, many)
            found.append((told.chance, told.low, told.high))
        if found[-1][2] < SHARE:
            break
    return np.asarray(found, dtype=np.float64)


def _up_to(heights: Array, held: Mask) -> float | None:
    """The last height before the first that does not hold."""
    count = held.size if held.all() else int(np.argmin(held))
    return float(heights[count - 1]) if count else None


def inside_from(view: View, apogee_m: Array) -> tuple[Mask, Mask]:
    """Landings that stay inside from given apogees, and those under an open canopy; (k, n) each."""
    east, north = landing_from(view, apogee_m)
    site = view.case.site
    opened = np.isfinite(east)
    inside = signed_distance_m(east, north, site.outline_m) <= 0.0
    for _, ring in site.keep_outs_m:
        inside &= signed_distance_m(east, north, ring) >= 0.0
    return inside & opened, opened


def landing_from(view: View, apogee_m: Array) -> tuple[Array, Array]:
    """Where each flight lands from a given apogee, (k, n) east and north; NaN: never opened."""
    case, outcome, parameter = view.case, view.outcome, view.parameter
    wind = MeanWind(*(parameter(name) for name in WIND))
    hanging = Hanging(
        mass_kg=parameter("dry_mass_kg"),
        first_area_m2=parameter("canopy_area_m2"),
        second_area_m2=parameter("main_area_m2"),
        second_below_m=parameter("main_height_m"),
        ground_temperature_k=parameter("ground_temperature_k"),
        ground_pressure_pa=parameter("ground_pressure_pa"),
    )
    opening_m = outcome("opening_m")
    before_s = outcome("ejection_s") + parameter("stretch_s") - outcome("apogee_s")
    landed = Landed(opening_m, before_s, outcome("landing_east_m"), outcome("landing_north_m"))
    gravity, own = case.site.gravity_m_s2, _own(view)
    east, north = landing_from_m(
        apogee_m, own, landed, wind=wind, hanging=hanging, gravity_m_s2=gravity
    )
    flew = came_down_open(view) & (opening_m > 0.0)
    return np.where(flew, east, np.nan), np.where(flew, north, np.nan)


def _own(view: View) -> Start:
    names = ("apogee_m", "apogee_east_m", "apogee_north_m", "apogee_east_m_s", "apogee_north_m_s")
    return Start(*map(view.outcome, names))


def _unopened(view: View, apogee_m: float) -> float | None:
    """Share of the flights that reach people or property from an apogee if nothing opens."""
    start = moved_apogee(_own(view), np.asarray(apogee_m))
    gap = people_gap_m(view.case, fallen_from(view, start))
    return None if gap is None else float((gap < people_needed_m(view.case)).mean())


def _middle(values: Array) -> float | None:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size else None
