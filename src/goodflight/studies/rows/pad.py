"""Rows of pad and rail: enough thrust, and leaving the rail faster than the wind can upset."""

import numpy as np

from goodflight.physics.aero.reading import scalar
from goodflight.physics.aero.upset import crossflow_slope, stable_incidence_rad, stall_start_rad
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle.fit import ahead_of_motor, motor_room_m
from goodflight.physics.vehicle.parts import MotorTube
from goodflight.project.fit_checks import mount_doubt
from goodflight.studies.asking import asked, entry
from goodflight.studies.case.planned import one_part
from goodflight.studies.rows.air import EXIT_MACH, cg_at_exit_m, slopes
from goodflight.studies.rows.model import (
    Array,
    Evaluation,
    LimitState,
    Missing,
    View,
    full,
)
from goodflight.studies.rows.structure import NO_MOTOR_TUBE
from goodflight.studies.sampling import air, airframe, model, motor, rail
from goodflight.studies.sampling.motor import file_key

THRUST_FLOOR = 3.0  # practice: 3 is the floor, 5 the aim; no source
THRUST_AIM = 5.0


def _thrust_to_weight(view: View) -> Evaluation | Missing:
    capacity = THRUST_FLOOR + view.of(model.thrust_floor)
    thrust = view.outcome("thrust_to_weight")
    below = "" if view.masks_only else _below_aim(float(np.median(thrust)))
    return Evaluation(thrust, capacity, warnings=(below,) if below else ())


def _below_aim(thrust: float) -> str:
    """What is said between floor and aim: the floor alone would read as enough."""
    if not THRUST_FLOOR <= thrust < THRUST_AIM:
        return ""
    return (
        f"below the {THRUST_AIM:g} that practice aims at (no source): a longer rail, less wind or "
        "a stronger motor; the speed off the rail is judged by a row of its own"
    )


def stable_angle_rad(view: View) -> Array:
    """Incidence at which the static margin at rail exit is used up, (n,) [rad]."""
    tables, found = view.case.tables, slopes(view, EXIT_MACH)
    diameter, margin = scalar(tables, "diameter_m"), view.outcome("margin_exit_cal")
    cg = cg_at_exit_m(view)
    cross = crossflow_slope(
        scalar(tables, "crossflow_eta"),
        scalar(tables, "planform_m2"),
        scalar(tables, "area_m2"),
        view.parameter("crossflow_factor"),
    )
    lever = (cg - scalar(tables, "planform_cp_m")) / diameter
    return stable_incidence_rad(found.total, margin, cross, lever)


def _rail_exit(view: View) -> Evaluation | Missing:
    stall = stall_start_rad(scalar(view.case.tables, "fin_stall_start_sin2")) + view.of(model.stall)
    capacity = np.minimum(stable_angle_rad(view), np.maximum(stall, 0.0))
    return Evaluation(view.outcome("rail_exit_incidence_rad"), capacity)


def _motor_room(view: View) -> Evaluation | Missing:
    rocket, tube = view.case.rocket, one_part(view.case.rocket, MotorTube)
    if tube is None:
        return NO_MOTOR_TUBE
    motor, aft = view.case.motor, tube.motor_aft_m
    room = motor_room_m(ahead_of_motor(rocket, motor.diameter_m, aft), aft)
    out = mount_doubt(rocket, motor)
    return Evaluation(
        full(view, motor.length_m), full(view, room), warnings=() if out is None else (out,)
    )


def _liftoff_mass(view: View) -> Evaluation | Missing:
    limit, motor = view.case.motor.max_liftoff_kg, view.case.motor.name
    if limit is None:
        return asked(
            f"look up on the maker's sheet how heavy a rocket {motor} may lift, and enter it",
            entry(
                file_key("max_liftoff_mass")(view.case),
                f"heaviest rocket for {motor}",
                how="read it on the maker's sheet",
                dimension="mass",
                instrument="maker's sheet",
                minutes=5.0,
            ),
        )
    return Evaluation(view.outcome("liftoff_mass_kg"), full(view, limit))


ROWS = (
    LimitState(
        "motor_room",
        "Motor reaches into what stands ahead of it",
        phase="pad",
        unit="length",
        more_is_worse=True,
        evaluate=_motor_room,
        formula=(
            "length of the motor, against the way from its aft end to the nearest bay, bulkhead, "
            "coupler, narrow ring or nose ahead of it"
        ),
        sources=("builder", "sheet"),
    ),
    LimitState(
        "liftoff_mass",
        "Heavier than the motor's maker allows",
        phase="pad",
        unit="mass",
        more_is_worse=True,
        evaluate=_liftoff_mass,
        formula="lift-off mass, against the maker's limit for this motor",
        sources=("sheet",),
        needs=(airframe.mass,),
        kind="rule",
    ),
    LimitState(
        "thrust_to_weight",
        "Too little thrust to leave straight",
        phase="pad",
        unit="ratio",
        more_is_worse=False,
        evaluate=_thrust_to_weight,
        formula="mean thrust of the first 0.5 s / lift-off weight, against {floor}",
        sources=("practice",),
        needs=(airframe.mass, motor.impulse, motor.burn_time, model.thrust_floor),
        constants={
            "floor": Constant(
                THRUST_FLOOR,
                "ratio",
                "practice",
                note=f"{THRUST_FLOOR:g} the floor, {THRUST_AIM:g} the aim",
            ),
        },
    ),
    LimitState(
        "rail_exit",
        "Too slow off the rail for the gusts",
        phase="pad",
        unit="angle",
        more_is_worse=True,
        evaluate=_rail_exit,
        formula=(
            "atan(wind across the axis / air speed) as the last guide leaves, gust included, "
            "against the lesser of the angle of attack that uses up the margin, CNa m0 / (K lc), "
            "and of fin stall"
        ),
        sources=("allen1951", "winter1936", "kernel"),
        needs=(
            air.wind,
            air.gustiness,
            motor.impulse,
            airframe.mass,
            model.cp,
            model.stall,
            rail.friction,
        ),
    ),
)
