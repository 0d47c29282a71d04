"""Rows of the separation that lets the main canopy out: too soon, not at all, too hard, too low.

Those of the first are in `separation`, `gear` and `cord`; what both are asked is called
there. Left out: the nose's weight while the rocket is carried by it, the tube's edge at the main,
and the main's way out of its tube, which the nose draws.
"""

from collections.abc import Callable

import numpy as np

from goodflight.physics.recovery.charge import HEAT_MIDDLE, opening_work_j
from goodflight.physics.recovery.cord import (
    parting_speed_m_s,
    shared_mass_kg,
    snatch_n,
)
from goodflight.physics.recovery.opening import RESERVE_M, height_needed_m, terminal_speed_m_s
from goodflight.physics.recovery.packing import LAP
from goodflight.physics.recovery.separation import (
    MIN_SECTION_KG,
    NYLON_SHEAR_PA,
    anchor_loads_n,
    jerk_share_n,
)
from goodflight.physics.sources import Constant
from goodflight.physics.structure.landing import landing_energy_j
from goodflight.physics.vehicle.parts import Cord
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import asked, to_add, together
from goodflight.studies.case.planned import joint_m, main_cord_of
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.air import density
from goodflight.studies.rows.answers import no_stretch
from goodflight.studies.rows.applies import not_here, point
from goodflight.studies.rows.cord import not_told, whole_cord_holds_n
from goodflight.studies.rows.gear import fits, scorched
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Mask, Missing, View
from goodflight.studies.rows.opening import MAIN, nearest_motor
from goodflight.studies.rows.packed import DENSITY, STACK, packed_main
from goodflight.studies.rows.parting import (
    Gas,
    Parting,
    gas_of,
    hold_n,
    parting_of,
    whole_cord_n_m,
)
from goodflight.studies.rows.separation import air_lag_n, air_push_n, drag_pull_n, sections
from goodflight.studies.sampling import air, airframe, model, motor, recovery, second, separation

ONE = "one canopy only"
Judge = Callable[[View], Evaluation | Missing]


def of_main(judge: Judge) -> Judge:
    """A row that only a plan with a second canopy has."""

    def row(view: View) -> Evaluation | Missing:
        if view.case.deployment.main_canopy is None:
            return not_here(view, ONE)
        return judge(view)

    return row


def _fired(view: View) -> Mask:
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
    return Evaluation(push, held, _fired(view), warnings=told)


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
    return Evaluation(gas.push_n, stands, _fired(view))


def _low(view: View) -> Evaluation | Missing:
    height = np.nan_to_num(view.outcome("main_m"))
    speed = view.outcome("main_opening_m_s")
    speed = np.where(np.isfinite(speed), speed, view.outcome("landing_m_s"))
    needed = height_needed_m(
        np.nan_to_num(speed),
        view.parameter("stretch_s"),
        view.parameter("main_fill"),
        view.parameter("main_diameter_m"),
    )
    return Evaluation(height, needed, np.isfinite(view.outcome("ejection_m_s")))


def _no_cord(view: View) -> Missing | None:
    cord = main_cord_of(view.case)
    if cord is not None and cord.length_m > 0.0 and cord.strength_n > 0.0:
        return no_stretch(cord)
    how = "its length and strength; then name it in holds of the main's bay"
    advice = (
        "add the main's cord as a part, with length and breaking strength, and name it in holds of "
        "the main's bay"
    )
    return asked(advice, to_add("cord", "cord of the main canopy", how))


def _loads(view: View) -> tuple[Cord, Array, Array] | Missing:
    """The main's cord, its snatch as the nose is blown off, the force of the opening main."""
    cord, gas, held = main_cord_of(view.case), gas_of(view, MAIN), hold_n(view, MAIN)
    lacks = together(_no_cord(view), gas, held)
    if lacks is not None:
        return lacks
    assert cord is not None and isinstance(gas, Gas) and not isinstance(held, Missing)
    parts = sections(view, main=True)
    fore = np.maximum(parts.nose_kg + parts.gear_kg, MIN_SECTION_KG)
    aft = np.maximum(parts.booster_kg, MIN_SECTION_KG)
    speed = parting_speed_m_s(opening_work_j(gas.mean_push_n, held, gas.engaged_m), fore, aft)
    snatch = snatch_n(speed, whole_cord_n_m(view, cord), shared_mass_kg(fore, aft))
    return cord, snatch, np.nan_to_num(view.outcome("main_opening_force_n"))


def _cord(view: View) -> Evaluation | Missing:
    loads = _loads(view)
    if isinstance(loads, Missing):
        return loads
    cord, snatch, force = loads
    strength = whole_cord_holds_n(view, cord, second.cord_strength)
    return Evaluation(np.fmax(force, snatch), strength, _fired(view))


def _anchor(view: View) -> Evaluation | Missing:
    loads, fore, aft = _loads(view), view.given(second.fore_anchor), view.given(second.aft_anchor)
    advice = (
        "say what pull both anchors of the main's cord stand with their bulkhead and glue: "
        "hang a weight on them"
    )
    ends = {second.fore_anchor: fore, second.aft_anchor: aft}
    lacks = together(loads, not_told(view, advice, ends))
    if lacks is not None:
        return lacks
    assert not isinstance(loads, Missing) and fore is not None and aft is not None
    _, snatch, force = loads
    parts = sections(view, main=True)
    ahead, behind = anchor_loads_n(force, snatch, parts.nose_kg, parts.booster_kg)
    aft_first = behind * fore > ahead * aft  # the one that is used further
    return Evaluation(
        np.where(aft_first, behind, ahead), np.where(aft_first, aft, fore), _fired(view)
    )


_HOLD = (second.pull, second.pin_strength)
_GAS = (
    second.powder, separation.powder_heat, second.gas_in_pack, separation.charge_burn, second.gap,
)  # fmt: skip
_HEAT = {
    "heat": Constant(HEAT_MIDDLE, "ratio", "guess", note="of the trade's gas work, 0.6 to 1.14")
}
_SNATCH = (
    "greater of the opening force from the motion and the snatch v sqrt(k m), v the speed at "
    "which the charge parts nose and pack from the rest"
)
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
        needs=(*_HOLD, model.drag_share, *airframe.DRAG, *airframe.SECTIONS, motor.impulse),
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
            *_HOLD,
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
        needs=(*_GAS, *_HOLD),
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
        needs=(*_GAS, second.bulkhead),
        constants=_HEAT,
    ),
    LimitState(
        "main_low",
        "Main opens too low",
        phase="descent",
        unit="length",
        more_is_worse=False,
        evaluate=of_main(_low),
        formula=(
            "height at which the altimeter fires, by the standard atmosphere it reads, against "
            "{reserve} + speed x time to line stretch + fill distance n D"
        ),
        sources=("knacke1991", "usstd1976", "practice"),
        needs=(
            recovery.main_height,
            air.temperature,
            recovery.stretch,
            recovery.fill_constant,
            recovery.canopy_drag,
        ),
        constants={
            "reserve": Constant(RESERVE_M, "length", "practice", note="packing that opens late")
        },
    ),
    LimitState(
        "main_cord",
        "Main's cord breaks",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=of_main(_cord),
        formula=(f"{_SNATCH}; against the weakest length x what knots leave"),
        sources=("derived", "knacke1991"),
        needs=(
            *_GAS,
            *_HOLD,
            second.cord_strength,
            recovery.knot,
            recovery.cord_give,
            recovery.main_drag,
            recovery.overshoot,
            recovery.fill_constant,
        ),
        look="the cord of the second canopy by hand",
    ),
    LimitState(
        "main_anchor",
        "Main pulls its cord's attachment out",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=of_main(_anchor),
        formula=(
            f"{_SNATCH}, of the opening force the share of the mass on that side; against the "
            "attachment that is used further"
        ),
        sources=("derived", "knacke1991", "builder"),
        needs=(
            *_GAS,
            *_HOLD,
            second.fore_anchor,
            second.aft_anchor,
            recovery.cord_give,
            recovery.main_drag,
            recovery.overshoot,
            recovery.fill_constant,
        ),
        look="attachment of the second canopy",
    ),
)
