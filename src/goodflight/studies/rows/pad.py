"""Rows of pad and rail: enough thrust, and leaving the rail faster than the wind can upset."""

import math

import numpy as np

from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_STEP
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View

THRUST_FLOOR = 3.0  # practice: 3 is the floor, 5 the aim; no source
CROSSFLOW_DRAG = 1.2  # of a circular cylinder below the critical crossflow, TR R-474 fig. 1


def _thrust_to_weight(view: View) -> Evaluation | Missing:
    capacity = THRUST_FLOOR + view.error("thrust_floor")
    return Evaluation(view.outcome("thrust_to_weight"), capacity)


def stable_incidence_rad(view: View) -> Array:
    """Incidence at which the static margin at rail exit is used up, (n,) [rad].

    Cross-flow lift grows with the square of the incidence and acts at the planform's centroid, so
    the CP moves forward: margin(a) = (CNa m0 + K a mc) / (CNa + K a), zero at - CNa m0 / (K mc),
    with K = eta Cdn Ap / A and m0, mc the margins of the small-angle CP and of the centroid.
    """
    scalars = view.case.tables.scalars
    table = view.case.tables.mach_table[round(0.06 / MACH_STEP)]

    def scalar(name: str) -> float:
        return float(scalars[AERO_SCALAR_INDEX[name]])

    slope = table[AERO_INDEX["body_slope"]] * view.parameter("body_slope_factor")
    slope = slope + table[AERO_INDEX["fin_slope"]] * view.parameter("fin_slope_factor")
    body_moment = table[AERO_INDEX["body_moment_m"]] * view.parameter("body_slope_factor")
    fin_moment = (
        table[AERO_INDEX["fin_slope"]]
        * view.parameter("fin_slope_factor")
        * table[AERO_INDEX["fin_cp_m"]]
    )
    diameter = scalar("diameter_m")
    cp = (body_moment + fin_moment) / slope + view.parameter("cp_shift_m")
    margin = view.outcome("margin_exit_cal")
    cg = cp - margin * diameter
    cross = (
        scalar("crossflow_eta") * CROSSFLOW_DRAG * scalar("planform_m2") / scalar("area_m2")
        * view.parameter("crossflow_factor")
    )  # fmt: skip
    lever = (cg - scalar("planform_cp_m")) / diameter  # centroid ahead of the CG by this
    with np.errstate(divide="ignore", invalid="ignore"):
        angle = np.where(cross * lever > 1e-9, slope * margin / (cross * lever), math.pi / 2.0)
    return np.clip(angle, 0.0, math.pi / 2.0)


def _rail_exit(view: View) -> Evaluation | Missing:
    scalars = view.case.tables.scalars
    start = float(scalars[AERO_SCALAR_INDEX["fin_stall_start_sin2"]])
    stall = math.asin(math.sqrt(min(max(start, 0.0), 1.0))) + view.error("stall")
    capacity = np.minimum(stable_incidence_rad(view), np.maximum(stall, 0.0))
    return Evaluation(view.outcome("rail_exit_incidence_rad"), capacity)


ROWS = (
    LimitState(
        "thrust_to_weight",
        "Too little thrust to leave straight",
        "pad",
        "ratio",
        False,
        _thrust_to_weight,
        "mean thrust of the first 0.5 s / lift-off weight, against 3 (spread 0.3)",
        "common practice, no source: 3 the floor, 5 the aim",
        ("mass:", "impulse", "burn_time", "thrust_floor"),
    ),
    LimitState(
        "rail_exit",
        "Too slow off the rail for the gusts",
        "pad",
        "angle",
        True,
        _rail_exit,
        "atan(wind across the axis / air speed) as the last guide leaves, gust included, against "
        "the lesser of the incidence that uses up the margin, CNa m0 / (K lc), and of fin stall",
        "Allen & Perkins NACA 1048 cross-flow; stall of low-aspect fins; kernel",
        ("wind", "gust_factor", "impulse", "mass:", "model:cp", "stall", "rail_friction"),
    ),
)
