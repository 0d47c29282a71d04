"""Rows of the separation: by the charge and by nothing else, and what the charge may break."""

import numpy as np

from goodflight.physics.air import dynamic_pressure_pa
from goodflight.physics.recovery.charge import GAS_INDEX, HEAT_MIDDLE
from goodflight.physics.recovery.separation import (
    JERK,
    NYLON_SHEAR_PA,
    SAFE,
    SeparationWindow,
    closing_joint_pull_n,
    coast_pull_n,
    handling_pull_n,
    outside_window,
    separation_window,
)
from goodflight.physics.recovery.vents import lag_push_n
from goodflight.physics.sources import Constant
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import together
from goodflight.studies.case.planned import joint_m
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.air import density, pressure
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.nose_joint import gas_on_nose, no_nose_mass, nose_stays
from goodflight.studies.rows.opening import FIRST
from goodflight.studies.rows.parting import GAS_NEEDS, HOLD_NEEDS, Gas, gas_of, hold_n, vent_area_m2
from goodflight.studies.rows.separation_drag import coast_area_m2, drawn_share
from goodflight.studies.sampling import airframe, model, motor, separation
from goodflight.studies.sampling.sections import Sections

ON_NOSE = (
    "no bulkhead is listed between nose and bay, so the gas is taken to push the nose off its "
    "joint: list it (kind bulkhead, or bulkheads = true of the coupler) if there is one"
)


def _ejected(view: View) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return np.isfinite(view.outcome("ejection_m_s"))


def _shut(view: View) -> Evaluation | Missing:
    gas, held = gas_of(view), hold_n(view)
    lacks = together(gas, held)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(held, Missing)
    push = np.minimum(gas.push_n, gas.mean_push_n)
    middle = f"{float(np.median(gas.pressure_pa)) / 1e3:.0f} kPa"
    told = f"pressure in the bay {middle} in the middle; usual 55 to 103 kPa; a ground test decides"
    return Evaluation(push, held, _ejected(view), warnings=(told,))


def stands_charge(view: View) -> tuple[Evaluation, Evaluation | Missing | None] | Missing:
    """What the charge asks of the bulkhead, and of the joint of a nose that the gas stands on."""
    gas, bulkhead = gas_of(view), view.stated(separation.bulkhead)
    lacks = together(gas, bulkhead)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(bulkhead, Missing)
    pushed = Evaluation(gas.push_n, bulkhead, _ejected(view))
    if not (nose_stays(view.case.rocket) and gas_on_nose(view.case.rocket, gas.stack.bay)):
        return pushed, None
    held, joint = hold_n(view), view.stated(separation.fixed_joint)
    lacks = together(held, joint, no_nose_mass(view.case.rocket))
    if lacks is not None:
        return pushed, lacks  # the bulkhead's is there though nobody knows what the nose weighs
    assert not isinstance(held, Missing) and not isinstance(joint, Missing)
    parts = sections(view)
    pull = closing_joint_pull_n(gas.push_n, held, parts.tip_kg, parts.nose_kg)
    return pushed, Evaluation(pull, joint, _ejected(view))


def _strong(view: View) -> Evaluation | Missing:
    """What is used further of bulkhead and joint."""
    found = stands_charge(view)
    if isinstance(found, Missing):
        return found
    pushed, pulled = found
    if pulled is None or isinstance(pulled, Missing):
        return pulled or pushed
    joint = pulled.demand * pushed.capacity > pushed.demand * pulled.capacity
    both = ((each.demand, each.capacity) for each in (pulled, pushed))
    demand, capacity = np.where(joint, *both)
    return Evaluation(demand, capacity, pushed.applies, warnings=(ON_NOSE,))


def sections(view: View, main: bool = False) -> Sections:
    """Masses of the sections; all zero where the rocket does not separate."""
    found = view.trials.main_sections if main else view.trials.sections
    return found or Sections(*6 * (np.zeros(view.count),))


def air_lag_n(view: View, stack: Stack, speed_m_s: Array, height_m: Array) -> Array:
    """Push of air that lags in the bay during the climb, (n,) [N]; sealed bay: all of it."""
    return lag_push_n(
        view.parameter("ground_pressure_pa"),
        pressure(view, height_m),
        bore_m=stack.bay.inner_diameter_m,
        air_m3=stack.area_m2 * stack.bay.length_m - stack.solid_m3,
        vents_m2=vent_area_m2(stack),
        climb_m_s=speed_m_s,
        density_kg_m3=density(view, height_m),
    )


def drag_pull_n(view: View, main: bool = False) -> Array:
    """Pull of unequal drag just after burnout, loose gear with the nose, (n,) [N]."""
    speed = np.nan_to_num(view.outcome("burnout_m_s"))
    push = dynamic_pressure_pa(density(view, view.outcome("burnout_m")), speed)
    parts = sections(view, main)
    fore = parts.nose_kg + parts.gear_kg
    drag = push * coast_area_m2(view, speed, view.outcome("burnout_m"))
    return coast_pull_n(fore, parts.booster_kg, drag, drawn_share(view, main))


def _no_station(view: View) -> Missing | None:
    """What is missing where nobody says which part pulls on which."""
    return FIRST.no_station if joint_m(view.case) is None else None


def _apart(view: View) -> Evaluation | Missing:
    stack, held = stack_of(view.case), hold_n(view)
    lacks = together(_no_station(view), stack, held)
    if lacks is not None:
        return lacks
    assert isinstance(stack, Stack) and not isinstance(held, Missing)
    air = air_lag_n(view, stack, view.outcome("burnout_m_s"), view.outcome("burnout_m"))
    return Evaluation(drag_pull_n(view) + air, held)


def air_push_n(view: View, stack: Stack) -> Array:
    """Greatest push of air left in the bay on the way up, (n,) [N]."""
    speed, height = view.outcome("max_speed_m_s"), view.outcome("max_speed_height_m")
    if vent_area_m2(stack) <= 0.0:
        speed, height = np.zeros(view.count), view.outcome("apogee_m")
    return air_lag_n(view, stack, speed, height)


def _trapped(view: View) -> Evaluation | Missing:
    stack, held = stack_of(view.case), hold_n(view)
    lacks = together(stack, held)
    if lacks is not None:
        return lacks
    assert isinstance(stack, Stack) and not isinstance(held, Missing)
    return Evaluation(air_push_n(view, stack), held)


def hanging_kg(view: View) -> Array:
    """What hangs from the separation when the rocket is carried by its nose, (n,) [kg]."""
    parts = sections(view)
    aft = parts.booster_kg + parts.gear_kg
    return np.asarray(aft + view.parameter("propellant_kg"))


def _handled(view: View) -> Evaluation | Missing:
    held = hold_n(view)
    lacks = together(_no_station(view), held)
    if lacks is not None:
        return lacks
    assert not isinstance(held, Missing)
    pull = handling_pull_n(
        hanging_kg(view), view.parameter("gravity_m_s2"), view.of(separation.handling)
    )
    return Evaluation(pull, held)


def window_of(view: View) -> SeparationWindow | Missing:
    """Least and most pull the separation may need, (n,) each [N], or what is missing."""
    gas, stack = gas_of(view), stack_of(view.case)
    lacks = together(gas, stack)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and isinstance(stack, Stack)
    push = np.minimum(gas.push_n, gas.mean_push_n)
    return separation_window(
        np.nan_to_num(drag_pull_n(view)),
        air_push_n(view, stack),
        hanging_kg(view),
        np.where(_ejected(view), push, np.nan),
        gravity_m_s2=float(view.case.site.gravity_m_s2),
    )


def _outside(view: View) -> Evaluation | Missing:
    held, window = hold_n(view), window_of(view)
    lacks = together(held, window)
    if lacks is not None:
        return lacks
    assert isinstance(window, SeparationWindow) and not isinstance(held, Missing)
    told: tuple[Words, ...] = ()
    low = high = np.nan
    if not view.masks_only:
        low, high = point(window.min_n, 95), point(window.max_n, 5)
    if np.isfinite(low) and np.isfinite(high):
        words = "window {low} to {high}, each end right for 95 in 100 flights"
        told = (said(words, low=(low, "force"), high=(high, "force")),)
    return Evaluation(outside_window(window, held), full(view, 1.0), warnings=told)


POWDER = ("trade1980", "noble1880")
_CHARGE = (*GAS_NEEDS, *HOLD_NEEDS)
HEAT = {
    "heat": Constant(HEAT_MIDDLE, "ratio", "guess", note="of the trade's gas work, 0.6 to 1.14"),
}
ROWS = (
    LimitState(
        "separation_handled",
        "Separates while handled",
        phase="pad",
        unit="force",
        more_is_worse=True,
        evaluate=_handled,
        formula=(
            "weight of the aft part with motor x {jerk} for handling, against the pull that "
            "separates it"
        ),
        sources=("practice",),
        needs=(*airframe.SECTIONS, separation.handling, *HOLD_NEEDS),
        constants={
            "jerk": Constant(JERK, "ratio", "guess"),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "separation_window",
        "Pull to separate outside its window",
        phase="pad",
        unit="ratio",
        more_is_worse=True,
        evaluate=_outside,
        formula=(
            "greater of least / pull and pull / most; least = {safe} x the greater of drag + "
            "trapped air and hanging weight, most = push of the charge / {safe}, against 1"
        ),
        sources=("practice", "derived"),
        needs=(*HOLD_NEEDS, *GAS_NEEDS, model.drag_share, *airframe.SECTIONS, *airframe.DRAG),
        constants={
            "safe": Constant(SAFE, "ratio", "practice", note="charge at 1.5 to 2 times the hold"),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "drag_separation",
        "Parts pulled apart by drag at burnout",
        phase="coast",
        unit="force",
        more_is_worse=True,
        evaluate=_apart,
        formula=(
            "T = (mf Da - ma Df) / (mf + ma) just after burnout, loose gear with the forward "
            "part, + push of air that lags in the bay, against what holds it together"
        ),
        sources=("derived",),
        needs=(*HOLD_NEEDS, model.drag_share, *airframe.DRAG, *airframe.SECTIONS, motor.impulse),
    ),
    LimitState(
        "trapped_air",
        "Trapped air separates the rocket",
        phase="coast",
        unit="force",
        more_is_worse=True,
        evaluate=_trapped,
        formula=(
            "(pressure in the bay - outside) x pi/4 D^2: lag rho/2 (V w / A H Cd)^2 through the "
            "vents at the highest speed, or all of the difference at apogee without vents, "
            "against the hold"
        ),
        sources=("derived", "usstd1976"),
        needs=(*HOLD_NEEDS, motor.impulse, *airframe.DRAG),
    ),
    LimitState(
        "separation_shut",
        "Not separated by the charge",
        phase="deployment",
        unit="force",
        more_is_worse=False,
        evaluate=_shut,
        formula=(
            "push of the charge, lesser of first and mean over the coupler: p = m f leak / V "
            "with {heat} of the trade's work, gas expanding with n = {index} against the air "
            "outside, against pull and pins ({nylon} on the root)"
        ),
        sources=(*POWDER, "derived"),
        needs=(*_CHARGE, separation.gap),
        constants={
            **HEAT,
            "index": Constant(GAS_INDEX, "ratio", "memory", note="hot powder gas, 1.15 to 1.25"),
            "nylon": Constant(NYLON_SHEAR_PA, "pressure", "sheet", note="data sheet, seen"),
        },
    ),
    LimitState(
        "charge_strong",
        "Charge too strong for what must hold",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_strong,
        formula=(
            "push of the charge P = p pi/4 D^2 with {heat} of the trade's work, against the "
            "bulkhead it stands on, which presses the joints ahead of it shut; where it stands "
            "on the nose, also P - tip / fore x (P - hold) against the joint that must stay"
        ),
        sources=(*POWDER, "derived"),
        needs=(*_CHARGE, separation.bulkhead, separation.fixed_joint, *airframe.SECTIONS),
        constants=HEAT,
        look="bulkhead and coupler about the charge: leaks, cracks, soot behind them",
    ),
)
