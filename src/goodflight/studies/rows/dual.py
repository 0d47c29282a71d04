"""Rows of the second canopy: how fast the first one lets it fall, and how hard the main opens."""

from typing import Final

import numpy as np

from goodflight.physics.recovery.canopy import LINE_KNOT, lines_hold_n
from goodflight.physics.sources import Constant
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.deployment import weak_canopy
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View
from goodflight.studies.rows.second import ONE, of_main
from goodflight.studies.sampling import airframe, recovery

MAX_M_S: Final = 30.0


def _drogue(view: View) -> Evaluation | Missing:
    speed = view.outcome("main_opening_m_s")
    limit = np.maximum(MAX_M_S + view.of(recovery.main_speed), 5.0)
    return Evaluation(speed, limit, np.isfinite(speed))


def _main(view: View) -> Evaluation | Missing:
    main = view.case.deployment.main_canopy
    if main is None:
        return not_here(view, ONE)
    strength = main.strength_n
    if strength is None and main.line_strength_n is not None and main.line_count > 0:
        strength = lines_hold_n(main.line_strength_n, main.line_count)
    if strength is None:
        advice = "give the main canopy's lines and the breaking strength of one, or strength"
        return weak_canopy(main, advice)
    force = view.outcome("main_opening_force_n")
    return Evaluation(force, strength * view.of(recovery.main_strength), np.isfinite(force))


ROWS = (
    LimitState(
        "drogue_speed",
        "Falls faster than the rule of thumb under the first canopy",
        phase="descent",
        unit="speed",
        more_is_worse=True,
        evaluate=of_main(_drogue),
        formula="air speed as the main begins to open, against {most}",
        sources=("practice",),
        needs=(recovery.canopy_drag, airframe.mass, recovery.main_speed),
        constants={
            "most": Constant(MAX_M_S, "speed", "practice", note="[[15 to 17 m/s]] is aimed at"),
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "main_opening",
        "Main canopy or its lines break as it opens",
        phase="descent",
        unit="force",
        more_is_worse=True,
        evaluate=_main,
        formula=(
            "highest force of the filling main from the motion, against its strength, or lines x "
            "one's strength x {knots} for knots"
        ),
        sources=("knacke1991",),
        needs=(
            recovery.main_strength,
            recovery.main_drag,
            recovery.overshoot,
            recovery.fill_constant,
            airframe.mass,
        ),
        constants={
            "knots": Constant(
                LINE_KNOT, "ratio", "sheet", note="seen on the data sheet of a canopy"
            ),
        },
        look="second canopy: seams, line ends, swivel",
    ),
)
