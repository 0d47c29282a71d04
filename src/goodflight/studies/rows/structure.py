"""Rows of structure in flight: fin root, fin bond, thrust rings, anchor.

Strengths are those of the weakest layer (plies of paper, wood between the plies), times what
the glue has cured; loads come from each flight's flight. Left out: heat, fatigue, earlier damage.
"""

import numpy as np

from goodflight.physics.aero.reading import one_fin_slope, scalar
from goodflight.physics.sources import Constant
from goodflight.physics.structure import (
    FILLET_SHARE,
    KRAFT_PLY_PA,
    PLY_ROLLING_SHEAR_PA,
    anchor_holds_n,
    equivalent_trapezoid,
    fin_bond_moment_nm,
    fin_bond_stands_nm,
    fin_root_moment_nm,
    fin_root_stands_nm,
    fin_side_load_n,
    glued_width_m,
    gust_incidence_rad,
    rings_hold_n,
    thrust_on_glue_n,
)
from goodflight.physics.structure.bonds import FOREMOST, PANEL_SHEAR_PA, SUDDEN, WASHER_M
from goodflight.physics.structure.cure import wood_strength_share
from goodflight.physics.structure.fin_load import GUST_SIGMAS, UNEVEN
from goodflight.physics.structure.unsure import DAMP_SHARE, share_left
from goodflight.physics.vehicle import panel
from goodflight.physics.vehicle.parts import Bulkhead, Fins, MotorTube, Ring, Rocket
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import asked, material, to_add, together
from goodflight.studies.case.planned import fins_of, one_part
from goodflight.studies.rows.air import slopes
from goodflight.studies.rows.deployment import opening_force_n
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.rows.workshop_asks import no_joints, of_joint
from goodflight.studies.sampling import air, airframe, motor, recovery, structure, workshop

NO_MOTOR_TUBE = asked("add the motor tube", to_add("motor_tube", "motor tube", "its two diameters"))
NO_FINS = asked("add the fins as a part", to_add("fins", "fins", "outline and thickness"))


def worst_cant_rad(view: View, fins: Fins, meant_rad: float = 0.0) -> Array:
    """Size of the angle of the fin that stands furthest from what is meant, (n,) [rad]."""
    cants = [view.of(airframe.cant, str(number + 1)) - meant_rad for number in range(fins.count)]
    return np.asarray(np.abs(np.stack(cants)).max(axis=0))


def cured(view: View, *parts: str) -> Array | Missing:
    """Least share of its strength that a glue joint of these parts has, 0 to 1, (n,).

    A part in no joint of build.toml, or a joint whose cure is not told, is missing: unknown glue
    holds nothing yet.
    """
    share, lacks = np.ones(view.count), []
    for part in parts:
        joints = [
            each
            for each in zip(view.case.workshop.joints, view.trials.glue)
            if part in each[0].parts
        ]
        lacks += [of_joint(joint, cure=True, work=False) for joint, _ in joints]
        lacks += [] if joints else [no_joints(view.case, part)]
        for _, state in joints:
            if state.cured is not None:
                share = np.minimum(share, wood_strength_share(state.cured))
    return together(*lacks) or share


def dry_share(view: View) -> Array | float:
    """Share of its strength that moisture leaves a paper tube, by where it was kept."""
    kept = view.case.workshop.tube_kept
    if kept is None:
        return share_left(DAMP_SHARE, view.of(structure.tube_damp))
    return DAMP_SHARE if kept == "damp shed" else 1.0


def fin_moment_nm(view: View, fins: Fins) -> Array:
    """Bending moment at a fin's root in a gust at the greatest dynamic pressure, (n,) [N m]."""
    tables, area = view.case.tables, panel(fins.outline_m).area_m2
    slope = slopes(view, view.outcome("max_mach")).fin
    one = one_fin_slope(slope, fins.count, scalar(tables, "area_m2"), area)
    gust = view.parameter("gust_sigma_m_s") * view.of(structure.fin_gust)
    incidence = gust_incidence_rad(gust, view.outcome("max_speed_m_s"), worst_cant_rad(view, fins))
    load = fin_side_load_n(view.outcome("max_pressure_pa"), area, one, incidence)
    return fin_root_moment_nm(load, panel(fins.outline_m).w_m)


def root_moment_nm(view: View, fins: Fins) -> Array | Missing:
    """Moment a fin's root stands in bending, (n,) [N m]."""
    if fins.material is None or fins.material.bending_strength_pa is None:
        return asked(
            "name a fin material from the library, or give its bending strength",
            material(fins.name, "material of the fins", "bending_strength_pa"),
        )
    chord = equivalent_trapezoid(fins.outline_m).root_chord_m
    told = structure.grain_share(view.case)
    drawn = share_left(fins.material.across_share, view.of(structure.fin_grain))
    grain = drawn if told is None else told
    strength = fins.material.bending_strength_pa * view.of(structure.fin_bending) * grain
    return fin_root_stands_nm(strength, chord, fins.thickness_m, view.of(structure.load_share))


def bond_moment_nm(view: View, fins: Fins) -> tuple[Array, tuple[Words, ...]] | Missing:
    """Moment a fin's glue joints stand, (n,) [N m], and what was taken for it."""
    chord, share = equivalent_trapezoid(fins.outline_m).root_chord_m, cured(view, fins.name)
    if isinstance(share, Missing):
        return share
    warnings: tuple[Words, ...] = ()
    radius = fins.fillet_radius_m
    if radius <= 0.0:
        radius = FILLET_SHARE * chord
        words = "fillet radius not given: {radius} taken, 6 % of the root chord"
        warnings = (said(words, radius=(radius, "length")),)
    moment = fin_bond_moment_nm(
        chord,
        thickness_m=fins.thickness_m,
        fillet_radius_m=radius * view.of(structure.fillet_size),
        tab_length_m=fins.tab_length_m,
        tab_depth_m=fins.tab_depth_m,
        ply_shear_pa=PLY_ROLLING_SHEAR_PA * view.of(structure.ply_shear),
        skin_pa=KRAFT_PLY_PA * view.of(structure.kraft_ply),
    )
    return fin_bond_stands_nm(
        moment, view.of(structure.bond_work), share, view.of(structure.load_share)
    ), warnings


def _fin_root(view: View) -> Evaluation | Missing:
    fins = fins_of(view.case.rocket)
    if fins is None:
        return NO_FINS
    stands = root_moment_nm(view, fins)
    return stands if isinstance(stands, Missing) else Evaluation(fin_moment_nm(view, fins), stands)


def _fin_bond(view: View) -> Evaluation | Missing:
    fins = fins_of(view.case.rocket)
    if fins is None:
        return NO_FINS
    found = bond_moment_nm(view, fins)
    if isinstance(found, Missing):
        return found
    stands, warnings = found
    return Evaluation(fin_moment_nm(view, fins), stands, warnings=warnings)


def mount_rings(rocket: Rocket) -> tuple[Ring, ...]:
    """Rings on the motor tube, front to back."""
    tube = one_part(rocket, MotorTube)
    rings = [
        p
        for p in rocket.of_kind(Ring)
        if tube is not None and abs(p.inner_diameter_m - tube.outer_diameter_m) < 0.005
    ]
    return tuple(sorted(rings, key=lambda ring: ring.station_m))


def _glue_pa(view: View) -> Array:
    """Pull that parts the plies under a glue line, workmanship included, (n,) [Pa]."""
    plies = KRAFT_PLY_PA * view.of(structure.kraft_ply)
    return plies * view.of(structure.bond_work)


def _width_m(view: View, ring: Ring | Bulkhead) -> Array:
    return glued_width_m(ring.thickness_m, view.of(structure.fillet_size))


def _thrust_ring(view: View) -> Evaluation | Missing:
    rings = mount_rings(view.case.rocket)
    if not rings:
        return asked(
            "add the rings that hold the motor tube as parts, with their diameters",
            to_add("ring", "ring that holds the motor tube", "each: station, two diameters"),
        )
    motor, first = view.case.motor, rings[0]
    share = cured(view, *(ring.name for ring in rings))
    if isinstance(share, Missing):
        return share
    peak = max(motor.thrusts_n) * view.parameter("thrust_factor")
    force = thrust_on_glue_n(peak, motor.loaded_kg, view.outcome("liftoff_mass_kg"))
    holds = rings_hold_n(
        _glue_pa(view) * share,
        first.inner_diameter_m,
        _width_m(view, first),
        len(rings),
        view.of(structure.load_share),
    )
    return Evaluation(force, holds)


def _anchor_plate(view: View) -> Ring | Bulkhead | None:
    rings = mount_rings(view.case.rocket)
    return rings[0] if rings else one_part(view.case.rocket, Bulkhead)


def _anchor(view: View) -> Evaluation | Missing:
    plate = _anchor_plate(view)
    if plate is None:
        return asked(
            "add the ring or bulkhead that carries the cord's anchor as a part",
            to_add("bulkhead", "ring or bulkhead of the cord's anchor", "station and thickness"),
        )
    share = cured(view, plate.name)
    if isinstance(share, Missing):
        return share
    outer, inner = plate.diameters_m
    holds = anchor_holds_n(
        _glue_pa(view) * share,
        outer_m=outer,
        inner_m=inner,
        width_m=_width_m(view, plate),
        thickness_m=plate.thickness_m,
        panel_factor=view.of(structure.ply_shear),
    )
    force = opening_force_n(view)
    return Evaluation(force, holds, np.isfinite(force))


_FIN_LOAD = (
    "q S CNa ({sigmas} gust sigmas / v + cant) x arm at the highest dynamic pressure, against "
)
_SIGMAS = {"sigmas": Constant(GUST_SIGMAS, "count", "guess")}
_UNEVEN = {"uneven": Constant(UNEVEN, "ratio", "guess", note="1 to 1.5")}
_PLIES = {
    "plies": Constant(KRAFT_PLY_PA, "pressure", "memory", note="paper tube, [[0.3 to 0.6 MPa]]")
}
_LAYERS = {
    "rolling": Constant(PLY_ROLLING_SHEAR_PA, "pressure", "memory", note="plywood, [[2 to 3 MPa]]"),
    **_PLIES,
}
ROWS = (
    LimitState(
        "fin_root",
        "Fin breaks at its root",
        phase="boost",
        unit="moment",
        more_is_worse=True,
        evaluate=_fin_root,
        formula=_FIN_LOAD
        + "strength x what the face grain leaves x c t^2 / 6 / {uneven} (a swept root "
        "carries more aft)",
        sources=("derived", "builder"),
        needs=(
            structure.fin_bending,
            structure.fin_grain,
            structure.load_share,
            structure.fin_gust,
            air.wind,
            airframe.cant,
            motor.impulse,
        ),
        constants={**_SIGMAS, **_UNEVEN},
        look="fins at the root: bend each by hand and listen",
    ),
    LimitState(
        "fin_bond",
        "Fin comes off its glue",
        phase="boost",
        unit="moment",
        more_is_worse=True,
        evaluate=_fin_bond,
        formula=_FIN_LOAD
        + "(fillets c r min(tau t, sigma (t + r)) + tab d l r tau) x workmanship, where "
        "the glue is solid, / {uneven}, tau the rolling shear of ply, {rolling}, or the plies of "
        "the tube, {plies}",
        sources=("derived",),
        needs=(
            airframe.cant,
            structure.ply_shear,
            structure.kraft_ply,
            structure.bond_work,
            structure.fillet_size,
            structure.load_share,
            structure.fin_gust,
            air.wind,
            workshop.warmth,
            workshop.cure_speed,
        ),
        constants={**_SIGMAS, **_UNEVEN, **_LAYERS},
        look="fillets and tabs of the fins: hairlines, a dull sound",
    ),
    LimitState(
        "thrust_ring",
        "Thrust breaks the centring rings' glue joint",
        phase="boost",
        unit="force",
        more_is_worse=True,
        evaluate=_thrust_ring,
        formula=(
            "peak thrust x (1 - motor / lift-off mass) x {sudden} for its sudden rise, against "
            "the pull the rings' glue lines stand: count x pi d x (t + 2 fillets) x {plies} / "
            "{foremost} (the foremost ring carries most)"
        ),
        sources=("derived",),
        needs=(
            structure.kraft_ply,
            structure.bond_work,
            structure.fillet_size,
            structure.load_share,
            motor.impulse,
            workshop.warmth,
        ),
        constants={
            **_PLIES,
            "sudden": Constant(SUDDEN, "ratio", "guess", note="1 to 2"),
            "foremost": Constant(FOREMOST, "ratio", "guess", note="1 to 2"),
        },
        look="glue of the centring rings on motor tube and airframe",
    ),
    LimitState(
        "anchor",
        "Cord attachment tears out of its bulkhead",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_anchor,
        formula=(
            "opening force on the cord, against the lesser of its plate's glue line and "
            "punching two {washer} washers through the sheet, {panel}"
        ),
        sources=("derived", "wood-handbook2010"),
        needs=(
            structure.kraft_ply,
            structure.bond_work,
            structure.ply_shear,
            structure.fillet_size,
            motor.delay,
            recovery.overshoot,
            workshop.warmth,
        ),
        constants={
            "washer": Constant(WASHER_M, "length", "guess"),
            "panel": Constant(PANEL_SHEAR_PA, "pressure", "wood-handbook2010", note="paper birch"),
        },
        look="the cord's attachments: ring, nut, bulkhead and its glue",
    ),
)
