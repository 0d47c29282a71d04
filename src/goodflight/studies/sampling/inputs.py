"""The inputs of a row as they are shown: words, value with spread, how known, where written."""

import numpy as np

from goodflight.quantity import show, show_spread
from goodflight.studies.results import Input
from goodflight.studies.rows import LimitState, View
from goodflight.studies.sampling.quantity import Factor

_WORST_FIRST = ("guess", "label", "flight", "measured")


def inputs_of(view: View, limit: LimitState) -> tuple[Input, ...]:
    """Inputs of one limit state; all masses and all balance points are shown as one each."""
    factors = view.trials.factors
    shown: list[Input] = []
    for key in limit.inputs:
        if key == "mass:":
            shown.append(
                _whole(view, factors, key, "mass without propellant", "dry_mass_kg", "mass")
            )
        elif key == "place:":
            shown.append(
                _whole(view, factors, key, "balance point without propellant", "dry_cg_m", "length")
            )
        elif key.endswith(":"):
            shown += [_one(f) for f in factors if f.key.startswith(key)]
        else:
            shown += [_one(f) for f in factors if f.key == key]
    return tuple(shown)


def _one(factor: Factor) -> Input:
    if factor.dimension == "ratio":
        text = f"±{100 * factor.sigma:.0f} %" if factor.relative else f"±{factor.sigma:.2g}"
        if factor.value is not None and factor.value > 0.0:
            text = f"{factor.value:.3g} ±{factor.sigma:.2g}"
    elif factor.dimension == "calibre":
        text = f"±{factor.sigma:.2g} cal"
    elif factor.value is None:
        text = f"±{show(factor.sigma, factor.dimension)}"
    else:
        text = show_spread(factor.value, factor.sigma, factor.dimension)
    if factor.reason:
        text += f" ({factor.reason})"
    return Input(factor.label, text, factor.known, factor.path)


def _whole(
    view: View, factors: tuple[Factor, ...], prefix: str, label: str, name: str, dimension: str
) -> Input:
    values = view.parameter(name)
    known = [f.known for f in factors if f.key.startswith(prefix)]
    worst = next((word for word in _WORST_FIRST if word in known), "guess")
    text = show_spread(float(np.mean(values)), float(np.std(values)), dimension)
    return Input(label, text, worst)
