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
from goodflight.studies.sampling.quantity import Factor

Array = NDArray[np.float64]
Verdict = Literal["grain", "apogee", "as predicted", "cannot be decided"]

SURE: Final = 0.9  # share of what fits that has the one part larger
SMALL_S: Final = 0.25  # both parts below: as predicted; our guess
_SAMPLES: Final = 2000
_CAUSES: Final = (  # cause, beginnings of the keys of what makes it
    ("grain", ("delay", "trim_depth")),
    ("thrust", ("impulse", "burn_time")),
    ("mass", ("mass:", "balance:", "inertia")),
    ("drag", ("model:axial", "figure:")),
    ("tilt and wind", ("wind", "rail_", "thrust_", "cant:", "model:", "stall")),
)
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
    causes = np.array([_cause(factor.key) for factor in factors])
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
    verdict = _verdict(names, np.vstack([grain, effect - grain]), found)
    return Why(
        verdict,
        _words(verdict, parts, found, grain, effect - grain),
        float(predicted),
        Measured(float(now), whole),
        parts,
    )


def _offset(did: Did) -> Array:
    return did.of("ejection_s") - did.of("apogee_s")


def _offset_slopes(around: tuple[Did, Did, Did]) -> Array:
    return slope(_offset(around[1]), _offset(around[2]))


def _cause(key: str) -> str:
    return next((cause for cause, heads in _CAUSES if key.startswith(heads)), OTHER)


def _verdict(names: tuple[str, ...], parts: Array, found: Estimate) -> Verdict:
    if "charge_s" not in names or not {"apogee_s", "burnout_s"} & set(names):
        return "cannot be decided"
    middle, wide = parts @ found.mean, parts @ found.covariance @ parts.T
    drawn = np.random.default_rng(1).multivariate_normal(middle, wide, _SAMPLES)
    size = np.abs(drawn)
    if float((size.max(axis=1) < SMALL_S).mean()) > 0.5:
        return "as predicted"
    share = float((size[:, 0] > size[:, 1]).mean())
    if share >= SURE:
        return "grain"
    return "apogee" if share <= 1.0 - SURE else "cannot be decided"


def _words(
    verdict: Verdict, parts: dict[str, Measured], found: Estimate, grain: Array, rest: Array
) -> str:
    if verdict == "cannot be decided":
        return (
            "why the charge came when it did cannot be decided: it takes the times of burnout, "
            "apogee and charge, from a logger or a film, and one part clearly larger"
        )
    if verdict == "as predicted":
        return "the charge came against the apogee about as predicted"
    moved = float((grain if verdict == "grain" else rest) @ found.mean)
    way = "later" if moved > 0.0 else "earlier"
    if verdict == "grain":
        return f"the delay itself moved the charge {abs(moved):.1f} s {way}"
    causes = {k: v for k, v in parts.items() if k not in ("grain", OTHER)}
    most = max(causes, key=lambda cause: abs(causes[cause].value), default=OTHER)
    other = "sooner" if moved > 0.0 else "later"
    return (
        f"the apogee came {abs(moved):.1f} s {other} than predicted, mostly {most}, so the charge "
        f"was {way} against it"
    )
