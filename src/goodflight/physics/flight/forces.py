"""Forces and moments on the rocket in flight, and the equations of motion built on them.

Each component of the rocket feels the air speed across its own station, turning included, so that
pitch and yaw damping follow from the same slopes as the static moment. State: position east,
north, up (3), velocity (3), quaternion (4), body rates (3). An evaluation that is asked for notes
leaves behind in the record what the monitor wants to know.
"""

import math
from typing import Any

import numpy as np

from goodflight.physics.flight.burn import mass_at, thrust_at
from goodflight.physics.flight.column import air_at
from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.record import AUX, LAST_SEGMENT, SCALARS, TABLE, WIDE, K
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    MACH_COUNT,
    MACH_STEP,
    PARAMETER_INDEX,
)
from goodflight.physics.flight.rigid import body_axes, quaternion_rates, rotation_rates

# what an evaluation leaves behind
NOTED = (
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
    "pitch_rate2_rad2_s2",  # square of the roll rate that would meet the pitch frequency
)
NOTED_COUNT = len(NOTED)
(
    SPEED,
    MACH,
    PRESSURE,
    SIN2,
    ALONG,
    MARGIN,
    MARGIN_INCIDENCE,
    FELT,
    MASS,
    CG,
    THRUST,
    SIDE_Y,
    SIDE_Z,
    PITCH_RATE2,
) = range(AUX, AUX + NOTED_COUNT)

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
_AREA = SCALARS + AERO_SCALAR_INDEX["area_m2"]
_DIAMETER = SCALARS + AERO_SCALAR_INDEX["diameter_m"]
_PLANFORM = SCALARS + AERO_SCALAR_INDEX["planform_m2"]
_PLANFORM_CP = SCALARS + AERO_SCALAR_INDEX["planform_cp_m"]
_ETA = SCALARS + AERO_SCALAR_INDEX["crossflow_eta"]
_STALL_A = SCALARS + AERO_SCALAR_INDEX["fin_stall_start_sin2"]
_STALL_B = SCALARS + AERO_SCALAR_INDEX["fin_stall_end_sin2"]
_PLATE = SCALARS + AERO_SCALAR_INDEX["fin_plate_m2"]
_COLUMNS = len(AERO_COLUMNS)

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


@compiled_inside
def between(w: Any, row: int, share: float, column: int) -> float:
    """Linear interpolation between two rows of the Mach table."""
    at = TABLE + _COLUMNS * row + column
    low: float = w[at]
    return low + share * (w[at + _COLUMNS] - low)


@compiled
def pitch_rate2(stiffness: float, pitch_inertia: float, roll_inertia: float) -> float:
    """Square of the roll rate that meets the pitch frequency, q A CNa (Xcp - Xcg) / (Iy - Ix).

    A slender body that spins at p answers as if its stiffness were less by p^2 (Iy - Ix); derived.
    """
    return stiffness / max(pitch_inertia - roll_inertia, 1e-9)


@compiled_inside
def aero_forces(
    w: Any,
    density: float,
    sound: float,
    height_m: float,
    u: float,
    v: float,
    across: float,
    roll: float,
    pitch: float,
    yaw: float,
    cg: float,
    burning: bool,
    notes: bool,
) -> tuple[float, float, float, float, float, float]:
    """Aerodynamic force and moment about the CG, in body axes, in N and N m.

    u, v, across : air-relative velocity of the CG in body axes. Notes speed, Mach number, pressure,
    incidence and both margins.
    """
    cross2 = v * v + across * across
    speed2 = u * u + cross2 + 1e-12
    speed = math.sqrt(speed2)
    mach = speed / sound
    x = min(mach / MACH_STEP, MACH_COUNT - 1.001)
    i = int(x)
    f = x - i
    area, d = w[_AREA], w[_DIAMETER]
    half_rho = 0.5 * density
    along = half_rho * area * abs(u)
    shift = w[_SHIFT]

    # bodies: first three moments of the slope about the CG
    slope = between(w, i, f, _BODY) * w[_F_BODY]
    first = between(w, i, f, _BODY_MOMENT) * w[_F_BODY]
    second = between(w, i, f, _BODY_SECOND) * w[_F_BODY]
    arm = cg - shift
    lever = slope * arm - first
    lever2 = slope * arm * arm - 2.0 * first * arm + second
    fy = -along * (slope * v + lever * yaw)
    fz = -along * (slope * across - lever * pitch)
    mz = -along * (lever * v + lever2 * yaw)
    my = along * (lever * across - lever2 * pitch)

    # fins, stalling towards plates
    fin_slope = between(w, i, f, _FIN) * w[_F_FIN]
    fin_cp = between(w, i, f, _FIN_CP) + shift
    r = cg - fin_cp
    vf, wf = v + yaw * r, across - pitch * r
    cross_fin2 = vf * vf + wf * wf
    k_fin = along * fin_slope
    if cross_fin2 > w[_STALL_A] * (u * u + cross_fin2 + 1e-12):
        stall = smooth_step(cross_fin2 / (u * u + cross_fin2 + 1e-12), w[_STALL_A], w[_STALL_B])
        k_fin *= 1.0 - stall
        k_fin += half_rho * w[_PLATE] * PLATE_DRAG * math.sqrt(cross_fin2) * stall
    pressure = half_rho * speed2
    side = pressure * area * between(w, i, f, _SIDE) * w[_F_FIN]
    fin_y = side * w[_CANT_Y] - k_fin * vf
    fin_z = side * w[_CANT_Z] - k_fin * wf

    # cross-flow on the body
    rc = cg - w[_PLANFORM_CP]
    vc, wc = v + yaw * rc, across - pitch * rc
    cross_body = math.sqrt(vc * vc + wc * wc)
    k_cross = (
        half_rho
        * w[_ETA]
        * crossflow_drag(cross_body / sound)
        * w[_PLANFORM]
        * cross_body
        * w[_F_CROSS]
    )
    cross_y, cross_z = -k_cross * vc, -k_cross * wc

    # axial force and roll
    low = between(w, i, f, _LOW)
    high = between(w, i, f, _HIGH)
    axial = low + (high - low) * min(max(height_m / AXIAL_HIGH_M, 0.0), 2.0)
    if burning:
        axial -= between(w, i, f, _BURN)
    fx = -along * axial * w[_F_AXIAL] * u
    turn = between(w, i, f, _ROLL)
    damp = between(w, i, f, _ROLL_DAMP)
    mx = (
        area
        * d
        * w[_F_FIN]
        * (pressure * turn * w[_CANT] + half_rho * speed * damp * roll * d * 0.5)
    )

    if notes:
        linear = slope + fin_slope + 1e-12
        w[SPEED], w[MACH], w[PRESSURE] = speed, mach, pressure
        w[SIN2], w[ALONG] = cross2 / speed2, u
        margin = (first + fin_slope * (fin_cp - shift)) / linear + shift - cg
        w[MARGIN] = margin / d
        w[PITCH_RATE2] = pressure * area * linear * margin  # over the inertia in `body_loads`
        weight = along * slope + k_fin + k_cross + 1e-12
        moment = along * (first + slope * shift) + k_fin * fin_cp + k_cross * w[_PLANFORM_CP]
        w[MARGIN_INCIDENCE] = (moment / weight - cg) / d
    return (
        fx,
        fy + fin_y + cross_y,
        fz + fin_z + cross_z,
        mx,
        my - r * fin_z - rc * cross_z,
        mz + r * fin_y + rc * cross_y,
    )


@compiled_inside
def body_loads(
    time_s: float, w: Any, at: int, segment: int, notes: bool
) -> tuple[float, float, float, float, float, float, float, float, float]:
    """Force (body axes, gravity left out) N, moment N m, mass kg, pitch and roll inertia kg m2.

    Of the state that begins at place `at` of the record.
    """
    density, sound, east, north, up = air_at(w, w[at + 2])
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(w[at + 6], w[at + 7], w[at + 8], w[at + 9])
    ve, vn, vu = w[at + 3] - east, w[at + 4] - north, w[at + 5] - up
    pitch, yaw = w[at + 11], w[at + 12]
    thrust, gone, rate = thrust_at(w, segment, time_s)
    mass, cg, pitch_inertia, roll_inertia, jet = mass_at(w, gone, rate)
    fx, fy, fz, mx, my, mz = aero_forces(
        w,
        density,
        sound,
        w[at + 2],
        ve * x1 + vn * x2 + vu * x3,
        ve * y1 + vn * y2 + vu * y3,
        ve * z1 + vn * z2 + vu * z3,
        w[at + 10],
        pitch,
        yaw,
        cg,
        0 <= segment < w[LAST_SEGMENT],
        notes,
    )
    if notes:
        w[MASS], w[CG], w[THRUST], w[SIDE_Y], w[SIDE_Z] = mass, cg, thrust, fy, fz
        w[PITCH_RATE2] = pitch_rate2(w[PITCH_RATE2], pitch_inertia, roll_inertia)
    ty, tz = thrust * w[_TILT_Y], thrust * w[_TILT_Z]
    arm = cg - w[_NOZZLE]
    mx += w[_OFF_Y] * tz - w[_OFF_Z] * ty
    my += w[_OFF_Z] * thrust - arm * tz - jet * pitch
    mz += arm * ty - w[_OFF_Y] * thrust - jet * yaw
    return fx + thrust, fy + ty, fz + tz, mx, my, mz, mass, pitch_inertia, roll_inertia


@compiled_inside
def free_rates(time_s: float, w: Any, at: int, row: int, segment: int, notes: bool) -> None:
    """Right-hand side of free flight: fills row `row` of the rates, and the notes."""
    fx, fy, fz, mx, my, mz, mass, pitch_inertia, roll_inertia = body_loads(
        time_s, w, at, segment, notes
    )
    qw, qx, qy, qz = w[at + 6], w[at + 7], w[at + 8], w[at + 9]
    roll, pitch, yaw = w[at + 10], w[at + 11], w[at + 12]
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(qw, qx, qy, qz)
    inverse = 1.0 / mass
    to = K + WIDE * row
    w[to], w[to + 1], w[to + 2] = w[at + 3], w[at + 4], w[at + 5]
    w[to + 3] = (fx * x1 + fy * y1 + fz * z1) * inverse
    w[to + 4] = (fx * x2 + fy * y2 + fz * z2) * inverse
    w[to + 5] = (fx * x3 + fy * y3 + fz * z3) * inverse - w[_GRAVITY]
    w[to + 6], w[to + 7], w[to + 8], w[to + 9] = quaternion_rates(qw, qx, qy, qz, roll, pitch, yaw)
    w[to + 10], w[to + 11], w[to + 12] = rotation_rates(
        mx, my, mz, roll, pitch, yaw, roll_inertia, pitch_inertia, pitch_inertia
    )
    if notes:
        w[FELT] = math.sqrt(fx * fx + fy * fy + fz * fz) * inverse
