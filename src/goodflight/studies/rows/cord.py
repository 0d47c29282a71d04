"""Rows of the time between ejection and the open canopy: pack, booster, snatch, tube's edge."""

from collections.abc import Mapping
from typing import Final

import numpy as np

from goodflight.physics.recovery.cord import DAMPING, FRICTION_WEIGHTS, held_force_n, weakest_cord_n
from goodflight.physics.recovery.packing import OUT_LENGTHS, reach_m
from goodflight.physics.recovery.parting_steps import SETTLE_S
from goodflight.physics.recovery.separation import jerk_share_n
from goodflight.physics.recovery.wear import NOT_SAID
from goodflight.physics.recovery.zipper import EDGE_FRICTION, KRAFT_STRENGTH_PA, slit_start_n
from goodflight.physics.sources import Constant
from goodflight.physics.structure.unsure import DAMP_SHARE
from goodflight.physics.vehicle.edges import EDGES
from goodflight.physics.vehicle.parts import Cord, Tube
from goodflight.studies.asking import asked, choice, entry, to_add, together
from goodflight.studies.case.planned import cord_of
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.nose_joint import gas_on_nose, no_nose_mass, nose_stays
from goodflight.studies.rows.packed import stack_m
from goodflight.studies.rows.parting import GAS_NEEDS, HOLD_NEEDS, Parting, gas_of, parting_of
from goodflight.studies.rows.separation import sections
from goodflight.studies.rows.structure import dry_share
from goodflight.studies.sampling import airframe, model, motor, recovery, separation, structure
from goodflight.studies.sampling.quantity import Quantity

WORN_NOT_SAID: Final = (
    f"how many flights cord and canopy lines had before is not said: {NOT_SAID} are taken where "
    "their strength was not pulled"
)


def _stays(view: View) -> Evaluation | Missing:
    found = parting_of(view)
    if isinstance(found, Missing):
        return found
    gas = gas_of(view)
    if isinstance(gas, Missing):
        return gas
    way = stack_m(view, gas.stack)
    reach = reach_m(found.get("cleared_s"), found.get("reach_m"), way)
    return Evaluation(reach, way, found.opened)


def _overtakes(view: View) -> Evaluation | Missing:
    found = parting_of(view)
    if isinstance(found, Missing):
        return found
    gap = found.get("min_gap_m")
    return Evaluation(gap, full(view, 0.0), found.opened & np.isfinite(gap))


def whole_cord_holds_n(view: View, cord: Cord, strength: Quantity) -> Array:
    """What a cord with its leader holds at its knots, (n,) [N]."""
    weakest = weakest_cord_n(cord.strength_n, cord.leader_length_m, cord.leader_strength_n)
    scatter = view.of(strength) / cord.strength_n * view.of(recovery.knot)
    return held_force_n(weakest, cord.joint_efficiency) * scatter


def _snatch_cord(view: View) -> Evaluation | Missing:
    found, cord = parting_of(view), cord_of(view.case)
    if isinstance(found, Missing):
        return found
    if cord is None or cord.strength_n <= 0.0:
        return recovery.cord_strength.missing(view.case)
    strength = whole_cord_holds_n(view, cord, recovery.cord_strength)
    worn = () if cord.flights_before is not None else (WORN_NOT_SAID,)
    return Evaluation(found.get("max_n"), strength, found.opened, warnings=worn)


def not_told(view: View, advice: str, given: Mapping[Quantity, Array | None]) -> Missing | None:
    """What is missing where an anchor's strength is not given."""
    asks = [each.entry(view.case) for each, strength in given.items() if strength is None]
    return asked(advice, *asks) if asks else None


def _snatch_anchor(view: View) -> Evaluation | Missing:
    found = parting_of(view)
    ends = {each: view.given(each) for each in (separation.fore_anchor, separation.aft_anchor)}
    given = [end for end in ends.values() if end is not None]
    advice = (
        "say what pull both anchors of the cord stand with their bulkhead and glue: "
        "hang a weight, or work out the glue line"
    )
    lacks = together(found, not_told(view, advice, ends))
    if lacks is not None:
        return lacks
    assert isinstance(found, Parting)
    return Evaluation(found.get("max_n"), np.minimum(*given), found.opened)


def _nose_jerked(view: View) -> Evaluation | Missing:
    rocket, found = view.case.rocket, parting_of(view)
    if rocket.separation_station_m is not None and not nose_stays(rocket):
        return not_here(view, "no joint ahead of the separation must stay")
    unweighed = no_nose_mass(rocket)
    if isinstance(found, Missing):
        return together(found, view.stated(separation.fixed_joint), unweighed) or found
    if _hangs_by_nose(view):
        return not_here(view, "the cord hangs from the nose and presses its joint shut")
    lacks = together(view.stated(separation.fixed_joint), unweighed)
    if lacks is not None:
        return lacks
    parts = sections(view)
    pull = jerk_share_n(found.get("fore_n"), parts.tip_kg, parts.nose_kg)
    return Evaluation(pull, view.of(separation.fixed_joint), found.opened)


def _hangs_by_nose(view: View) -> bool:
    """Whether the gear lies ahead of the separation with nothing but the nose to tie it to."""
    gas = gas_of(view)
    assert not isinstance(gas, Missing)  # the motion stands on it
    ahead = gas.stack.bay.station_m < (view.case.rocket.separation_station_m or 0.0)
    coupled = view.case.rocket.separation.coupler_in == "aft"
    return ahead and coupled and gas_on_nose(view.case.rocket, gas.stack.bay)


def _zipper(view: View) -> Evaluation | Missing:
    cord = cord_of(view.case)
    if view.case.rocket.separation.coupler_in == "aft":
        return not_here(view, "the cord leaves from a coupler fixed in the lower part")
    found, strength = parting_of(view), view.given(separation.edge_strength)
    wall = _wall_m(view)
    lacks = together(
        found,
        _no_edge(view) if strength is None else None,
        _no_width(cord),
        None if wall else _NO_TUBE,
    )
    if lacks is not None:
        return lacks
    assert isinstance(found, Parting) and cord is not None
    assert strength is not None and wall is not None
    capacity = slit_start_n(wall, cord.width_m, strength * _dry(view))
    return Evaluation(found.get("edge_n"), capacity, found.opened)


def _dry(view: View) -> Array | float:
    """What moisture leaves a paper edge whose strength is that of its material."""
    told, figure = view.case.rocket.separation, view.case.rocket.separation.edge_strength_pa
    paper = figure is not None and figure.by_kind and EDGES[told.edge].paper
    return dry_share(view) if paper else 1.0


def _no_edge(view: View) -> Missing:
    found = separation.edge_strength.missing(view.case)
    kinds = ((key, key.replace("_", " ")) for key in EDGES)
    edge = choice(
        "rocket.toml:separation.edge",
        "what the tube's edge is made of",
        "as it is where the cord leaves; or give its strength",
        kinds,
    )
    return asked(found.advice, edge, *found.asks)


def _no_width(cord: Cord | None) -> Missing | None:
    if cord is None or cord.width_m > 0.0:
        return None  # no cord: the motion asks for it
    how = "measure the width of the cord where it touches the tube's edge"
    at = f"rocket.toml:part[{cord.name}].width"
    return asked(
        f"{how} (width)",
        entry(
            at, "width of the cord", how=how, dimension="length", instrument="calliper", minutes=2.0
        ),
    )


_NO_TUBE = asked(
    "add the tube that the cord leaves from, with both diameters",
    to_add("tube", "tube that the cord leaves from", "length and both diameters"),
)


def _wall_m(view: View) -> float | None:
    """Wall of the tube behind the separation [m]."""
    joint = view.case.rocket.separation_station_m
    for tube in view.case.rocket.of_kind(Tube):
        if joint is not None and tube.station_m + tube.length_m > joint + 1e-6:
            return tube.wall_m
    return None


MOTION_NEEDS = (
    *GAS_NEEDS,
    *HOLD_NEEDS,
    separation.pack_pull,
    separation.pack_friction,
    recovery.pack_room,
    recovery.pack_area,
    model.drag_share,
    separation.axis,
    separation.booster_turn,
    recovery.cord_give,
    recovery.cord_damping,
    recovery.edge_friction,
    motor.delay,
    *airframe.SECTIONS,
)
_MOTION = (
    "motion of nose and pack as points and of the booster as a body that turns, along and across "
    "the path, from the charge's parting speed until the booster hangs from its open canopy"
)
ROWS = (
    LimitState(
        "canopy_stays",
        "Packed canopy stays in the tube",
        phase="deployment",
        unit="length",
        more_is_worse=False,
        evaluate=_stays,
        formula=(
            f"way the pack comes out of its tube ({_MOTION}; {{out}} lengths = out), against its "
            f"length; "
            "friction from the pull that draws it out, or {weights} times its weight"
        ),
        sources=("derived",),
        needs=MOTION_NEEDS,
        constants={
            "out": Constant(OUT_LENGTHS, "ratio", "guess"),
            "weights": Constant(FRICTION_WEIGHTS, "ratio", "guess"),
        },
    ),
    LimitState(
        "booster_overtakes",
        "Booster overtakes the canopy",
        phase="deployment",
        unit="length",
        more_is_worse=False,
        evaluate=_overtakes,
        formula=(
            "least lead of the pack over the tube's mouth, from {settle} after it is out until "
            "the cord is "
            f"straight or the canopy open, against 0 ({_MOTION}; drag of tumbling parts)"
        ),
        sources=("derived", "practice"),
        needs=(*MOTION_NEEDS, model.tumble_area),
        constants={
            "settle": Constant(SETTLE_S, "time", "guess"),
        },
        look="lines and cord: twists, burns of cloth on cloth, a wrap round the canopy",
    ),
    LimitState(
        "snatch_cord",
        "Cord breaks when it snaps taut",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_snatch_cord,
        formula=(
            "highest pull in the cord from parting until the booster hangs, F = k stretch + c "
            "rate, damping {damping} of critical, lengths of nylon and aramid in series, against "
            "the weakest length x what knots leave"
        ),
        sources=("derived", "memory"),
        needs=(
            *MOTION_NEEDS,
            recovery.cord_strength,
            recovery.knot,
        ),
        constants={
            "damping": Constant(DAMPING, "ratio", "guess"),
        },
        look="the whole cord by hand: cut, glazed or thinned places, knots",
    ),
    LimitState(
        "snatch_anchor",
        "Opening jerk pulls the cord's attachment out",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_snatch_anchor,
        formula=(
            "highest pull in the cord as it snaps taut, against the weaker of its two attachments"
        ),
        sources=("derived", "builder"),
        needs=(*MOTION_NEEDS, separation.fore_anchor, separation.aft_anchor),
        look="attachment of the cord at both ends: pulled, bent, turned",
    ),
    LimitState(
        "nose_jerked",
        "Cord jerks the nose off its tube",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_nose_jerked,
        formula=(
            "highest pull of the cord on the forward part x mass of the nose / mass of that "
            "part, against the joint that must stay"
        ),
        sources=("derived", "builder"),
        needs=(*MOTION_NEEDS, separation.fixed_joint),
        look="nose, its joint and its attachment",
    ),
    LimitState(
        "zipper",
        "Cord slits the tube's edge",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_zipper,
        formula=(
            "highest T (exp(-mu a) - cos a) until the booster hangs, T the pull of snatch, "
            "opening and the jerks after it, a the angle between cord and tube, which T and the "
            "air turn, mu = {friction}; against strength of the wall x wall x width of the cord; "
            "kraft {kraft} where the edge is kraft, {damp} of it when damp"
        ),
        sources=("derived", "tezuka1990", "correa2004"),
        needs=(
            *MOTION_NEEDS,
            separation.edge_strength,
            structure.tube_damp,
            separation.booster_turn,
            separation.axis,
            recovery.cord_give,
        ),
        constants={
            "kraft": Constant(
                KRAFT_STRENGTH_PA,
                "pressure",
                "tezuka1990",
                note="crush along the axis x 1.5; no published tests of such edges",
            ),
            "damp": Constant(DAMP_SHARE, "ratio", "correa2004", note="80 % of humidity"),
            "friction": Constant(EDGE_FRICTION, "ratio", "memory", note="nylon on card"),
        },
        look="edge of the tube at the separation: a slit or a crushed lip",
    ),
)
