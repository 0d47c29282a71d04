"""Rows of the recovery bay: what must fit in, what shields it, and how the bays breathe."""

from math import degrees
from typing import Final

import numpy as np

from goodflight.physics.flight.registry import BY_ALTIMETER
from goodflight.physics.recovery.packing import LAP, blanket_needed_m2
from goodflight.physics.recovery.vents import (
    LARGE_RULE_M,
    RULE_FACTOR,
    SMALL_RULE_M,
    VENT_SHARE,
    height_lag_m,
    holes_area_m2,
    outside_rules,
    vent_area_band_m2,
    vent_lag_pa,
)
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle import rail_guide_angle_rad
from goodflight.physics.vehicle.parts import Bay, Fins
from goodflight.physics.vehicle.vents import apart_rad, vent_angles_rad
from goodflight.quantity.said import Said, Words, literal, said
from goodflight.studies.asking import asked, choice, entry, to_add, together
from goodflight.studies.case.planned import canopy_of, electronics_bay, separation_of
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.air import density
from goodflight.studies.rows.applies import not_here, point
from goodflight.studies.rows.electronics import NO_DEVICE
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.opening import FIRST, Opening
from goodflight.studies.rows.packed import DENSITY, STACK, packed, piece_m, stack_m
from goodflight.studies.rows.parting import hold_n, no_canopy, vent_area_m2
from goodflight.studies.rows.separation import air_lag_n
from goodflight.studies.sampling import airframe, model, motor, recovery, separation


def fits(view: View, main: bool = False) -> Evaluation | Missing:
    """Stack of a canopy's bay against the bay's length."""
    stack = stack_of(view.case, main)
    if isinstance(stack, Missing):
        return stack
    return Evaluation(stack_m(view, stack), full(view, stack.room_m), warnings=_bay_words(stack))


def _bay_words(stack: Stack) -> tuple[Said, ...]:
    pieces = ", ".join(f"{literal(each.name)} {{p{i}}}" for i, each in enumerate(stack.pieces))
    lengths = {f"p{i}": (each.length_m, "length") for i, each in enumerate(stack.pieces)}
    short = stack.wanted_m - stack.room_m
    told = "with one calibre of spare the bay should be {wanted} long"
    told += ": cut the tube {short} longer" if short > 0.0 else "; it is {short} longer"
    wanted, off = (stack.wanted_m, "length"), (abs(short), "length")
    return said(f"stack: {pieces}", **lengths), said(told, wanted=wanted, short=off)


def scorched(view: View, opening: Opening = FIRST) -> Evaluation | Missing:
    """Blanket against the skin of the packed canopy that it shields from its charge."""
    blanket = view.given(opening.blanket)
    wadding = separation_of(view.case, opening.main).wadding
    if blanket is None and wadding:
        return not_here(view, "wadding between charge and canopy")
    main = view.case.deployment.main_canopy
    stack = stack_of(view.case, opening.main)
    canopy = main if opening.main else canopy_of(view.case)
    lacks = together(
        _unshielded(view, opening) if blanket is None else None, stack, no_canopy(canopy)
    )
    if lacks is not None:
        return lacks
    assert blanket is not None and canopy is not None and isinstance(stack, Stack)
    rolled = next(piece for piece in stack.pieces if piece.name == canopy.name)
    wide = canopy.packed_diameter_m or stack.bay.inner_diameter_m
    needed = blanket_needed_m2(
        wide, piece_m(view, rolled), view.of(recovery.blanket_lap), view.of(recovery.pack_room)
    )
    return Evaluation(blanket, needed)


def _unshielded(view: View, opening: Opening) -> Missing:
    found = opening.blanket.missing(view.case)
    table = separation_of(view.case, opening.main).tables[1]
    wadding = choice(
        f"rocket.toml:{table}.wadding",
        "wadding in place of a blanket",
        "fire-proof wadding between charge and canopy",
        [("true", "yes, wadding is packed")],
    )
    return asked(found.advice, *found.asks, wadding)


def _bay_vents(view: View) -> Evaluation | Missing:
    stack, held = stack_of(view.case), hold_n(view)
    lacks = together(stack, held)
    if lacks is not None:
        return lacks
    assert isinstance(stack, Stack) and not isinstance(held, Missing)
    vents = vent_area_m2(stack)
    speed, height = view.outcome("max_speed_m_s"), view.outcome("max_speed_height_m")
    if vents <= 0.0:
        speed, height = view.outcome("apogee_m_s"), view.outcome("apogee_m")
    push = air_lag_n(view, stack, speed, height)
    told = said(
        f"{stack.bay.vent_count} vents of {{wide}}", wide=(stack.bay.vent_diameter_m, "length")
    )
    return Evaluation(push, VENT_SHARE * held, warnings=(told,))


NO_VENTS: Final = 1000.0  # times outside the rules: shown where there is no hole at all


def _which_bay(view: View) -> Missing | None:
    """A device may fly that reads the pressure, and not every bay is said to be read or not."""
    bays = list(view.case.rocket.of_kind(Bay))
    unsaid = [bay for bay in bays if bay.electronics is None]
    devices = view.case.deployment.devices
    flies = not devices or any(each.on_board and each.records for each in devices)
    if not flies or (bays and not unsaid):
        return None
    return asked(
        "say in which bay an altimeter or logger reads the pressure (electronics = true), or that "
        "none does (false)",
        *(
            choice(
                f"rocket.toml:part[{bay.name}].electronics",
                f"a device reads the pressure in {bay.name}",
                "a logger with a barometer does, a camera does not",
                [("true", "yes"), ("false", "no")],
            )
            for bay in unsaid
        ),
        *([] if bays else [to_add("bay", "bay of the device", "length, inner diameter, vents")]),
        *([] if devices else [NO_DEVICE]),
    )


def _no_barometer(view: View) -> Missing:
    """An altimeter fires the charge, and no bay is said to hold it."""
    bays = list(view.case.rocket.of_kind(Bay))
    how = "the one whose air the altimeter measures"
    return asked(
        "say which bay holds the altimeter that fires the charge (electronics = true)",
        *(
            choice(
                f"rocket.toml:part[{bay.name}].electronics",
                f"the altimeter is in {bay.name}",
                how,
                [("true", "yes")],
            )
            for bay in bays
        ),
        to_add("bay", "bay of the altimeter", "length, inner diameter, its vents"),
    )


def _electronics(view: View) -> Evaluation | Missing:
    bay = electronics_bay(view.case.rocket)
    if bay is None and view.case.deployment.by == BY_ALTIMETER:
        return _no_barometer(view)
    if bay is None:
        return _which_bay(view) or not_here(view, "no bay with electronics = true")
    if bay.free_volume_m3 is None:
        advice = "give the air in the electronics bay, contents taken off"
        at, how = f"rocket.toml:part[{bay.name}].free_volume", "fill it with rice and measure that"
        return asked(
            advice,
            entry(
                at,
                f"air in {bay.name}",
                how=how,
                dimension="volume",
                instrument="measuring jug",
                minutes=15.0,
            ),
        )
    area = holes_area_m2(bay.vent_count, bay.vent_diameter_m)
    if area <= 0.0:
        none = "no vents: the barometer cannot follow; drill them, and enter how many and how wide"
        return Evaluation(full(view, NO_VENTS), full(view, RULE_FACTOR), warnings=(none,))
    demand = outside_rules(bay.free_volume_m3, area, view.of(model.vent_rule))
    return Evaluation(demand, full(view, RULE_FACTOR), warnings=_vent_words(view, bay, area))


def _vent_words(view: View, bay: Bay, area_m2: float) -> tuple[Words, ...]:
    small, large = (float(a) for a in vent_area_band_m2(bay.free_volume_m3 or 0.0))
    speed = view.outcome("max_speed_m_s")
    air = density(view, view.outcome("max_speed_height_m"))
    lag = vent_lag_pa(bay.free_volume_m3 or 0.0, area_m2, np.nan_to_num(speed), air)
    middle, late = point(lag, 50), point(height_lag_m(lag, air), 50)

    sets = list(view.case.rocket.of_kind(Fins))
    rail, angles = rail_guide_angle_rad(sets), vent_angles_rad(view.case.rocket, bay)
    off = min(apart_rad(angle, rail) for angle in angles)
    return (
        said(
            "holes {there}; the two rules in use ask for {small} and {large}",
            there=(area_m2, "area"),
            small=(small, "area"),
            large=(large, "area"),
        ),
        f"on the templates they face {', '.join(f'{degrees(angle):.0f}' for angle in angles)} deg "
        f"about the axis, {degrees(off):.0f} deg or more off the rail guides' line",
        said(
            "computed lag at the greatest speed {lag}, {late} of height",
            lag=(middle, "pressure"),
            late=(late, "length"),
        ),
    )


ROWS = (
    LimitState(
        "gear_fits",
        "Recovery gear does not fit",
        phase="deployment",
        unit="length",
        more_is_worse=True,
        evaluate=fits,
        formula=(
            "stacked length of what the bay holds (stated packed lengths; else mass / {density} "
            "over the bay's section), against the free length behind coupler or shoulder"
        ),
        sources=("practice",),
        needs=STACK,
        parts=packed,
        constants=DENSITY,
    ),
    LimitState(
        "canopy_scorched",
        "Canopy scorched by the charge",
        phase="deployment",
        unit="area",
        more_is_worse=False,
        evaluate=scorched,
        formula=(
            "area of the blanket, against the skin of the packed canopy pi d (l + d / 2) x {lap}"
        ),
        sources=("derived",),
        needs=(separation.blanket, recovery.blanket_lap, *STACK),
        parts=packed,
        constants={
            "lap": Constant(LAP, "ratio", "guess"),
        },
        look="canopy, lines and blanket: scorched or melted cloth",
    ),
    LimitState(
        "bay_vents",
        "Vent holes of the recovery bay too small",
        phase="coast",
        unit="force",
        more_is_worse=True,
        evaluate=_bay_vents,
        formula=(
            "push of the air that lags at the highest speed (all of it without vents), against "
            "{share} of what holds the separation"
        ),
        sources=("derived",),
        needs=(separation.pull, motor.impulse, *airframe.DRAG),
        constants={
            "share": Constant(VENT_SHARE, "ratio", "guess"),
        },
    ),
    LimitState(
        "electronics_vents",
        "Vent holes of the electronics bay outside the usual rules",
        phase="coast",
        unit="ratio",
        more_is_worse=True,
        evaluate=_electronics,
        formula=(
            "greater of (V / A) / {small} and {large} / (V / A), the two rules in use, against "
            "{factor}"
        ),
        sources=("practice", "sheet"),
        needs=(model.vent_rule,),
        constants={
            "small": Constant(SMALL_RULE_M, "length", "practice", note="a 1/4 in hole for 100 in3"),
            "large": Constant(LARGE_RULE_M, "length", "sheet", note="an altimeter manual, seen"),
            "factor": Constant(RULE_FACTOR, "ratio", "guess", note="root of 2"),
        },
        kind="rule",
        thumb=True,
    ),
)
