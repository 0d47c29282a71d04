"""What a flight says of the rocket and its motor: the same flight model, fitted to what was seen.

Everything uncertain about the planned flight is fitted at once, from the spreads it had before the
flight, so a figure that was not seen leaves what hangs on it as it was. What several quantities
explain alike is told as such.
"""

from dataclasses import dataclass
from itertools import combinations
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import NINE_TENTHS
from goodflight.physics.estimate import Estimate, told_alone
from goodflight.physics.recorded import DIMENSION_OF, EVENT_OF, Happened, Measured
from goodflight.physics.recorded_curve import HeightCurve
from goodflight.studies.case.planned import Case
from goodflight.studies.debriefing.follow import CurveFit, estimate, follow
from goodflight.studies.debriefing.predicted import FIGURES, Did, Model, Seen, seen_of, slope
from goodflight.studies.debriefing.why import Why, why_then
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.quantity import Quantity

Array = NDArray[np.float64]

NARROWED: Final = 0.95  # of the spread before: above it the flight says nothing new
TIED: Final = 0.5  # correlation from which two quantities are told as not parted; our guess
ODD: Final = 3.0  # spreads from what all else says
_TOLD: Final = {  # parameter of the flight: words, dimension
    "axial_factor": ("drag", "ratio"),
    "thrust_factor": ("thrust", "ratio"),
    "burn_time_factor": ("burn time", "ratio"),
    "dry_mass_kg": ("mass without propellant", "mass"),
    "delay_s": ("delay", "time"),
    "canopy_area_m2": ("drag area of the canopy", "area"),
    "main_area_m2": ("drag area of the second canopy", "area"),
    "wind_m_s": ("wind", "speed"),
    "ground_temperature_k": ("air temperature at the pad", "temperature"),
}


@dataclass(frozen=True)
class Fitted:
    """One quantity of the flight before and after it was flown."""

    key: Annotated[str, "parameter of the flight"]
    words: Annotated[str, "what it is"]
    dimension: Annotated[str, "of its value"]
    before: Annotated[Measured, "middle and standard deviation before the flight [SI]"]
    after: Annotated[Measured, "middle and standard deviation with the flight [SI]"]

    @property
    def narrowed(self) -> bool:
        """Whether the flight says something about it."""
        return self.after.error < NARROWED * self.before.error

    @property
    def interval(self) -> tuple[float, float]:
        """Holds 9 in 10 of what it may be with the flight [SI]."""
        half = NINE_TENTHS * self.after.error
        return self.after.value - half, self.after.value + half

    @property
    def alone(self) -> Measured | None:
        """What the flight alone says, to take together with other flights; None = nothing."""
        before, after = self.before, self.after
        found = told_alone((before.value, before.error), (after.value, after.error))
        return None if found is None else Measured(*found)


@dataclass(frozen=True)
class OfRocket:
    """A quantity of the rocket itself before and after the flight, to be carried to the next."""

    of: Annotated[str, "what a reading of it names"]
    words: Annotated[str, "what it is"]
    dimension: Annotated[str, "of its value"]
    before: Annotated[Measured, "middle and standard deviation before the flight [SI]"]
    after: Annotated[Measured, "the same with the flight [SI]"]
    alone: Annotated[Measured | None, "what this flight alone says [SI]; null = nothing new"]


@dataclass(frozen=True)
class Place:
    """Where one thing that was seen fell among the flights predicted."""

    name: Annotated[str, "what was seen"]
    words: Annotated[str, "in words"]
    seen: Annotated[Measured, "value and standard error [SI]"]
    predicted: Annotated[Measured, "middle and standard deviation, its error included [SI]"]
    below: Annotated[float, "share of predicted flights below what was seen, 0 to 1"]
    apart: Annotated[float, "standard deviations from what all else that was seen says"]

    @property
    def dimension(self) -> Annotated[str, "of what was seen"]:
        """Dimension of what was seen."""
        return DIMENSION_OF[self.name]

    @property
    def timed(self) -> bool:
        """Whether it is the time of an event."""
        return self.name in EVENT_OF

    @property
    def odd(self) -> bool:
        """Whether it contradicts what was predicted and all else that was seen."""
        return abs(self.apart) > ODD


@dataclass(frozen=True)
class Fit:
    """What one flight says."""

    fitted: tuple[Fitted, ...]
    of_rocket: tuple[OfRocket, ...]
    tied: Annotated[tuple[str, ...], "quantities that this flight cannot part, in words"]
    places: tuple[Place, ...]
    why: Why
    chi_square: Annotated[float, "of what was seen, as many degrees of freedom as places"]
    left_out: Annotated[tuple[str, ...], "seen, but not used"]
    curve: Annotated[CurveFit | None, "the log's height beside the fit's; null = events alone"]
    scores: Estimate

    def of(self, key: str) -> Fitted:
        """One quantity by the name of its parameter."""
        return next(each for each in self.fitted if each.key == key)


def fit(case: Case, happened: Happened, curve: HeightCurve | None = None) -> Fit:
    """What a flight says about drag, thrust, delay, canopies and wind, and why the charge came so.

    Parameters
        case : Case - the planned flight on the day as it was. [SI]
        happened : Happened - what was seen of it, with errors. [SI]
        curve : HeightCurve or None - height against time of its log, fitted as a whole. [SI]
    Returns
        fit : Fit - each quantity before and after, what stays confounded, where each thing seen
            fell, why deployment was early or late. [SI]
    Raises
        StudyRefused - nothing was seen that the model has, an error is not positive, or what was
            seen is far from any flight of this rocket.
    Validity
        Effects that follow the figures about evenly within their spreads; no shape of the thrust
        curve or of the drag's growth with speed is fitted.
    Source
        Generalised least squares on the prior [rodgers2000]; gusts as a covariance of what is seen.
    Example
        >>> fit(case, Happened(apogee_standard_m=Measured(512.0, 3.0))).of("axial_factor")
    """
    seen = seen_of(happened)
    if not seen.names:
        raise StudyRefused(
            "nothing seen of the flight",
            "at least the altimeter's peak, or a time from a stopwatch",
            "enter the peak as the altimeter shows it, or bring the log",
        )
    if not (np.isfinite(seen.values).all() and (seen.errors > 0.0).all()):
        raise StudyRefused(
            "a figure of the flight without a positive error",
            "a number and its standard error",
            "state how far the figure may be off",
        )
    model = Model(case, seen.names)
    start = np.zeros(len(model.factors))
    before = model.around(start)
    if not np.isfinite(model.shown(before[0])).all():
        raise _not_planned(seen, model.shown(before[0])[0])
    added, gusts = model.gusts(start)
    found = estimate(model, seen, added, np.diag(seen.errors * seen.errors) + gusts)
    places = _places(model, seen, before, added, gusts=gusts, found=found)
    names, beside = seen.names, None
    if curve is not None:
        followed = follow(case, happened, curve, found)
        model, found, beside = followed.model, followed.found, followed.curve
        names = (*followed.seen.names, "apogee_s")  # which the curve shows
        before = model.around(start)
    after = model.around(found.mean)
    told = _fitted(before, after, found)
    return Fit(
        fitted=told[0],
        of_rocket=_of_rocket(model, found),
        tied=told[1],
        places=places,
        why=why_then(model.factors, names, before, after, found),
        chi_square=found.chi_square,
        left_out=seen.left_out,
        curve=beside,
        scores=found,
    )


def _not_planned(seen: Seen, shown: Array) -> StudyRefused:
    there = np.isfinite(shown)
    missing = [FIGURES[name][0] for name, known in zip(seen.names, there, strict=True) if not known]
    return StudyRefused(
        f"seen, but not in the planned flight: {', '.join(missing)}",
        "what was seen of a flight as planned",
        "check the plan: its motor, delay and canopies",
    )


def _fitted(
    before: tuple[Did, Did, Did], after: tuple[Did, Did, Did], found: Estimate
) -> tuple[tuple[Fitted, ...], tuple[str, ...]]:
    """Each quantity, and the pairs that stay confounded."""
    told, effects = [], {}
    for key, (words, dimension) in _TOLD.items():
        was, effect_was = _effect(before, key)
        now, effect = _effect(after, key)
        wide, narrow = np.sqrt(effect_was @ effect_was), np.sqrt(effect @ found.covariance @ effect)
        if wide > 0.0:
            told.append(
                Fitted(
                    key, words, dimension, Measured(was, float(wide)), Measured(now, float(narrow))
                )
            )
            effects[key] = effect / max(float(narrow), 1e-12)
    tied = []
    for one, other in combinations((each for each in told if each.narrowed), 2):
        together = float(effects[one.key] @ found.covariance @ effects[other.key])
        if abs(together) > TIED:
            way = "more" if together > 0.0 else "less"
            tied.append(
                f"{one.words} and {other.words}: this flight does not part them; more of the one "
                f"with {way} of the other fits as well"
            )
    return tuple(told), tuple(tied)


def _of_rocket(model: Model, found: Estimate) -> tuple[OfRocket, ...]:
    """The rocket's own quantities: prior score 0 ± 1, posterior as fitted, in the figure's unit."""
    told = []
    for number, factor in enumerate(model.factors):
        if not (isinstance(factor.of, Quantity) and factor.of.carried):
            continue
        middle = factor.of.spread.middle if factor.value is None else factor.value
        score, error = float(found.mean[number]), float(np.sqrt(found.covariance[number, number]))
        alone = told_alone((0.0, 1.0), (score, error))
        home = factor.of.home(model.case).partition(":")[2]

        def figure(
            score: float, error: float, middle: float = middle, sigma: float = factor.sigma
        ) -> Measured:
            return Measured(middle + sigma * score, sigma * error)

        told.append(
            OfRocket(
                of=home or factor.key,
                words=factor.label,
                dimension=factor.dimension,
                before=figure(0.0, 1.0),
                after=figure(score, error),
                alone=alone and figure(*alone),
            )
        )
    return tuple(told)


def _effect(around: tuple[Did, Did, Did], key: str) -> tuple[float, Array]:
    at, up, down = (each.trials.parameter(key) for each in around)
    return float(at[0]), slope(up, down)


def _places(
    model: Model,
    seen: Seen,
    before: tuple[Did, Did, Did],
    added: Array,
    gusts: Array,
    found: Estimate,
) -> tuple[Place, ...]:
    from scipy.special import ndtr  # slow to import

    at, up, down = (model.shown(each) for each in before)
    slopes = slope(up, down).T
    wide = np.sqrt(np.diag(slopes @ slopes.T + gusts) + seen.errors * seen.errors)
    middle = at[0] + added
    return tuple(
        Place(
            name=name,
            words=FIGURES[name][0],
            seen=Measured(float(seen.values[i]), float(seen.errors[i])),
            predicted=Measured(float(middle[i]), float(wide[i])),
            below=float(ndtr((seen.values[i] - middle[i]) / wide[i])),
            apart=float(found.apart[i] / found.apart_sigma[i]),
        )
        for i, name in enumerate(seen.names)
    )
