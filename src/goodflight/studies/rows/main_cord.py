"""Rows of the second canopy's cord and of the height it opens at."""

import numpy as np

from goodflight.physics.recovery.charge import opening_work_j
from goodflight.physics.recovery.cord import (
    parting_speed_m_s,
    shared_mass_kg,
    snatch_n,
)
from goodflight.physics.recovery.opening import RESERVE_M, height_needed_m
from goodflight.physics.recovery.separation import (
    MIN_SECTION_KG,
    anchor_loads_n,
)
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle.parts import Cord
from goodflight.studies.asking import asked, to_add, together
from goodflight.studies.case.planned import main_cord_of
from goodflight.studies.rows.answers import no_stretch
from goodflight.studies.rows.cord import not_told, whole_cord_holds_n
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.rows.opening import MAIN
from goodflight.studies.rows.parting import (
    Gas,
    gas_of,
    hold_n,
    whole_cord_n_m,
)
from goodflight.studies.rows.second import GAS, HOLD, fired, of_main
from goodflight.studies.rows.separation import sections
from goodflight.studies.sampling import air, recovery, second


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
    return Evaluation(np.fmax(force, snatch), strength, fired(view))


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
        np.where(aft_first, behind, ahead), np.where(aft_first, aft, fore), fired(view)
    )


_SNATCH = (
    "greater of the opening force from the motion and the snatch v sqrt(k m), v the speed at "
    "which the charge parts nose and pack from the rest"
)
ROWS = (
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
            *GAS,
            *HOLD,
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
            *GAS,
            *HOLD,
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
