"""Rows of touch-down: what meets the ground first, how much energy goes into it, does it hold.

The tail hangs from its forward end and meets the ground tilted; beyond a tilt that follows from the
geometry a fin touches first, else the tail's edge. The fore part comes down nose first. Left out:
stones, bouncing, dragging. The ground gives 30 mm (soft soil or stubble, our guess).
"""

import numpy as np

from goodflight.physics.motor import motor_case_item
from goodflight.physics.sources import Constant
from goodflight.physics.structure import (
    crush_force_n,
    crush_pa,
    edge_area_m2,
    fin_blow_nm,
    fin_touch_tilt_rad,
    mass_that_counts_kg,
    nose_area_m2,
    tilted_fin_lever_m,
    touch_force_n,
)
from goodflight.physics.structure.crush import CRUSH_PA, EDGE_SHARE, LAYERS, NOSE_SHARE, OF_BENDING
from goodflight.physics.structure.landing import BEDDING_N_M3, GROUND_GIVES_M, PEAK, bedded_force_n
from goodflight.physics.structure.unsure import DAMP_SHARE
from goodflight.physics.vehicle import body_length_m, half_gap_rad
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import Fins, Nose, Tube
from goodflight.physics.vehicle.sections import share_aft
from goodflight.studies.asking import asked, entry, material, to_add, together
from goodflight.studies.case.planned import fins_of, motor_aft_m, one_part, whole_of
from goodflight.studies.rows.applies import came_down_open
from goodflight.studies.rows.model import (
    Array,
    Evaluation,
    LimitState,
    Mask,
    Missing,
    View,
)
from goodflight.studies.rows.opening import NO_SEPARATION
from goodflight.studies.rows.structure import NO_FINS, bond_moment_nm, dry_share, root_moment_nm
from goodflight.studies.sampling import airframe, recovery, structure
from goodflight.studies.sampling.sections import fixed_ahead, held

NO_TUBE = asked("add the tube as a part", to_add("tube", "last tube", "length and diameters"))


def aft_share(view: View) -> Array | float:
    """Share of the mass that comes down with the tail, the spent motor in it; all when in one."""
    case = view.case
    at, aft = case.rocket.separation_station_m, motor_aft_m(case.rocket)
    if at is None:
        return 1.0
    items = (*case.items, *(() if aft is None else (motor_case_item(case.motor, aft),)))
    lumps, one = held(view.trials.drawn), whole_of(case.rocket)
    fixed = fixed_ahead(case, at)
    if lumps is None or one is None:
        return share_aft(items, at, fixed)
    whole = next(item for item in items if item.name == one.name)
    others = [item for item in items if item is not whole]
    part = whole.mass_kg / sum(item.mass_kg for item in items)
    ahead: Array = sum((lump.share for lump in lumps if lump.last_m <= at), np.zeros(view.count))
    share: Array = share_aft(others, at, fixed) * (1.0 - part) + (1.0 - ahead) * part
    return share


def _force_n(view: View, mass_kg: Array) -> Array:
    gives = view.of(structure.ground_gives)
    return touch_force_n(mass_kg, np.nan_to_num(view.outcome("descent_m_s")), gives)


def _tail(view: View) -> tuple[Mask, Array, float, float] | Missing:
    """Trials in which a fin touches first, its corner outward, tail station and radius."""
    fins, tube = fins_of(view.case.rocket), _tail_tube(view)
    if fins is None or tube is None:
        return together(NO_FINS if fins is None else None, None if tube else NO_TUBE) or NO_FINS
    tail, radius = body_length_m(view.case.rocket), tube.outer_diameter_m / 2.0
    tilt, outward = fin_touch_tilt_rad(
        fins.outline_m,
        fin_station_m=fins.station_m,
        body_radius_m=fins.body_radius_m,
        tail_m=tail,
        tail_radius_m=radius,
        roll_rad=_roll(view, fins),
    )
    return view.of(structure.touch_tilt) >= tilt, outward, tail, radius


def _roll(view: View, fins: Fins) -> Array:
    """Angle of the nearest fin from the way the tail tilts: even over half the gap, (n,)."""
    turned: Array = view.of(structure.touch_roll) * half_gap_rad(fins)
    return turned


def _tail_tube(view: View) -> Tube | None:
    tubes = list(view.case.rocket.of_kind(Tube))
    return max(tubes, key=lambda tube: tube.station_m) if tubes else None


def _fin_strike(view: View) -> Evaluation | Missing:
    found, fins = _tail(view), fins_of(view.case.rocket)
    if isinstance(found, Missing) or fins is None:
        return found if isinstance(found, Missing) else NO_FINS
    root, glued = root_moment_nm(view, fins), bond_moment_nm(view, fins)
    lacks = together(root, glued)
    if lacks is not None:
        return lacks
    assert not isinstance(root, Missing) and not isinstance(glued, Missing)
    first, outward, tail, radius = found
    bond, warnings = glued
    tilt = view.of(structure.touch_tilt)
    mass = view.parameter("dry_mass_kg") * aft_share(view)
    lever = tilted_fin_lever_m(tail, view.parameter("dry_cg_m"), radius, outward, tilt)
    gyration = view.parameter("dry_pitch_inertia_kg_m2") / view.parameter("dry_mass_kg")
    force = _force_n(view, mass_that_counts_kg(mass, gyration, lever))
    moment = fin_blow_nm(force, tilt, _roll(view, fins), outward)
    return Evaluation(
        moment, np.minimum(root, bond), first & came_down_open(view), warnings=warnings
    )


def _crush_pa(material: Material | None) -> float | None:
    return None if material is None else crush_pa(material.family, material.bending_strength_pa)


def _tail_strike(view: View) -> Evaluation | Missing:
    found, tube = _tail(view), _tail_tube(view)
    if isinstance(found, Missing) or tube is None:
        return found if isinstance(found, Missing) else NO_TUBE
    strength = _crush_pa(tube.material)
    if strength is None:
        return asked(
            "give the last tube's material with its bending strength",
            material(tube.name, f"material of {tube.name}", "bending_strength_pa"),
        )
    area = edge_area_m2(tube.outer_diameter_m, tube.wall_m)
    force = bedded_force_n(
        view.parameter("dry_mass_kg") * aft_share(view),
        np.nan_to_num(view.outcome("descent_m_s")),
        area,
        BEDDING_N_M3 * view.of(structure.bedding),
    )
    paper = tube.material is not None and tube.material.family == "kraft"
    as_it_is = structure.crush.key in view.case.uncertainty.read  # rings of the tube were crushed
    dry = dry_share(view) if paper and not as_it_is else 1.0
    stands = crush_force_n(strength, area, view.of(structure.crush) * dry)
    return Evaluation(force, stands, ~found[0] & came_down_open(view))


def _no_nose(nose: Nose | None, strength: float | None) -> Missing | None:
    """What of the nose is missing to know what it stands."""
    if nose is None:
        return asked("add the nose as a part", to_add("nose", "nose", "its length and diameter"))
    if strength is not None and nose.wall_m > 0.0:
        return None
    wall = entry(
        f"rocket.toml:part[{nose.name}].wall",
        "wall of the nose",
        how="measure it at its base",
        dimension="length",
        instrument="calliper",
        minutes=2.0,
    )
    made_of = material(nose.name, "material of the nose", "bending_strength_pa")
    asks = ([wall] if nose.wall_m <= 0.0 else []) + ([made_of] if strength is None else [])
    return asked("give the nose's wall and its material with the bending strength", *asks)


def _nose_strike(view: View) -> Evaluation | Missing:
    nose, at = one_part(view.case.rocket, Nose), view.case.rocket.separation_station_m
    strength = None if nose is None else _crush_pa(nose.material)
    lacks = together(_no_nose(nose, strength), NO_SEPARATION if at is None else None)
    if lacks is not None:
        return lacks
    assert nose is not None and strength is not None
    area = nose_area_m2(nose.diameter_m, nose.wall_m)
    mass = view.parameter("dry_mass_kg") * (1.0 - aft_share(view))
    stands = crush_force_n(strength, area, view.of(structure.crush))
    return Evaluation(_force_n(view, mass), stands, came_down_open(view))


_STOP = "{peak} x m v^2 / (2 s), s = {gives} of ground"
_GROUND = {
    "peak": Constant(PEAK, "ratio", "guess", note="peak force over mean"),
    "gives": Constant(GROUND_GIVES_M, "length", "guess", note="soft soil or stubble"),
}
ROWS = (
    LimitState(
        "fin_strike",
        "A fin touches first and breaks",
        phase="descent",
        unit="moment",
        more_is_worse=True,
        evaluate=_fin_strike,
        formula="flights tilted beyond atan((tail - corner) / (corner cos(roll) - tail radius)): "
        + _STOP
        + ", m the mass that counts beside the CG, x sin(tilt) sin(roll) x span; against "
        "the lesser of "
        "root and bond (fin breaks at its root, fin comes off its glue)",
        sources=("derived",),
        needs=(
            structure.load_share,
            structure.ply_shear,
            structure.touch_tilt,
            structure.touch_roll,
            structure.fin_grain,
            structure.ground_gives,
            recovery.canopy_drag,
            *airframe.SECTIONS,
            structure.fin_bending,
            structure.bond_work,
            structure.fillet_size,
            structure.kraft_ply,
        ),
        constants=_GROUND,
        look="the fin that touched first, its root and its fillets",
    ),
    LimitState(
        "tail_strike",
        "Tail edge is crushed at touch-down",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=_tail_strike,
        formula=(
            "flights that touch with the tail's edge: v sqrt(m k), k = {bedding} of ground x "
            "{edge} of the edge's section (a flat base spares the edge, left out), against that "
            "section x crushing strength ({kraft} for kraft, {damp} of it when damp, else "
            "{share} of the bending strength)"
        ),
        sources=("derived", "tezuka1990"),
        needs=(
            structure.touch_roll,
            structure.bedding,
            structure.crush,
            structure.tube_damp,
            recovery.canopy_drag,
            *airframe.SECTIONS,
            structure.touch_tilt,
        ),
        constants={
            "bedding": Constant(BEDDING_N_M3, "ratio", "derived", note="N/m3, turf of 100 g"),
            "edge": Constant(EDGE_SHARE, "ratio", "guess"),
            "kraft": Constant(CRUSH_PA["kraft"], "pressure", "tezuka1990"),
            "damp": Constant(
                DAMP_SHARE, "ratio", "correa2004", note="80 % of humidity, 0.68 to 0.77"
            ),
            "share": Constant(OF_BENDING, "ratio", "guess"),
        },
        look="tail edge of the tube and the retainer: crushed, not round",
    ),
    LimitState(
        "nose_strike",
        "Nose is crushed at touch-down",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=_nose_strike,
        formula=_STOP
        + ", m the part ahead of it, against pi d wall x crushing strength where the nose is "
        "{width} of its base wide; prints keep {layers} across their layers",
        sources=("derived",),
        needs=(
            structure.ground_gives,
            structure.crush,
            recovery.canopy_drag,
            *airframe.SECTIONS,
        ),
        constants={
            **_GROUND,
            "width": Constant(NOSE_SHARE, "ratio", "guess"),
            "layers": Constant(LAYERS, "ratio", "derived", note="0.57 to 0.68"),
        },
        look="nose tip and its joint: cracks, crushed cloth",
    ),
)
