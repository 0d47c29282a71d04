"""How a planned flight scatters over time: some of the ledger's flights flown with their history.

All flights are laid on common moments, twice: closely until shortly after ejection, and coarsely
to the ground, where only height and speed say something.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import column_spacing, fly_history
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.results import FlightReport
from goodflight.studies.sampling.trials import make_trials

Array = NDArray[np.float64]
Progress = Callable[[str, float], None]

# name -> (words, dimension, drawn down to the ground too)
CURVES: Final[dict[str, tuple[str, str, bool]]] = {
    "up_m": ("height above the pad", "length", True),
    "speed_m_s": ("air speed", "speed", True),
    "margin_incidence_cal": ("static margin at the angle of attack flown", "calibre", False),
    "incidence_rad": ("angle of attack", "angle", False),
    "roll_rate_rad_s": ("spin", "angular_rate", False),
}
EVERY_S: Final = 0.1
WHOLE_EVERY_S: Final = 0.5  # down to the ground
AFTER_EJECTION_S: Final = 3.0  # what is shown after the middle flight's ejection
FREE, OPENED = 2.0, 3.0  # the history's phase: clear of the rail, after ejection
QUIET_PA: Final = 60.0  # below this dynamic pressure, margin and incidence say nothing
SAMPLE: Final = 2000  # flights of the full ledger; a flight's number means its place among them
FLOWN: Final = 120


@dataclass(frozen=True, eq=False)
class Line:
    """One flight on common moments: all curves to after ejection, some down to the ground."""

    close: Mapping[str, Array]  # every EVERY_S
    whole: Mapping[str, Array]  # every WHOLE_EVERY_S
    events: tuple[tuple[str, float, float], ...]  # words, s, m


@dataclass(frozen=True, eq=False)
class Bands:
    """Histories on common moments: (flights, moments) each, NaN where a flight has no figure."""

    rocket: str
    plan: str
    motor: str
    close: Mapping[str, Array]
    whole: Mapping[str, Array]
    nominal: FlightReport

    @property
    def flights(self) -> int:
        """How many flights the bands are made of: flights 1, 2, 3 ... of the ledger's sample."""
        return int(self.close["up_m"].shape[0])

    def quantile(self, name: str, share: float, whole: bool = False) -> Array:
        """One edge of a band, (moments,), where at least half of the flights have a figure.

        Down to the ground, a flight that has landed counts as lying there.
        """
        values = (self.whole if whole else self.close)[name]
        if whole and name == "up_m":
            values = np.where(np.isfinite(values), values, 0.0)
        out = np.full(values.shape[1], np.nan)
        some = np.isfinite(values).sum(axis=0) >= 0.5 * values.shape[0]
        out[some] = np.nanquantile(values[:, some], share, axis=0)
        return out


def bands_of(
    case: Case,
    flights: int = FLOWN,
    sample: int = SAMPLE,
    seed: int = 1,
    progress: Progress | None = None,
) -> Bands:
    """Fly the first flights of the ledger's sample with their history.

    Parameters
        case : Case - the planned flight. [SI]
        flights : int - flights flown: number 1 to this one. [-]
        sample : int - flights of the ledger. [-]
        seed : int - of the ledger. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        bands : Bands - every curve on common moments. [SI]
    Raises
        ValueError - the rocket lacks what a flight needs.
    Validity
        Few flights: the edge of a band is itself uncertain.
    Source
        The flight kernel.
    """
    nominal = nominal_of(case, seed=seed)
    whole = make_trials(case, sample, seed)
    spacing = column_spacing(whole.parameters, case.motor)
    launch = replace(case.launch, node_spacing_m4=spacing)
    end = end_s(nominal.figures)
    histories, ends = [], []
    for i in range(min(flights, sample)):
        if progress is not None and i % 5 == 0:
            progress(f"flying number {i + 1} of {flights}", i / flights)
        flown = fly_history(launch, whole.parameters[i], int(whole.seeds[i]), EVERY_S)
        histories.append(flown.history)
        ends.append(flown.history["time_s"][-1])
    lines = [line_of(history, (), end, max(ends)) for history in histories]
    return Bands(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        close={name: np.array([line.close[name] for line in lines]) for name in CURVES},
        whole={name: np.array([line.whole[name] for line in lines]) for name in lines[0].whole},
        nominal=nominal,
    )


def end_s(figures: Mapping[str, float | None]) -> float:
    """When the close look at a flight ends [s]: shortly after ejection, or at the ground."""
    return (figures.get("ejection_s") or figures.get("landing_s") or 10.0) + AFTER_EJECTION_S


def line_of(
    history: Mapping[str, Array],
    events: tuple[tuple[str, float, float], ...],
    close_s: float,
    whole_s: float | None = None,
) -> Line:
    """Lay one flight on the common moments 0, step, 2 step ... to the given ends.

    whole_s None: to the flight's own end.
    """
    own, curves = history["time_s"], _curves(history)
    last = own[-1] if whole_s is None else whole_s
    close = np.arange(0.0, close_s, EVERY_S)
    whole = np.arange(0.0, last + WHOLE_EVERY_S, WHOLE_EVERY_S)
    return Line(
        {name: _laid(own, values, close) for name, values in curves.items()},
        {name: _laid(own, curves[name], whole) for name, kind in CURVES.items() if kind[2]},
        events,
    )


def report_line(report: FlightReport) -> Line:
    """The middle flight on the common moments."""
    return line_of(report.history, report.events, end_s(report.figures))


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
