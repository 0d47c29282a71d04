"""How a planned flight scatters over time, and where it comes down.

A few draws are flown with their history and laid on common moments, so that a view can show the
band of the ensemble and single flights in it; the whole ensemble gives the landing points.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import fly_ensemble, fly_history, registry
from goodflight.studies.case import Case
from goodflight.studies.draws import draw
from goodflight.studies.fly import nominal_of
from goodflight.studies.polygon import signed_distance_m
from goodflight.studies.results import FlightReport

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

# name -> (words, dimension, shown on the rail too)
CURVES: Final[dict[str, tuple[str, str, bool]]] = {
    "up_m": ("height above the pad", "length", True),
    "speed_m_s": ("air speed", "speed", True),
    "margin_incidence_cal": ("static margin at the incidence flown", "calibre", False),
    "incidence_rad": ("incidence", "angle", False),
    "roll_rate_rad_s": ("spin", "angular_rate", True),
}
EVERY_S: Final = 0.1
AFTER_EJECTION_S: Final = 3.0  # what is shown after the middle flight's ejection
FREE, OPENED = 2.0, 3.0  # the history's phase: clear of the rail, after ejection
QUIET_PA: Final = 60.0  # below this dynamic pressure, margin and incidence say nothing


@dataclass(frozen=True, eq=False)
class Bands:
    """Histories on common moments: (flights, moments) each, NaN where a flight has no figure."""

    rocket: str
    plan: str
    motor: str
    time_s: Array
    curves: Mapping[str, Array]
    events: tuple[tuple[str, float, float], ...]  # of the nominal flight: words, s, m
    nominal: FlightReport

    def quantile(self, name: str, share: float) -> Array:
        """One edge of a band, (moments,)."""
        values = self.curves[name]
        out = np.full(self.time_s.size, np.nan)
        some = np.isfinite(values).sum(axis=0) >= 0.5 * values.shape[0]
        out[some] = np.nanquantile(values[:, some], share, axis=0)
        return out


@dataclass(frozen=True, eq=False)
class Landings:
    """Landing points east and north of the pad, as planned and when nothing opens."""

    site: str
    east_m: Array
    north_m: Array
    off_field: NDArray[np.bool_]
    ballistic_east_m: Array
    ballistic_north_m: Array
    outline_m: tuple[tuple[float, float], ...]
    keep_outs_m: tuple[tuple[str, tuple[tuple[float, float], ...]], ...]
    wind_m_s: float
    wind_from_rad: float
    wind_from_sigma_rad: float


def bands_of(
    case: Case, flights: int = 40, seed: int = 1, progress: Progress | None = None
) -> Bands:
    """Fly some draws of a planned flight with their history.

    Parameters
        case : Case - the planned flight. [SI]
        flights : int - draws flown. [-]
        seed : int - same seed, same flights. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        bands : Bands - every curve on common moments, to shortly after ejection. [SI]
    Raises
        ValueError - the rocket lacks what a flight needs.
    Validity
        Few flights: the edge of a band is itself uncertain.
    Source
        The flight kernel.
    """
    nominal = nominal_of(case, seed=seed)
    end = nominal.figures.get("ejection_s") or nominal.figures.get("landing_s") or 10.0
    times = np.arange(0.0, end + AFTER_EJECTION_S, EVERY_S)
    sample = draw(case, flights, seed)
    found: dict[str, list[Array]] = {name: [] for name in CURVES}
    for i in range(flights):
        if progress is not None and i % 5 == 0:
            progress("flying single flights", i / flights)
        flown = fly_history(
            sample.parameters[i], case.motor, case.tables, int(sample.seeds[i]), case.deployment,
            True, EVERY_S,
        )  # fmt: skip
        for name, values in _curves(flown.history).items():
            found[name].append(_laid(flown.history["time_s"], values, times))
    curves = {name: np.array(rows) for name, rows in found.items()}
    return Bands(
        case.rocket.name, case.plan, case.motor.name, times, curves, nominal.events, nominal
    )


def _curves(history: Mapping[str, Array]) -> dict[str, Array]:
    flying = history["phase"] == FREE
    seen = flying & (history["pressure_pa"] > QUIET_PA)
    incidence = np.arcsin(np.sqrt(np.clip(history["sin2_incidence"], 0.0, 1.0)))
    return {
        "up_m": history["up_m"],
        "speed_m_s": history["speed_m_s"],
        "margin_incidence_cal": np.where(seen, history["margin_incidence_cal"], np.nan),
        "incidence_rad": np.where(seen, incidence, np.nan),
        "roll_rate_rad_s": np.where(history["phase"] < OPENED, history["roll_rate_rad_s"], np.nan),
    }


def _laid(own_s: Array, values: Array, times_s: Array) -> Array:
    return np.interp(times_s, own_s, values, left=np.nan, right=np.nan)


def landings_of(case: Case, flights: int = 600, seed: int = 1) -> Landings:
    """Where the flights of a plan come down, and where they would with nothing open.

    Parameters
        case : Case - the planned flight. [SI]
        flights : int - draws flown each way. [-]
        seed : int - same seed, same points. [-]
    Returns
        landings : Landings - points, field and wind. [SI]
    Raises
        ValueError - the rocket lacks what a flight needs.
    Validity
        As the rows of landing in the ledger.
    Source
        The flight kernel; the site's outline.
    """
    sample = draw(case, flights, seed)
    ways = [
        fly_ensemble(sample.parameters, case.motor, case.tables, sample.seeds, deployment)
        for deployment in (case.deployment, registry.NOTHING_OPENS)
    ]
    east, north = (registry.OUTCOME_INDEX[f"landing_{way}_m"] for way in ("east", "north"))
    opened, nothing = ways
    outline = case.site.outline_m
    outside = np.zeros(flights, dtype=bool)
    if len(outline) >= 3:
        outside = signed_distance_m(opened[:, east], opened[:, north], outline) > 0.0
    return Landings(
        case.site.name, opened[:, east], opened[:, north], outside, nothing[:, east],
        nothing[:, north], outline, case.site.keep_outs_m, case.day.wind_m_s,
        case.day.wind_from_rad, case.day.wind_from_sigma_rad,
    )  # fmt: skip
