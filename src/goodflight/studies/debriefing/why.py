"""Why deployment was early or late: the delay grain, or an apogee that came sooner or later.

What moved the charge against the apogee is split by cause as the fit found it. Where the flight
does not tell the parts from each other, that is the answer.
"""

from dataclasses import dataclass
from typing import Annotated, Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.estimate import Estimate
from goodflight.physics.recorded import Measured
from goodflight.studies.debriefing.predicted import Did, slope
from goodflight.studies.sampling import air, airframe, model, motor, rail
from goodflight.studies.sampling.quantity import Factor, Family, Quantity

Array = NDArray[np.float64]
Verdict = Literal["grain", "apogee", "both", "as predicted", "cannot be decided"]

SURE: Final = 0.9  # share of what fits that has the one part larger
SHOWN: Final = 0.5  # of the delay's spread before: narrower, the charge was seen; our guess
SMALL_S: Final = 0.25  # both parts below: as predicted; our guess
_SAMPLES: Final = 2000
_CAUSES: Final[dict[str, tuple[Quantity | Family, ...]]] = {  # what makes each
    "grain": (motor.delay, motor.trim_depth),
    "thrust": (motor.impulse, motor.burn_time),
    "mass": (airframe.mass, airframe.balance, airframe.inertia),
    "drag": (model.axial, airframe.figure),
    "tilt and wind": (
        *(air.wind, air.wind_from, air.wind_exponent),
        *(rail.lean_along, rail.lean_across, rail.azimuth, rail.friction),
        *(motor.thrust_angle_y, motor.thrust_angle_z, motor.thrust_offset_y, motor.thrust_offset_z),
        *(model.thrust_floor, model.cp, model.body_slope, model.fin_slope, model.crossflow),
        *(airframe.cant, model.stall),
    ),
}
CAUSE: Final = {of.key: cause for cause, made_by in _CAUSES.items() for of in made_by}
OTHER: Final = "other"


@dataclass(frozen=True)
class Why:
    """How the charge came against the apogee, and what moved it.

    Times in s, positive = the charge later against the apogee than predicted.
    """

    verdict: Annotated[Verdict, "what moved the charge against the apogee most"]
    words: Annotated[str, "one sentence"]
    predicted_s: Annotated[float, "charge after apogee, as predicted [s]"]
    found_s: Annotated[Measured, "charge after apogee, as the fit has it [s]"]
    parts: Annotated[dict[str, Measured], "what each cause moved it by [s]"]


def why_then(
    factors: tuple[Factor, ...],
    names: tuple[str, ...],
    before: tuple[Did, Did, Did],
    after: tuple[Did, Did, Did],
    found: Estimate,
) -> Why:
    """Split what moved the charge against the apogee by cause; see `Why`.

    The slopes are the mean of those before and after the fit, so that the parts add up to second
    order.
    """
    effect = 0.5 * (_offset_slopes(before) + _offset_slopes(after))
    causes = np.array([CAUSE.get(factor.of.key, OTHER) for factor in factors])
    parts = {}
    for cause in dict.fromkeys(causes):
        rows = causes == cause
        own = effect[rows]
        parts[str(cause)] = Measured(
            float(own @ found.mean[rows]),
            float(np.sqrt(own @ found.covariance[np.ix_(rows, rows)] @ own)),
        )
    whole = float(np.sqrt(effect @ found.covariance @ effect))
    predicted, now = _offset(before[0])[0], _offset(after[0])[0]
    grain = np.where(causes == "grain", effect, 0.0)
    narrower = np.sqrt(grain @ found.covariance @ grain) < SHOWN * np.sqrt(grain @ grain)
    timed = _timed(names, bool(narrower))
    verdict, both = _verdict(timed, np.vstack([grain, effect - grain]), found)
    return Why(
        verdict,
        _words(
            verdict,
            timed,
            parts,
            (float(grain @ found.mean), float((effect - grain) @ found.mean)),
            both,
        ),
        float(predicted),
        Measured(float(now), whole),
        parts,
    )


def _offset(did: Did) -> Array:
    return did.of("ejection_s") - did.of("apogee_s")


def _offset_slopes(around: tuple[Did, Did, Did]) -> Array:
    return slope(_offset(around[1]), _offset(around[2]))


def _timed(names: tuple[str, ...], narrower: bool) -> bool:
    """Whether what was seen can part the grain from the apogee.

    The charge by its own time, or by a fall that begins with it: then the delay is much narrower.
    """
    return ("charge_s" in names or narrower) and bool({"apogee_s", "burnout_s"} & set(names))


def _verdict(timed: bool, parts: Array, found: Estimate) -> tuple[Verdict, bool]:
    """What moved the charge most, and whether both parts surely moved it."""
    if not timed:
        return "cannot be decided", False
    middle, wide = parts @ found.mean, parts @ found.covariance @ parts.T
    drawn = np.random.default_rng(1).multivariate_normal(middle, wide, _SAMPLES)
    size = np.abs(drawn)
    if float((size.max(axis=1) < SMALL_S).mean()) > 0.5:
        return "as predicted", False
    share = float((size[:, 0] > size[:, 1]).mean())
    both = float((size.min(axis=1) > SMALL_S).mean()) >= SURE
    if share >= SURE:
        return "grain", both
    if share <= 1.0 - SURE:
        return "apogee", both
    return "both" if both else "cannot be decided", both


def _words(
    verdict: Verdict,
    timed: bool,
    parts: dict[str, Measured],
    moved_s: tuple[float, float],
    both: bool,
) -> str:
    grain_s, rest_s = moved_s
    if not timed:
        return (
            "why the charge came when it did cannot be decided: it takes the times of burnout, "
            "apogee and charge, from a logger or a film"
        )
    if verdict == "as predicted":
        return "the charge came against the apogee about as predicted"
    causes = {k: v for k, v in parts.items() if k not in ("grain", OTHER)}
    most = max(causes, key=lambda cause: abs(causes[cause].value), default=OTHER)
    sooner = "sooner" if rest_s > 0.0 else "later"
    delay = f"the delay itself moved the charge {abs(grain_s):.1f} s {_way(grain_s)}"
    apogee = f"the apogee came {abs(rest_s):.1f} s {sooner} than predicted, mostly {most}"
    if verdict == "grain":
        return f"{delay}; {apogee}" if both else delay
    if verdict == "apogee":
        told = f"{apogee}, so the charge was {_way(rest_s)} against it"
        return f"{told}; {delay}" if both else told
    return f"{delay}, and {apogee}" + ("" if verdict == "both" else "; which is more is not clear")


def _way(moved_s: float) -> str:
    return "later" if moved_s > 0.0 else "earlier"
