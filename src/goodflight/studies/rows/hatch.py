"""A hatch in the tube's side: blown off by the air beside it, or by a charge behind it."""

import numpy as np

from goodflight.physics.structure.hatch import hatch_push_n
from goodflight.studies.asking import asked, entry, together
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View
from goodflight.studies.rows.parting import GAS_NEEDS, Gas, gas_of
from goodflight.studies.sampling import airframe, hatch, motor

_SIZES = (
    ("length", "length of the hatch, along the rocket"),
    ("width", "width of the hatch, straight across"),
)


def _size_m(view: View) -> tuple[float, float] | Missing:
    told = view.case.rocket.hatch
    if told.length_m is not None and told.width_m is not None:
        return told.length_m, told.width_m
    asks = [
        entry(
            f"rocket.toml:hatch.{key}",
            label,
            how="from edge to edge",
            dimension="length",
            instrument="calliper",
            minutes=2.0,
        )
        for (key, label), given in zip(_SIZES, (told.length_m, told.width_m), strict=True)
        if given is None
    ]
    return asked("say how large the hatch is (hatch.length, hatch.width)", *asks)


def _behind_a_charge(view: View) -> bool | Missing:
    """Whether the hatch opens into the bay that the charge fires in."""
    at = view.case.rocket.hatch.station_m
    if at is None:
        how = "from the nose's tip to the middle of the hatch"
        where = entry(
            "rocket.toml:hatch.station",
            "where the hatch is",
            how=how,
            dimension="length",
            instrument="tape",
            minutes=2.0,
        )
        return asked("say where the hatch is (hatch.station)", where)
    gas = gas_of(view)
    if isinstance(gas, Missing):
        return gas
    bay = gas.stack.bay
    return bay.station_m <= at <= bay.station_m + bay.length_m


def _blown_off(view: View) -> Evaluation | Missing:
    if not view.case.rocket.hatch.there:
        return not_here(view, "no hatch is listed")
    size, inside, holds = _size_m(view), _behind_a_charge(view), view.stated(hatch.holds)
    lacks = together(size, inside, holds)
    if lacks is not None:
        return lacks
    assert not isinstance(size, Missing) and not isinstance(holds, Missing)
    air = view.outcome("max_pressure_pa") * view.of(hatch.air_share)
    if inside:
        gas = gas_of(view)
        assert isinstance(gas, Gas)
        fired = np.isfinite(view.outcome("ejection_m_s"))
        air = np.maximum(air, np.where(fired, gas.pressure_pa, 0.0))
    return Evaluation(hatch_push_n(air, *size), holds)


ROWS = (
    LimitState(
        "hatch_off",
        "Hatch blown off",
        phase="boost",
        unit="force",
        more_is_worse=True,
        evaluate=_blown_off,
        formula=(
            "share of the greatest dynamic pressure that pushes from inside, or the charge's "
            "pressure where the hatch opens into its bay, x length x width, against what holds "
            "it"
        ),
        sources=("derived", "guess"),
        needs=(
            hatch.air_share,
            hatch.holds,
            *airframe.DRAG,
            motor.impulse,
            airframe.mass,
            *GAS_NEEDS,
        ),
    ),
)
