"""Rows of the separation that lets the main canopy out: too soon, not at all, too hard, too low.

Those of the first are in `separation`, `gear` and `cord`; what both are asked is called
there. Left out: the nose's weight while the rocket is carried by it, the tube's edge at the main,
and the main's way out of its tube, which the nose draws.
"""

from collections.abc import Callable

import numpy as np

from goodflight.physics.recovery.charge import HEAT_MIDDLE
from goodflight.physics.recovery.opening import terminal_speed_m_s
from goodflight.physics.recovery.packing import LAP
from goodflight.physics.recovery.separation import (
    NYLON_SHEAR_PA,
    jerk_share_n,
)
from goodflight.physics.sources import Constant
from goodflight.physics.structure.landing import landing_energy_j
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import together
from goodflight.studies.case.planned import joint_m
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.air import density
from goodflight.studies.rows.applies import not_here, point
from goodflight.studies.rows.gear import fits, scorched
from goodflight.studies.rows.model import Evaluation, LimitState, Mask, Missing, View
from goodflight.studies.rows.opening import MAIN, nearest_motor
from goodflight.studies.rows.packed import DENSITY, STACK, packed_main
from goodflight.studies.rows.parting import (
    Gas,
    Parting,
    gas_of,
    hold_n,
    parting_of,
)
from goodflight.studies.rows.separation import air_lag_n, air_push_n, drag_pull_n, sections
from goodflight.studies.sampling import airframe, model, motor, recovery, second, separation

ONE = "one canopy only"
Judge = Callable[[View], Evaluation | Missing]


def of_main(judge: Judge) -> Judge:
    """A row that only a plan with a second canopy has."""

    def row(view: View) -> Evaluation | Missing:
        if view.case.deployment.main_canopy is None:
            return not_here(view, ONE)
        return judge(view)

    return row


def fired(view: View) -> Mask:
    return np.isfinite(view.outcome("main_m"))


def _stack(view: View) -> Stack | Missing:
    """What lies in the main's bay, where it is known where that parts."""
    stack = stack_of(view.case, main=True)
    lacks = together(MAIN.no_station if joint_m(view.case, main=True) is None else None, stack)
    return lacks or stack


def _coast(view: View) -> Evaluation | Missing:
    stack, held = _stack(view), hold_n(view, MAIN)
    lacks = together(stack, held)
    if lacks is not None:
        return lacks
    assert isinstance(stack, Stack) and not isinstance(held, Missing)
    at_burnout = air_lag_n(view, stack, view.outcome("burnout_m_s"), view.outcome("burnout_m"))
    pull = np.fmax(drag_pull_n(view, main=True) + at_burnout, air_push_n(view, stack))
    return Evaluation(pull, held)


def _jerked(view: View) -> Evaluation | Missing:
    stack, held, parting = _stack(view), hold_n(view, MAIN), parting_of(view)
    lacks = together(stack, held, parting)
    if lacks is not None:
        return lacks
    assert isinstance(stack, Stack) and not isinstance(held, Missing)
    assert isinstance(parting, Parting)
    second_parts, first_parts = sections(view, main=True), sections(view)
    if nearest_motor(view.case).main:  # the first canopy's cord holds what is ahead of the main
        hangs, whole = second_parts.booster_kg, first_parts.booster_kg
        cord_n = parting.get("max_n")
    else:
        hangs, whole = second_parts.nose_kg, first_parts.nose_kg
        cord_n = parting.get("fore_n")
    pull = jerk_share_n(cord_n, hangs + second_parts.gear_kg, whole)
    climb = np.maximum(np.nan_to_num(view.outcome("ejection_climb_m_s")), 0.0)
    pressed = air_lag_n(view, stack, climb, view.outcome("ejection_m"))
    return Evaluation(pull + pressed, held, parting.opened)


def _shut(view: View) -> Evaluation | Missing:
    gas, held = gas_of(view, MAIN), hold_n(view, MAIN)
    lacks = together(gas, held)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(held, Missing)
    push = np.minimum(gas.push_n, gas.mean_push_n)
    told = () if view.masks_only else _under_first(view)
    return Evaluation(push, held, fired(view), warnings=told)


def _under_first(view: View) -> tuple[Words, ...]:
    """How it lands if the main stays shut."""
    mass, area = view.parameter("dry_mass_kg"), view.parameter("canopy_area_m2")
    if not (area > 0.0).all():
        return ()
    gravity, ground = view.parameter("gravity_m_s2"), density(view, np.zeros(view.count))
    speed = point(terminal_speed_m_s(mass, area, ground, gravity), 50)
    joules = float(landing_energy_j(point(mass, 50), speed))
    return (
        said(
            "with the main shut it lands under the first canopy at {speed}, {energy}; a ground "
            "test decides",
            speed=(speed, "speed"),
            energy=(joules, "energy"),
        ),
    )


def _strong(view: View) -> Evaluation | Missing:
    gas, stands = gas_of(view, MAIN), view.stated(second.bulkhead)
    lacks = together(gas, stands)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(stands, Missing)
    return Evaluation(gas.push_n, stands, fired(view))


HOLD = (second.pull, second.pin_strength)
GAS = (
    second.powder, separation.powder_heat, second.gas_in_pack, separation.charge_burn, second.gap,
)  # fmt: skip
_HEAT = {
    "heat": Constant(HEAT_MIDDLE, "ratio", "guess", note="of the trade's gas work, 0.6 to 1.14")
}
ROWS = (
    LimitState(
        "main_fits",
        "Main canopy does not fit its bay",
        phase="deployment",
        unit="length",
        more_is_worse=True,
        evaluate=of_main(lambda view: fits(view, main=True)),
        formula=(
            "stacked length of what the main's bay holds (stated packed lengths; else mass / "
            "{density} over the bay's section), against the bay's length"
        ),
        sources=("practice",),
        needs=STACK,
        parts=packed_main,
        constants=DENSITY,
    ),
    LimitState(
        "main_scorched",
        "Main canopy scorched by its charge",
        phase="deployment",
        unit="area",
        more_is_worse=False,
        evaluate=of_main(lambda view: scorched(view, MAIN)),
        formula=(
            "area of the blanket, against the skin of the packed main pi d (l + d / 2) x {lap}"
        ),
        sources=("derived",),
        needs=(second.blanket, recovery.blanket_lap, *STACK),
        parts=packed_main,
        constants={"lap": Constant(LAP, "ratio", "guess")},
    ),
    LimitState(
        "main_coast",
        "Main's bay pulled open on the way up",
        phase="coast",
        unit="force",
        more_is_worse=True,
        evaluate=of_main(_coast),
        formula=(
            "greater of unequal drag at burnout with the air that lags in the main's bay, and "
            "that air alone at its most, against pull and pins ({nylon} on the root)"
        ),
        sources=("derived", "usstd1976"),
        needs=(*HOLD, model.drag_share, *airframe.DRAG, *airframe.SECTIONS, motor.impulse),
        constants={"nylon": Constant(NYLON_SHEAR_PA, "pressure", "sheet", note="data sheet, seen")},
    ),
    LimitState(
        "main_early",
        "Main's bay jerked open by the first canopy",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=of_main(_jerked),
        formula=(
            "highest pull of the first canopy's cord on the forward part x share of that part's "
            "mass that hangs on the main's separation (nose and main), with the air left in the "
            "main's bay; against pull and pins. The landing rows take the main at its height"
        ),
        sources=("derived",),
        needs=(
            *HOLD,
            recovery.cord_give,
            recovery.cord_damping,
            separation.powder,
            *airframe.SECTIONS,
            separation.powder_heat,
            separation.axis,
        ),
    ),
    LimitState(
        "main_shut",
        "Main stays shut: its separation is not opened by the charge",
        phase="descent",
        unit="force",
        more_is_worse=False,
        evaluate=of_main(_shut),
        formula=(
            "push of the main's charge, lesser of first and mean over the shoulder, with {heat} "
            "of the trade's work, against pull and pins"
        ),
        sources=("trade1980", "noble1880", "derived"),
        needs=(*GAS, *HOLD),
        constants=_HEAT,
    ),
    LimitState(
        "main_strong",
        "Main's charge too strong for its bulkhead",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=of_main(_strong),
        formula=(
            "push of the main's charge p pi/4 D^2 with {heat} of the trade's work, against the "
            "bulkhead it stands on"
        ),
        sources=("trade1980", "noble1880"),
        needs=(*GAS, second.bulkhead),
        constants=_HEAT,
    ),
)
