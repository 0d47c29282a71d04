"""What the flight model would have shown of a flight, beside what was seen of it.

The flights are flown in the mean wind; what gusts add is an error of everything seen together,
worked out from flights that differ in their gusts alone.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.air.atmosphere import shown_height_true_m
from goodflight.physics.estimate import square_root
from goodflight.physics.flight import Launch, column_spacing, fly_ensemble, fly_history, registry
from goodflight.physics.recorded import Happened
from goodflight.physics.recovery.opening import filled_s
from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.trials import Trials, assemble

Array = NDArray[np.float64]

GUSTY: Final = 300  # flights that differ in their gusts alone
EVERY_S: Final = 0.2  # between the moments of a height curve
STEP: Final = 1.0  # of a score, to either side, for the slopes
_NOT_USED: Final = ("second_canopy_m", "first_rate_mps")


@dataclass(frozen=True, eq=False)
class Did:
    """Flights of the model: what went in, what came out, one row a flight."""

    case: Case
    trials: Trials
    outcomes: Array
    heights_m: Array | None = None  # (n, points) of a curve, standard atmosphere
    rates_mps: Array | None = None  # upward, there

    def after(self, name: str) -> Array:
        """Time of an event after lift-off, (n,) [s]."""
        return self.of(name) - self.of("liftoff_s")

    def of(self, name: str) -> Array:
        """One outcome, (n,) [SI]."""
        return np.asarray(self.outcomes[:, registry.OUTCOME_INDEX[name]])

    def opened(self, start: str, canopy: str, speed: str) -> Array:
        """When a canopy stands open after the charge at `start`, from lift-off, (n,) [s]."""
        parameter = self.trials.parameter
        fill = filled_s(
            parameter(f"{canopy}_fill"), parameter(f"{canopy}_diameter_m"), self.of(speed)
        )
        return self.after(start) + parameter("stretch_s") + fill

    def shown_apogee_m(self) -> Array:
        """Apogee as an altimeter shows it, which takes the air for standard, (n,) [m]."""
        warm = self.trials.parameter("ground_temperature_k")
        one = shown_height_true_m(1.0, warm, self.case.site.elevation_m)
        return np.asarray(self.of("apogee_m") / one)


FIGURES: Final[dict[str, tuple[str, Callable[[Did], Array]]]] = {
    "burnout_s": ("burnout", lambda did: did.after("burnout_s")),
    "apogee_s": ("time of apogee", lambda did: did.after("apogee_s")),
    "charge_s": ("charge", lambda did: did.after("ejection_s")),
    "canopy_s": ("canopy open", lambda did: did.opened("ejection_s", "canopy", "opening_m_s")),
    "second_canopy_s": (
        "second canopy open",
        lambda did: did.opened("main_s", "main", "main_opening_m_s"),
    ),
    "landing_s": ("landing", lambda did: did.after("landing_s")),
    "apogee_standard_m": ("apogee, standard atmosphere", lambda did: did.shown_apogee_m()),
    "apogee_m": ("apogee, in the air as it was", lambda did: did.of("apogee_m")),
    "last_rate_mps": ("speed down at the ground", lambda did: did.of("descent_m_s")),
}


@dataclass(frozen=True, eq=False)
class Seen:
    """What was seen that the model has too: names, values and standard errors, (m,) each.

    left_out : names of what was seen and not used.
    """

    names: tuple[str, ...]
    values: Array
    errors: Array
    left_out: tuple[str, ...]


def seen_of(happened: Happened) -> Seen:
    """What to fit: the standard-atmosphere apogee where both heights of it are there."""
    found = happened.given()
    there = {name: found[name] for name in FIGURES if name in found}
    if "apogee_standard_m" in there:
        there.pop("apogee_m", None)
    left = tuple(name for name in _NOT_USED if name in found)
    values = np.array([each.value for each in there.values()])
    errors = np.array([each.error for each in there.values()])
    return Seen(tuple(there), values, errors, left)


class Model:
    """The flight model of one planned flight as a function of the scores of what is uncertain.

    times_s : after lift-off, where the height is wanted besides; empty = nowhere.
    """

    def __init__(self, case: Case, names: tuple[str, ...], times_s: Array | None = None) -> None:
        self.case, self.names = case, names
        self.times_s = np.zeros(0) if times_s is None else times_s
        self.factors = factors_of(case)
        nothing = np.zeros((1, len(self.factors)))
        self._spacing = column_spacing(self._trials(nothing).parameters, case.motor)

    def _trials(self, scores: Array, seed: int = 1) -> Trials:
        seeds = np.arange(seed, seed + len(scores), dtype=np.uint64)
        return assemble(self.case, self.factors, scores, seeds)

    def flown(self, scores: Array, gusty: bool = False, seed: int = 1) -> Did:
        """Fly rows of scores, (n, k)."""
        trials, case = self._trials(scores, seed), self.case
        if self.times_s.size:
            return self._followed(trials, gusty)
        out = fly_ensemble(self.launch(gusty), trials.parameters, trials.seeds)
        return Did(case, trials, out)

    def launch(self, gusty: bool) -> Launch:
        """What its flights share."""
        return replace(self.case.launch, turbulence=gusty, node_spacing_m4=self._spacing)

    def _followed(self, trials: Trials, gusty: bool) -> Did:
        """Fly one after the other, each with its height against time."""
        case, heights = self.case, np.empty((len(trials.parameters), self.times_s.size))
        rates = np.zeros_like(heights)
        outcomes = np.empty((len(heights), len(registry.OUTCOMES)))
        same: dict[bytes, int] = {}  # most quantities move nothing of a flight in the mean wind
        for i, row in enumerate(trials.parameters):
            twin = i if gusty else same.setdefault(row.tobytes(), i)
            if twin != i:
                outcomes[i], heights[i], rates[i] = outcomes[twin], heights[twin], rates[twin]
                continue
            flown = fly_history(self.launch(gusty), row, int(trials.seeds[i]), EVERY_S)
            outcomes[i] = list(flown.outcomes.values())
            did, at = flown.history, self.times_s + flown.outcomes["liftoff_s"]
            heights[i] = heights_at(did, at)
            if len(did["time_s"]):
                rates[i] = np.interp(at, did["time_s"], did["velocity_up_m_s"])
        warm = trials.parameter("ground_temperature_k")
        one = shown_height_true_m(1.0, warm, case.site.elevation_m)
        return Did(case, trials, outcomes, heights / one[:, None], rates)

    def shown(self, did: Did) -> Array:
        """What would have been seen of each flight, figures first, then heights, (n, m)."""
        figures = [FIGURES[name][1](did) for name in self.names]
        heights = [] if did.heights_m is None else [did.heights_m]
        return np.column_stack([*figures, *heights])

    def around(self, here: Array, step: float | Array = STEP) -> tuple[Did, Did, Did]:
        """The flight at these scores, and each score a step up and a step down."""
        steps = step * np.eye(here.size)
        did = self.flown(np.vstack([here[None, :], here + steps, here - steps]))
        count = here.size

        def part(rows: slice) -> Did:
            chosen = np.arange(1 + 2 * count)[rows]
            heights = None if did.heights_m is None else did.heights_m[chosen]
            return Did(self.case, did.trials.part(chosen), did.outcomes[chosen], heights)

        return part(slice(0, 1)), part(slice(1, 1 + count)), part(slice(1 + count, None))

    def gusts(self, here: Array) -> tuple[Array, Array]:
        """Mean and covariance of what gusts add to what is seen, (m,), (m, m)."""
        rows = np.repeat(here[None, :], GUSTY, axis=0)
        added = self.shown(self.flown(rows, True)) - self.shown(self.flown(here[None, :]))
        added = added[np.isfinite(added).all(axis=1)]
        return added.mean(axis=0), np.atleast_2d(np.cov(added.T))

    def left_out(self, here: Array, covariance: Array, would: Array, slopes: Array) -> Array:
        """What a straight line through these scores leaves out, a flight a row, (flights, m).

        Gusts, and the bend of the effects: over the scores as they may be, (k, k), not only here.
        """
        random = np.random.default_rng(1)
        moved = random.normal(size=(GUSTY, here.size)) @ square_root(covariance)
        left = self.shown(self.flown(here + moved, True)) - would - moved @ slopes.T
        return np.asarray(left[np.isfinite(left).all(axis=1)])


def heights_at(history: dict[str, Array], times_s: Array) -> Array:
    """Height of one flight at some times [m]: cubic between its moments, by height and speed.

    Below the ground it goes on as it came down, so that a fit near the landing has no edge. NaN
    for a flight that did not leave.
    """
    time, height, rate = (history[name] for name in ("time_s", "up_m", "velocity_up_m_s"))
    if len(time) < 2:
        return np.full(times_s.shape, np.nan)
    at = np.clip(np.searchsorted(time, times_s) - 1, 0, len(time) - 2)
    step = time[at + 1] - time[at]
    s = np.clip((times_s - time[at]) / step, 0.0, 1.0)
    cubic = (
        (1.0 + 2.0 * s) * (1.0 - s) ** 2 * height[at]
        + s * (1.0 - s) ** 2 * step * rate[at]
        + s * s * (3.0 - 2.0 * s) * height[at + 1]
        - s * s * (1.0 - s) * step * rate[at + 1]
    )
    past = np.maximum(times_s - time[-1], 0.0)
    return np.asarray(cubic + past * rate[-1])


def slope(up: Array, down: Array, step: float | Array = STEP) -> Array:
    """Change for one score up, from a step up and a step down; 0 where one did not happen."""
    return np.nan_to_num((up - down) / (2.0 * np.reshape(step, (-1, 1) if up.ndim > 1 else -1)))
