"""The inputs of a row: value with spread, how known, where written, and why it scatters so much."""

import numpy as np

from goodflight.physics.sources import cited
from goodflight.studies.results import Input
from goodflight.studies.rows import LimitState, View
from goodflight.studies.sampling import airframe
from goodflight.studies.sampling.quantity import Factor, Family

_WORST_FIRST = ("guess", "label", "flight", "measured")
# families shown as one: words, the parameter of all of them together
_WHOLE = {
    airframe.mass.key: ("mass without propellant", "dry_mass_kg"),
    airframe.balance.key: ("balance point without propellant", "dry_cg_m"),
}


def inputs_of(view: View, limit: LimitState) -> tuple[Input, ...]:
    """Inputs of one limit state; masses and balance points of the whole are shown as one each."""
    shown: list[Input] = []
    varying: dict[int, list[Factor]] = {}
    for factor in view.trials.factors:
        varying.setdefault(id(factor.of), []).append(factor)
    for quantity in dict.fromkeys(limit.needs):
        if quantity is airframe.mass and limit.parts is not None:
            keys = {airframe.mass.of(name) for name in limit.parts(view.case)}
            shown += [_one(factor) for factor in view.trials.factors if factor.key in keys]
        elif quantity.key in _WHOLE and isinstance(quantity, Family):
            shown.append(_whole(view, quantity))
        else:
            shown += [_one(factor) for factor in varying.get(id(quantity), ())]
    return tuple(shown)


def _one(factor: Factor) -> Input:
    return Input(
        key=factor.key,
        label=factor.label,
        dimension=factor.dimension,
        value=factor.value,
        sigma=factor.sigma,
        share=factor.relative,
        known=factor.known,
        path=factor.path,
        because=factor.because,
        source=cited(factor.because),
        reason=factor.reason,
    )


def _whole(view: View, family: Family) -> Input:
    label, parameter = _WHOLE[family.key]
    values = view.parameter(parameter)
    known = [factor.known for factor in view.trials.factors if factor.of is family]
    if view.case.uncertainty.weighed:
        known = ["measured"]
    return Input(
        key=family.key,
        label=label,
        dimension=family.dimension,
        value=float(np.mean(values)),
        sigma=float(np.std(values)),
        known=next((word for word in _WORST_FIRST if word in known), "guess"),
    )
