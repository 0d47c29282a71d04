"""Forces and moments on the rocket in flight, and the equations of motion built on them.

Each component of the rocket feels the air speed across its own station, turning included, so that
pitch and yaw damping follow from the same slopes as the static moment. State: position east,
north, up (3), velocity (3), quaternion (4), body rates (3). `aux` carries what the monitor
wants to know of the last evaluation.
"""

import math
from typing import Any

import numpy as np

from goodflight.physics.flight.burn import mass_at, thrust_at
from goodflight.physics.flight.column import air_at
from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.registry import (
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    MACH_COUNT,
    MACH_STEP,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import body_axes, quaternion_rates, rotation_rates

# what an evaluation leaves behind
AUX = (
    "speed_m_s",  # through the air
    "mach",
    "pressure_pa",  # dynamic
    "sin2_incidence",
    "along_m_s",  # air speed along the axis, nose first positive
    "margin_cal",
    "margin_incidence_cal",
    "felt_m_s2",  # acceleration without gravity
    "mass_kg",
    "cg_m",
    "thrust_n",
    "lift_y_n",
    "lift_z_n",
)
AUX_COUNT = len(AUX)
SPEED, MACH, PRESSURE, SIN2, ALONG, MARGIN, MARGIN_INCIDENCE, FELT, MASS, CG, THRUST = range(11)
SIDE_Y, SIDE_Z = 11, 12

AXIAL_HIGH_M = 3000.0  # how far above the pad the second axial column holds
PLATE_DRAG = 1.2  # normal force of a stalled fin on its plate area, broadside (common practice)

# DATCOM fig. 4.2.1.2-35b, cross-flow drag coefficient of a cylinder against cross-flow Mach number
CROSSFLOW_STEP = 0.1
CROSSFLOW = np.array([1.2, 1.2, 1.2, 1.21, 1.27, 1.36, 1.5, 1.67, 1.77, 1.8, 1.79, 1.745])

_BODY, _BODY_MOMENT, _BODY_SECOND = (
    AERO_INDEX["body_slope"],
    AERO_INDEX["body_moment_m"],
    AERO_INDEX["body_second_m2"],
)
_FIN, _FIN_CP = AERO_INDEX["fin_slope"], AERO_INDEX["fin_cp_m"]
_LOW, _HIGH, _BURN = AERO_INDEX["axial_low"], AERO_INDEX["axial_high"], AERO_INDEX["axial_burn"]
_ROLL, _ROLL_DAMP, _SIDE = (
    AERO_INDEX["roll_force"],
    AERO_INDEX["roll_damp"],
    AERO_INDEX["fin_side"],
)
_AREA, _DIAMETER = AERO_SCALAR_INDEX["area_m2"], AERO_SCALAR_INDEX["diameter_m"]
_PLANFORM, _PLANFORM_CP = AERO_SCALAR_INDEX["planform_m2"], AERO_SCALAR_INDEX["planform_cp_m"]
_ETA = AERO_SCALAR_INDEX["crossflow_eta"]
_STALL_A = AERO_SCALAR_INDEX["fin_stall_start_sin2"]
_STALL_B = AERO_SCALAR_INDEX["fin_stall_end_sin2"]
_PLATE = AERO_SCALAR_INDEX["fin_plate_m2"]

_F_AXIAL = PARAMETER_INDEX["axial_factor"]
_F_BODY = PARAMETER_INDEX["body_slope_factor"]
_F_FIN = PARAMETER_INDEX["fin_slope_factor"]
_F_CROSS = PARAMETER_INDEX["crossflow_factor"]
_SHIFT = PARAMETER_INDEX["cp_shift_m"]
_CANT, _CANT_Y, _CANT_Z = (
    PARAMETER_INDEX["cant_roll_rad"],
    PARAMETER_INDEX["cant_y_rad"],
    PARAMETER_INDEX["cant_z_rad"],
)
_NOZZLE = PARAMETER_INDEX["nozzle_m"]
_TILT_Y, _TILT_Z = PARAMETER_INDEX["thrust_angle_y_rad"], PARAMETER_INDEX["thrust_angle_z_rad"]
_OFF_Y, _OFF_Z = PARAMETER_INDEX["thrust_offset_y_m"], PARAMETER_INDEX["thrust_offset_z_m"]
_GRAVITY = PARAMETER_INDEX["gravity_m_s2"]


@compiled
def crossflow_drag(mach: float) -> float:
    """Cross-flow drag coefficient of a long cylinder (DATCOM 4.2.1.2-35b, linear between rows)."""
    x = mach / CROSSFLOW_STEP
    last = len(CROSSFLOW) - 1
    i = int(x)
    if i >= last:
        return CROSSFLOW[last]
    return CROSSFLOW[i] + (CROSSFLOW[i + 1] - CROSSFLOW[i]) * (x - i)


@compiled
def smooth_step(x: float, low: float, high: float) -> float:
    """0 below low, 1 above high, cubic with level ends between."""
    t = min(max((x - low) / (high - low), 0.0), 1.0)
    return t * t * (3.0 - 2.0 * t)


@compiled
def between(table: Any, row: int, share: float, column: int) -> float:
    """Linear interpolation between two rows of the Mach table."""
    low: float = table[row, column]
    return low + share * (table[row + 1, column] - low)


@compiled
def aero_forces(
    p: Any,
    table: Any,
    scalars: Any,
    density: float,
    sound: float,
    height_m: float,
    u: float,
    v: float,
    w: float,
    roll: float,
    pitch: float,
    yaw: float,
    cg: float,
    burning: bool,
    aux: Any,
) -> tuple[float, float, float, float, float, float]:
    """Aerodynamic force and moment about the CG, in body axes, in N and N m.

    u, v, w : air-relative velocity of the CG in body axes. Writes speed, Mach number, pressure,
    incidence and both margins into aux.
    """
    cross2 = v * v + w * w
    speed2 = u * u + cross2 + 1e-12
    speed = math.sqrt(speed2)
    mach = speed / sound
    x = min(mach / MACH_STEP, MACH_COUNT - 1.001)
    i = int(x)
    f = x - i
    area, d = scalars[_AREA], scalars[_DIAMETER]
    half_rho = 0.5 * density
    along = half_rho * area * abs(u)
    shift = p[_SHIFT]

    # bodies: first three moments of the slope about the CG
    slope = (between(table, i, f, _BODY)) * p[_F_BODY]
    first = (between(table, i, f, _BODY_MOMENT)) * p[_F_BODY]
    second = (between(table, i, f, _BODY_SECOND)) * p[_F_BODY]
    arm = cg - shift
    lever = slope * arm - first
    lever2 = slope * arm * arm - 2.0 * first * arm + second
    fy = -along * (slope * v + lever * yaw)
    fz = -along * (slope * w - lever * pitch)
    mz = -along * (lever * v + lever2 * yaw)
    my = along * (lever * w - lever2 * pitch)

    # fins, stalling towards plates
    fin_slope = (between(table, i, f, _FIN)) * p[_F_FIN]
    fin_cp = between(table, i, f, _FIN_CP) + shift
    r = cg - fin_cp
    vf, wf = v + yaw * r, w - pitch * r
    cross_fin2 = vf * vf + wf * wf
    stall = smooth_step(
        cross_fin2 / (u * u + cross_fin2 + 1e-12), scalars[_STALL_A], scalars[_STALL_B]
    )
    k_fin = along * fin_slope * (1.0 - stall)
    if stall > 0.0:
        k_fin += half_rho * scalars[_PLATE] * PLATE_DRAG * math.sqrt(cross_fin2) * stall
    pressure = half_rho * speed2
    side = pressure * area * (between(table, i, f, _SIDE)) * p[_F_FIN]
    fin_y = side * p[_CANT_Y] - k_fin * vf
    fin_z = side * p[_CANT_Z] - k_fin * wf

    # cross-flow on the body
    rc = cg - scalars[_PLANFORM_CP]
    vc, wc = v + yaw * rc, w - pitch * rc
    cross_body = math.sqrt(vc * vc + wc * wc)
    k_cross = (
        half_rho
        * scalars[_ETA]
        * crossflow_drag(cross_body / sound)
        * scalars[_PLANFORM]
        * cross_body
        * p[_F_CROSS]
    )
    cross_y, cross_z = -k_cross * vc, -k_cross * wc

    # axial force and roll
    low = between(table, i, f, _LOW)
    high = between(table, i, f, _HIGH)
    axial = low + (high - low) * min(max(height_m / AXIAL_HIGH_M, 0.0), 2.0)
    if burning:
        axial -= between(table, i, f, _BURN)
    fx = -along * axial * p[_F_AXIAL] * u
    turn = between(table, i, f, _ROLL)
    damp = between(table, i, f, _ROLL_DAMP)
    mx = (
        area
        * d
        * p[_F_FIN]
        * (pressure * turn * p[_CANT] + half_rho * speed * damp * roll * d * 0.5)
    )

    linear = slope + fin_slope + 1e-12
    aux[SPEED], aux[MACH], aux[PRESSURE] = speed, mach, pressure
    aux[SIN2], aux[ALONG] = cross2 / speed2, u
    aux[MARGIN] = ((first + fin_slope * (fin_cp - shift)) / linear + shift - cg) / d
    weight = along * slope + k_fin + k_cross + 1e-12
    moment = along * (first + slope * shift) + k_fin * fin_cp + k_cross * scalars[_PLANFORM_CP]
    aux[MARGIN_INCIDENCE] = (moment / weight - cg) / d
    return (
        fx,
        fy + fin_y + cross_y,
        fz + fin_z + cross_z,
        mx,
        my - r * fin_z - rc * cross_z,
        mz + r * fin_y + rc * cross_y,
    )


@compiled
def body_loads(
    time_s: float,
    y: Any,
    aux: Any,
    p: Any,
    segment: int,
    curve: Any,
    table: Any,
    scalars: Any,
    column: Any,
    spacing: float,
) -> tuple[float, float, float, float, float, float, float, float, float]:
    """Force (body axes, gravity left out) N, moment N m, mass kg, pitch and roll inertia kg m2."""
    density, sound, east, north, up = air_at(column, spacing, y[2])
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(y[6], y[7], y[8], y[9])
    ve, vn, vu = y[3] - east, y[4] - north, y[5] - up
    thrust, gone, rate = thrust_at(curve, p, segment, time_s)
    mass, cg, pitch_inertia, roll_inertia, jet = mass_at(p, gone, rate)
    fx, fy, fz, mx, my, mz = aero_forces(
        p,
        table,
        scalars,
        density,
        sound,
        y[2],
        ve * x1 + vn * x2 + vu * x3,
        ve * y1 + vn * y2 + vu * y3,
        ve * z1 + vn * z2 + vu * z3,
        y[10],
        y[11],
        y[12],
        cg,
        0 <= segment < len(curve) - 1,
        aux,
    )
    ty, tz = thrust * p[_TILT_Y], thrust * p[_TILT_Z]
    arm = cg - p[_NOZZLE]
    mx += p[_OFF_Y] * tz - p[_OFF_Z] * ty
    my += p[_OFF_Z] * thrust - arm * tz - jet * y[11]
    mz += arm * ty - p[_OFF_Y] * thrust - jet * y[12]
    aux[MASS], aux[CG], aux[THRUST] = mass, cg, thrust
    aux[SIDE_Y], aux[SIDE_Z] = fy, fz
    return fx + thrust, fy + ty, fz + tz, mx, my, mz, mass, pitch_inertia, roll_inertia


@compiled
def free_rates(
    time_s: float,
    y: Any,
    dy: Any,
    row: int,
    aux: Any,
    p: Any,
    segment: int,
    curve: Any,
    table: Any,
    scalars: Any,
    column: Any,
    spacing: float,
) -> None:
    """Right-hand side of free flight: fills dy[row] (13) and aux."""
    fx, fy, fz, mx, my, mz, mass, pitch_inertia, roll_inertia = body_loads(
        time_s, y, aux, p, segment, curve, table, scalars, column, spacing
    )
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(y[6], y[7], y[8], y[9])
    inverse = 1.0 / mass
    dy[row, 0], dy[row, 1], dy[row, 2] = y[3], y[4], y[5]
    dy[row, 3] = (fx * x1 + fy * y1 + fz * z1) * inverse
    dy[row, 4] = (fx * x2 + fy * y2 + fz * z2) * inverse
    dy[row, 5] = (fx * x3 + fy * y3 + fz * z3) * inverse - p[_GRAVITY]
    dy[row, 6], dy[row, 7], dy[row, 8], dy[row, 9] = quaternion_rates(
        y[6], y[7], y[8], y[9], y[10], y[11], y[12]
    )
    dy[row, 10], dy[row, 11], dy[row, 12] = rotation_rates(
        mx, my, mz, y[10], y[11], y[12], roll_inertia, pitch_inertia, pitch_inertia
    )
    aux[FELT] = math.sqrt(fx * fx + fy * fy + fz * fz) * inverse
