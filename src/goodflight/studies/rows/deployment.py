"""Rows of deployment: too early, too late, never, and what the opening does to cord and canopy."""

import numpy as np

from goodflight.physics.flight import registry
from goodflight.physics.recovery import Filling
from goodflight.physics.recovery import opening_force_n as closed_form_force_n
from goodflight.physics.recovery.canopy import LINE_KNOT, lines_hold_n
from goodflight.physics.recovery.opening import (
    DEPLOY_SPEED_M_S,
    MIN_SPEED_M_S,
    RESERVE_M,
    deploy_speed_stood_m_s,
    height_needed_m,
)
from goodflight.physics.recovery.vents import holes_area_m2
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.asking import asked, entry, to_add, words
from goodflight.studies.case.planned import canopy_of, cord_of, electronics_bay
from goodflight.studies.rows.air import density
from goodflight.studies.rows.model import (
    Array,
    Evaluation,
    LimitState,
    Mask,
    Missing,
    View,
)
from goodflight.studies.sampling import air, airframe, motor, recovery


def _ejected(view: View) -> Mask:
    return np.isfinite(view.outcome("ejection_m_s"))


def _too_early(view: View) -> Evaluation | Missing:
    return _off_apogee(view, climbing=True)


def _too_late(view: View) -> Evaluation | Missing:
    return _off_apogee(view, climbing=False)


def _off_apogee(view: View, climbing: bool) -> Evaluation:
    """Air speed at ejection on one side of the apogee; the other side counts as at rest."""
    speed = view.outcome("ejection_m_s")
    climb = view.outcome("ejection_climb_m_s")
    side = climb > 0.0 if climbing else climb <= 0.0
    capacity = deploy_speed_stood_m_s(view.of(recovery.deploy_speed))
    signed = np.where(side, speed, -speed)
    return Evaluation(np.where(side, speed, 0.0), capacity, _ejected(view), capacity - signed)


def _sealed(view: View) -> bool:
    """Whether the barometer that decides sits in a bay without a hole."""
    bay = electronics_bay(view.case.rocket)
    return bay is not None and holes_area_m2(bay.vent_count, bay.vent_diameter_m) <= 0.0


def _nothing_opens(view: View) -> Evaluation | Missing:
    if canopy_of(view.case) is None and view.case.deployment.main_canopy is None:
        return asked(
            "name the canopy of this plan; without one the descent cannot be computed",
            to_add("canopy", "canopy", "how wide it is, and how that was measured"),
        )
    if view.case.deployment.by == registry.BY_DELAY and view.case.motor.delay_s is None:
        nothing = np.zeros(view.count)
        return Evaluation(
            nothing,
            nothing + 1.0,
            warnings=("this motor has no delay charge: nothing fires; deploy by altimeter",),
        )
    if view.case.deployment.by == registry.BY_ALTIMETER and _sealed(view):
        nothing = np.zeros(view.count)
        told = "the electronics bay has no vents: its barometer sees no apogee"
        return Evaluation(nothing, nothing + 1.0, warnings=(told,))
    ejected = _ejected(view)
    height = np.where(ejected, view.outcome("ejection_m"), 0.0)
    speed = np.where(ejected, np.nan_to_num(view.outcome("opening_m_s")), 0.0)
    needed = height_needed_m(
        speed,
        view.parameter("stretch_s"),
        view.parameter("canopy_fill"),
        view.parameter("canopy_diameter_m"),
    )
    return Evaluation(height, needed)


def opening_force_n(view: View) -> Array:
    """Greatest force of the opening canopy, (n,) [N]: closed form or motion, whichever is more."""
    closed = closed_form_force_n(
        view.parameter("dry_mass_kg"),
        view.parameter("canopy_area_m2"),
        nominal_diameter_m=view.parameter("canopy_diameter_m"),
        filling=Filling(
            fill_constant=view.parameter("canopy_fill"),
            growth=view.parameter("canopy_growth"),
            opening_factor=view.parameter("canopy_overshoot"),
        ),
        speed_m_s=np.maximum(view.outcome("opening_m_s"), MIN_SPEED_M_S),
        density_kg_m3=density(view, view.outcome("opening_m")),
    )
    force: Array = np.fmax(closed, view.outcome("opening_force_n"))
    return force


def _opening_cord(view: View) -> Evaluation | Missing:
    cord = cord_of(view.case)
    if cord is None:
        return asked(
            "add the cord between nose and body as a part, with its breaking strength",
            to_add("cord", "recovery cord", "its length and strength"),
        )
    strength = view.of(recovery.cord_strength) * view.of(recovery.knot) * cord.joint_efficiency
    force = opening_force_n(view)
    return Evaluation(force, strength, np.isfinite(force))


def canopy_strength_n(view: View) -> Array:
    """Strength of the canopy, as stated or of its lines together, (n,) [N]."""
    canopy = canopy_of(view.case)
    if canopy is None or canopy.line_strength_n is None or canopy.line_count <= 0:
        return view.of(recovery.canopy_strength)
    given = view.given(recovery.canopy_strength)
    if given is not None:
        return given
    scatter = view.of(recovery.line_knot) * view.of(recovery.line_share)
    return lines_hold_n(canopy.line_strength_n, canopy.line_count) * scatter


def weak_canopy(canopy: Canopy, advice: str) -> Missing:
    """What is missing to know the strength of a canopy: its lines, or itself."""
    at = f"rocket.toml:part[{canopy.name}]"
    pull = "pull a seam of a sample, or take the maker's figure"
    return asked(
        advice,
        words(f"{at}.lines", "lines, number x length", "count them and measure one: 6 x 1.1 m"),
        entry(
            f"{at}.line_strength",
            "strength of a line",
            how="from the reel",
            dimension="force",
            instrument="reel",
            minutes=5.0,
        ),
        entry(
            f"{at}.strength",
            "or of the whole canopy",
            how=pull,
            dimension="force",
            instrument="weights",
            minutes=30.0,
        ),
    )


def _opening_canopy(view: View) -> Evaluation | Missing:
    canopy = canopy_of(view.case)
    lines = canopy is not None and canopy.line_strength_n is not None and canopy.line_count > 0
    if canopy is not None and not lines and view.given(recovery.canopy_strength) is None:
        return weak_canopy(canopy, recovery.canopy_strength.missing(view.case).advice)
    strength = canopy_strength_n(view)
    force = opening_force_n(view)
    return Evaluation(force, strength, np.isfinite(force))


_OPENING = (
    "greater of 1/2 rho v^2 CdS Cx X1 (finite-mass factor X1) and the force found from the motion"
)
ROWS = (
    LimitState(
        "too_early",
        "Ejected faster than the rule of thumb, still climbing",
        phase="deployment",
        unit="speed",
        more_is_worse=True,
        evaluate=_too_early,
        formula=(
            "air speed at ejection when the rocket still climbs, against what the gear stands, "
            "{speed}"
        ),
        sources=("practice", "kernel"),
        needs=(
            motor.delay,
            motor.trim_depth,
            *airframe.DRAG,
            airframe.mass,
            air.wind,
            recovery.deploy_speed,
        ),
        constants={
            "speed": Constant(
                DEPLOY_SPEED_M_S,
                "speed",
                "practice",
                note="safe to [[20 m/s]], alarm from [[25 to 30 m/s]]",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "too_late",
        "Ejected faster than the rule of thumb, falling",
        phase="deployment",
        unit="speed",
        more_is_worse=True,
        evaluate=_too_late,
        formula=(
            "air speed at ejection when the rocket already falls, against what the gear stands, "
            "{speed}"
        ),
        sources=("practice", "kernel"),
        needs=(
            motor.delay,
            motor.trim_depth,
            *airframe.DRAG,
            airframe.mass,
            air.wind,
            recovery.deploy_speed,
        ),
        constants={
            "speed": Constant(
                DEPLOY_SPEED_M_S,
                "speed",
                "practice",
                note="safe to [[20 m/s]], alarm from [[25 to 30 m/s]]",
            ),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "nothing_opens",
        "No parachute opens before the ground",
        phase="deployment",
        unit="length",
        more_is_worse=False,
        evaluate=_nothing_opens,
        formula=(
            "height at ejection, against {reserve} + speed x time to line stretch + fill "
            "distance n D"
        ),
        sources=("knacke1991", "practice"),
        needs=(motor.delay, motor.trim_depth, recovery.stretch, recovery.fill_constant),
        constants={
            "reserve": Constant(RESERVE_M, "length", "practice", note="packing that opens late"),
        },
    ),
    LimitState(
        "opening_cord",
        "Cord breaks as the canopy opens",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_opening_cord,
        formula=f"{_OPENING}, against the cord's strength x what knots leave",
        sources=("knacke1991",),
        needs=(
            recovery.cord_strength,
            recovery.knot,
            motor.delay,
            recovery.canopy_drag,
            recovery.overshoot,
            recovery.fill_constant,
        ),
        look="the cord near the canopy: seams, glazed places",
    ),
    LimitState(
        "opening_canopy",
        "Canopy or its lines break as it opens",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_opening_canopy,
        formula=(
            f"{_OPENING}, against the canopy's strength, or lines x one's strength x {{knots}} "
            f"for knots"
        ),
        sources=("knacke1991",),
        needs=(
            recovery.canopy_strength,
            recovery.line_knot,
            recovery.line_share,
            motor.delay,
            recovery.canopy_drag,
            recovery.overshoot,
        ),
        constants={
            "knots": Constant(
                LINE_KNOT, "ratio", "sheet", note="seen on the data sheet of a canopy"
            ),
        },
        look="canopy seams, line ends, swivel: torn stitches, stretched lines",
    ),
)
