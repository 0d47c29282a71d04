"""Rows of descent and landing: how hard, and where."""

import numpy as np

from goodflight.physics.polygon import signed_distance_m
from goodflight.physics.sources import Constant
from goodflight.physics.structure import landing_speed_stood_m_s
from goodflight.physics.structure.landing import PRACTICE_SPEED_M_S, STUDENT_LIMIT_J
from goodflight.studies.asking import asked, choice, field_outline, outline
from goodflight.studies.rows.applies import came_down_open, not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Mask, Missing, View, full
from goodflight.studies.sampling import air, airframe, motor, rail, recovery


def _landing_speed(view: View) -> Evaluation | Missing:
    stands = landing_speed_stood_m_s(
        view.parameter("dry_mass_kg"), view.of(airframe.landing_stands)
    )
    return Evaluation(view.outcome("descent_m_s"), stands, came_down_open(view))


def _landed(view: View) -> Mask:
    return np.isfinite(view.outcome("landing_east_m"))


def _off_field(view: View) -> Evaluation | Missing:
    outline = view.case.site.outline_m
    if len(outline) < 3:
        advice = "draw the field's outline: walk or click its corners into the site's outline"
        return asked(advice, field_outline(view.case))
    east, north = view.outcome("landing_east_m"), view.outcome("landing_north_m")
    outside = signed_distance_m(east, north, outline)
    return Evaluation(outside, full(view, 0.0), _landed(view))


def _keep_out(view: View) -> Evaluation | Missing:
    rings = view.case.site.keep_outs_m
    if not rings and view.case.field_says.nothing_to_avoid:
        return not_here(view, "the field's file says that there is nothing to avoid")
    if not rings:
        return asked(
            "draw what must not be hit (crop, ditch, road, buildings) as keep-outs of the site; "
            "if there is none, say so",
            outline(view.case, "keep_out", "what must not be hit", "its corners, each in metres"),
            choice(
                f"{view.case.origin.site_path}:nothing_to_avoid",
                "nothing to avoid",
                "look at a map and walk round the field",
                [("true", "nothing of the kind")],
            ),
        )
    east, north = view.outcome("landing_east_m"), view.outcome("landing_north_m")
    gap = np.min([signed_distance_m(east, north, ring) for _, ring in rings], axis=0)
    return Evaluation(gap, full(view, 0.0), _landed(view))


ROWS = (
    LimitState(
        "landing_speed",
        "Lands too hard",
        phase="descent",
        unit="speed",
        more_is_worse=True,
        evaluate=_landing_speed,
        formula=(
            "speed down through the air at the ground, against what the airframe survives: 2 in "
            "100 damaged at {practice}, 98 in 100 at {energy}"
        ),
        sources=("practice", "nasa-sl2018"),
        needs=(
            recovery.canopy_drag,
            recovery.main_drag,
            airframe.mass,
            airframe.landing_stands,
            air.temperature,
        ),
        constants={
            "practice": Constant(
                PRACTICE_SPEED_M_S,
                "speed",
                "practice",
                note="upper speed for paper and wood airframes",
            ),
            "energy": Constant(STUDENT_LIMIT_J, "energy", "nasa-sl2018", note="75 ft lbf"),
        },
        look="the whole airframe: cracks, dents, a coupler that binds",
    ),
    LimitState(
        "off_field",
        "Lands outside the field",
        phase="descent",
        unit="length",
        more_is_worse=True,
        evaluate=_off_field,
        formula="distance of the landing point outside the field's outline, against 0",
        sources=("builder", "hellmann", "kernel"),
        needs=(
            air.wind,
            air.wind_from,
            air.wind_exponent,
            recovery.canopy_drag,
            motor.impulse,
            rail.lean_along,
        ),
    ),
    LimitState(
        "keep_out",
        "Lands in a keep-out area",
        phase="descent",
        unit="length",
        more_is_worse=False,
        evaluate=_keep_out,
        formula="distance of the landing point from the nearest keep-out, against 0",
        sources=("builder", "hellmann", "kernel"),
        needs=(
            air.wind,
            air.wind_from,
            air.wind_exponent,
            recovery.canopy_drag,
            motor.impulse,
            rail.lean_along,
        ),
    ),
)
