"""From the charge to the open canopy: gas, separation, parting speed, cord, on every flight.

Worked out once for a set of flown flights and read by all rows of separation and cord. What the
project does not say comes back as the advice to give it.
"""

from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

import numpy as np

from goodflight.physics.aero.margin import PLATE_CD
from goodflight.physics.aero.reading import scalar
from goodflight.physics.aero.share import TUMBLE_S, tube_side_m2
from goodflight.physics.flight import registry
from goodflight.physics.recovery.charge import (
    BURN_S,
    charge_pressure_pa,
    drawn_impetus_j_kg,
    gap_area_m2,
    gas_room_m3,
    gas_work_j,
    leak_share,
    motor_head_m3,
    opening_work_j,
    separation_push_n,
)
from goodflight.physics.recovery.cord import (
    DAMPING,
    climb_angle_rad,
    cord_lengths,
    in_series,
    pack_friction_n,
    parting_speed_m_s,
    stiffness_n_m,
)
from goodflight.physics.recovery.packing import PRESSED_ROOM, pack_drag_area_m2
from goodflight.physics.recovery.parting import (
    INPUT_INDEX,
    OUTCOME_INDEX,
    PARTING_INPUTS,
    part_bodies,
)
from goodflight.physics.recovery.separation import pin_force_n
from goodflight.physics.recovery.vents import holes_area_m2
from goodflight.physics.recovery.zipper import EDGE_FRICTION
from goodflight.physics.vehicle import body_length_m, ring_inertia_kg_m2
from goodflight.physics.vehicle.parts import Canopy, Cord, Coupler, MotorTube, Nose
from goodflight.physics.vehicle.sections import spans
from goodflight.studies.asking import asked, entry, to_add, together
from goodflight.studies.case.planned import (
    Case,
    canopy_of,
    cord_of,
    joint_m,
    one_part,
    separation_of,
)
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.air import density, pressure, slopes
from goodflight.studies.rows.answers import no_stretch
from goodflight.studies.rows.model import Array, Mask, Missing, View
from goodflight.studies.rows.nose_joint import SAME_PLACE_M
from goodflight.studies.rows.opening import FIRST, Opening, nearest_motor
from goodflight.studies.rows.packed import stack_m
from goodflight.studies.rows.separation_drag import drag_areas
from goodflight.studies.sampling import motor, recovery, second, separation
from goodflight.studies.sampling.remembered import Remembered


@dataclass(frozen=True, eq=False)
class Gas:
    """The charge in the closed bay, one entry per flight."""

    pressure_pa: Array
    push_n: Array  # on the separation before it moves
    mean_push_n: Array  # over the separation's length
    free_m3: Array
    bore_m: float
    engaged_m: float
    stack: Stack


@dataclass(frozen=True, eq=False)
class Parting:
    """Two bodies and the canopy after ejection; rows of `out` only where the separation opened."""

    opened: Mask
    speed_m_s: Array
    out: Array  # (n, len(PARTING_OUTCOMES)), nan where it did not open

    def get(self, name: str) -> Array:
        """One outcome, (n,)."""
        column: Array = self.out[:, OUTCOME_INDEX[name]]
        return column


GAS_NEEDS: Final = (  # what `gas_of` reads of the charge that fires first
    motor.charge,
    separation.powder,
    separation.powder_heat,
    separation.gas_in_pack,
    separation.charge_burn,
    separation.gap,
)
HOLD_NEEDS: Final = (separation.pull, separation.pin_strength)  # what `hold_n` reads
_GAS: "WeakKeyDictionary[View, dict[bool, Gas | Missing]]" = WeakKeyDictionary()
MOTIONS: Final = Remembered()
MIN_SECTION_KG: Final = 0.02
LOW_MACH: Final = 0.06  # slopes hardly change below Mach 0.3
_PARTING: "WeakKeyDictionary[View, Parting | Missing]" = WeakKeyDictionary()


def gas_of(view: View, opening: Opening = FIRST) -> Gas | Missing:
    """Pressure and push of a charge, or what is missing to know it."""
    kept = _GAS.setdefault(view, {})
    if opening.main not in kept:
        kept[opening.main] = _gas(view, opening)
    return kept[opening.main]


def parting_of(view: View) -> Parting | Missing:
    """Motion after ejection, or what is missing to know it."""
    if view not in _PARTING:
        _PARTING[view] = _parting(view)
    return _PARTING[view]


def hold_n(view: View, opening: Opening = FIRST) -> Array | Missing:
    """What holds a separation before its charge: measured pull and pins, (n,) [N]."""
    told = separation_of(view.case, opening.main)
    pull = view.given(opening.pull)
    if pull is None:
        return opening.pull.missing(view.case)
    if told.pins:
        pull = pull + pin_force_n(told.pin_thread, told.pins) * view.of(opening.pin_strength)
    return np.asarray(pull)


def powder_kg(view: View, opening: Opening = FIRST) -> Array | Missing:
    """Black powder that fires: the motor's charge, or own powder by altimeter, (n,) [kg]."""
    by_delay = view.case.deployment.by == registry.BY_DELAY
    first = motor.charge if by_delay else separation.powder
    powder = second.powder if opening.main else first
    return view.stated(powder)


def sliding_part(case: Case, main: bool = False) -> Coupler | Nose | None:
    """What slides out of a tube as a separation opens: its coupler, else the nose's shoulder."""
    joint, nose = joint_m(case, main), one_part(case.rocket, Nose)
    if joint is None:
        return None
    for part in case.rocket.of_kind(Coupler):
        if spans(part, joint):
            return part
    there = nose is not None and abs(nose.length_m - joint) < SAME_PLACE_M
    return nose if nose is not None and there and nose.shoulder_length_m > 0.0 else None


def engaged_m(view: View, opening: Opening = FIRST) -> float | Missing:
    """Length over which a separation slides [m]."""
    joint = joint_m(view.case, opening.main)
    if joint is None:
        return opening.no_station
    part = sliding_part(view.case, opening.main)
    if isinstance(part, Coupler):
        ahead = joint - part.station_m
        fore = separation_of(view.case, opening.main).coupler_in == "fore"
        return part.length_m - ahead if fore else ahead
    if part is not None:
        return part.shoulder_length_m
    return asked(
        "no coupler and no shoulder of the nose reaches over the separation: check its station and "
        "theirs, or add the one that slides apart",
        to_add("coupler", "coupler that slides apart", "across the separation: station, length"),
    )


def _gas(view: View, opening: Opening) -> Gas | Missing:
    engaged, powder = engaged_m(view, opening), powder_kg(view, opening)
    stack = stack_of(view.case, opening.main)
    lacks = together(engaged, stack, powder)
    if lacks is not None:
        return lacks
    assert not isinstance(engaged, Missing) and not isinstance(powder, Missing)
    assert isinstance(stack, Stack)
    bore = stack.bay.inner_diameter_m
    room = stack.area_m2 * stack.bay.length_m + (
        _head_m3(view) if opening is nearest_motor(view.case) else 0.0
    )
    free = gas_room_m3(room, stack.solid_m3, PRESSED_ROOM, view.of(opening.gas_in_pack))
    impetus = drawn_impetus_j_kg(view.of(separation.powder_heat))
    leak = vent_area_m2(stack) + gap_area_m2(bore, view.of(opening.gap))
    held = leak_share(free, leak, BURN_S * view.of(separation.charge_burn), impetus)
    rise = charge_pressure_pa(powder, free, impetus) * held
    outside = pressure(view, view.outcome(opening.height))
    work = gas_work_j(
        rise, free_volume=free, bore_m=bore, stroke_m=engaged, hold_n=0.0, outside_pa=outside
    )
    return Gas(
        pressure_pa=rise,
        push_n=separation_push_n(rise, bore),
        mean_push_n=work / engaged,
        free_m3=free,
        bore_m=bore,
        engaged_m=engaged,
        stack=stack,
    )


def _head_m3(view: View) -> float:
    """Room in the motor tube ahead of the motor [m3]."""
    tube = one_part(view.case.rocket, MotorTube)
    if tube is None:
        return 0.0
    ahead = tube.motor_aft_m - view.case.motor.length_m - tube.station_m
    return motor_head_m3(tube.inner_diameter_m, ahead)


def vent_area_m2(stack: Stack) -> float:
    """Area of the recovery bay's vents [m2]."""
    return holes_area_m2(stack.bay.vent_count, stack.bay.vent_diameter_m)


def no_canopy(canopy: Canopy | None) -> Missing | None:
    """What is missing where nothing opens."""
    how = "how wide it is, and how that was measured"
    return None if canopy else asked("add the canopy of this plan", to_add("canopy", "canopy", how))


def _no_cord(cord: Cord | None) -> Missing | None:
    if cord is not None and cord.length_m > 0.0 and cord.strength_n > 0.0:
        return no_stretch(cord)
    advice = "add the cord between nose and booster, with length and breaking strength"
    if cord is None:
        return asked(advice, to_add("cord", "recovery cord", "its length and strength"))
    at = f"rocket.toml:part[{cord.name}]"
    return asked(
        advice,
        entry(
            f"{at}.length",
            "length of the cord",
            how="lay it out",
            dimension="length",
            instrument="tape",
            minutes=5.0,
        ),
        entry(
            f"{at}.strength",
            "strength of the cord",
            how="from the reel",
            dimension="force",
            instrument="reel",
            minutes=5.0,
        ),
    )


def _parting(view: View) -> Parting | Missing:
    gas, held, cord = gas_of(view), hold_n(view), cord_of(view.case)
    canopy = canopy_of(view.case)
    lacks = together(gas, held, _no_cord(cord), no_canopy(canopy))
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(held, Missing) and cord is not None
    opened = np.isfinite(view.outcome("ejection_m_s")) & (gas.mean_push_n > held)
    opened &= gas.push_n > held
    work = np.where(opened, opening_work_j(gas.mean_push_n, held, gas.engaged_m), 0.0)
    rides = view.case.deployment.by == registry.BY_DELAY
    nose, gear, booster = masses(view)
    fore, aft = (nose + gear, booster) if rides else (nose, booster + gear)
    speed = parting_speed_m_s(work, fore, aft)
    rows = np.empty((view.count, len(PARTING_INPUTS)))
    for fill in (_bodies, _cords, _cloth):
        for name, value in fill(view, gas, cord, rides).items():
            rows[:, INPUT_INDEX[name]] = value
    rows[:, INPUT_INDEX["parting_m_s"]] = speed
    out = np.full((view.count, len(OUTCOME_INDEX)), np.nan)
    moved = rows[opened]
    out[opened] = MOTIONS.of(moved, lambda new: part_bodies(moved[new]))
    return Parting(opened, speed, out)


def masses(view: View) -> tuple[Array, Array, Array]:
    """Nose section, packed gear and booster, (n,) each [kg]; less than 20 g is no rocket's."""
    found = view.trials.sections
    if found is None:
        least = np.full(view.count, MIN_SECTION_KG)
        return least, least, least
    each = (found.nose_kg, found.gear_kg, found.booster_kg)
    nose, gear, booster = (np.maximum(mass, MIN_SECTION_KG) for mass in each)
    return nose, gear, booster


def _tube(view: View, gas: Gas) -> dict[str, Array | float]:
    """What turns the booster and what holds it back: its edge, inertia, and the air on it."""
    rocket, radius = view.case.rocket, gas.bore_m / 2.0
    joint, tail = rocket.separation_station_m or 0.0, body_length_m(rocket)
    found, booster = view.trials.sections, masses(view)[2]
    cg = np.full(view.count, 0.5 * (joint + tail)) if found is None else found.booster_cg_m
    inertia = ring_inertia_kg_m2(booster, radius)  # no tube is easier to turn
    if found is not None:
        inertia = np.maximum(found.booster_inertia_kg_m2, inertia)
    lift = slopes(view, LOW_MACH)
    return {
        "mouth_m": np.maximum(cg - joint, radius),
        "booster_inertia_kg_m2": inertia,
        "tube_m": tail - joint,
        "tube_side_m2": tube_side_m2(tail - joint, 2.0 * radius),
        "edge_friction": EDGE_FRICTION * view.of(recovery.edge_friction),
        "fins_behind_m": lift.fin_cp_m - cg,
        "fins_side_m2": PLATE_CD * scalar(view.case.tables, "fin_plate_m2"),
        "fins_lift_m2": lift.fin * scalar(view.case.tables, "area_m2"),
    }


def _bodies(view: View, gas: Gas, cord: Cord, rides: bool) -> dict[str, Array | float]:
    speed = np.nan_to_num(view.outcome("ejection_m_s"))
    climb = np.nan_to_num(view.outcome("ejection_climb_m_s"))
    nose, gear, booster = masses(view)
    friction = view.given(separation.pack_pull)
    if friction is None:
        friction = pack_friction_n(
            gear, view.parameter("gravity_m_s2"), view.of(separation.pack_friction)
        )
    return {
        "nose_kg": nose,
        "booster_kg": booster,
        "gear_kg": gear,
        "speed_m_s": speed,
        "climb_rad": climb_angle_rad(speed, climb),
        "axis_rad": view.of(separation.axis),
        "turn_rad_s": view.of(separation.booster_turn),
        "gear_rides": 1.0 if rides else 0.0,
        "tumble_s": TUMBLE_S,
        "pack_friction_n": friction,
        "pack_length_m": stack_m(view, gas.stack),
        "gear_m2": pack_drag_area_m2(gas.stack.area_m2, view.of(recovery.pack_area)),
        "density_kg_m3": density(view, view.outcome("ejection_m")),
        "gravity_m_s2": view.parameter("gravity_m_s2"),
        **vars(drag_areas(view)),
        **_tube(view, gas),
    }


def whole_cord_n_m(view: View, cord: Cord) -> Array:
    """Stiffness of a cord from end to end, its leader in series, (n,) [N/m]."""
    give = view.of(recovery.cord_give)
    leader = cord.leader_length_m if cord.leader_strength_n > 0.0 else 0.0
    rest = max(cord.length_m - leader, 0.05 * cord.length_m)
    stiff = stiffness_n_m(cord.strength_n, cord.elongation_at_break * give, rest)
    if leader <= 0.0:
        return stiff
    ribbon = stiffness_n_m(cord.leader_strength_n, cord.leader_elongation * give, leader)
    return in_series(stiff, ribbon)


def _cords(view: View, gas: Gas, cord: Cord, rides: bool) -> dict[str, Array | float]:
    give = view.of(recovery.cord_give)
    has_leader = cord.leader_strength_n > 0.0
    lengths = cord_lengths(
        cord.length_m, cord.canopy_at_m, cord.leader_length_m if has_leader else 0.0
    )
    leader = lengths.leader_m
    stretch = cord.elongation_at_break * give
    stiff_aft = stiffness_n_m(cord.strength_n, stretch, lengths.aft_m - leader)
    if leader > 0.0:
        ribbon = stiffness_n_m(cord.leader_strength_n, cord.leader_elongation * give, leader)
        stiff_aft = in_series(stiff_aft, ribbon)
    return {
        "fore_cord_m": lengths.fore_m,
        "aft_cord_m": lengths.aft_m,
        "aft_stiffness_n_m": stiff_aft,
        "fore_stiffness_n_m": stiffness_n_m(cord.strength_n, stretch, lengths.fore_m),
        "cord_damping": DAMPING * view.of(recovery.cord_damping),
    }


def _cloth(view: View, gas: Gas, cord: Cord, rides: bool) -> dict[str, Array | float]:
    canopy = canopy_of(view.case)
    lines = canopy.line_length_m if canopy is not None else 0.0
    return {
        "line_length_m": lines or view.parameter("canopy_diameter_m"),
        "canopy_m2": view.parameter("canopy_area_m2"),
        "canopy_diameter_m": view.parameter("canopy_diameter_m"),
        "canopy_fill": view.parameter("canopy_fill"),
        "canopy_growth": view.parameter("canopy_growth"),
    }
