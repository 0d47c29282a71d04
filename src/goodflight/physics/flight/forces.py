"""Forces and moments on the rocket in flight, and the equations of motion built on them.

Each component of the rocket feels the air speed across its own station, turning included, so that
pitch and yaw damping follow from the same slopes as the static moment. State: position east,
north, up (3), velocity (3), quaternion (4), body rates (3). An evaluation that is asked for notes
leaves behind in the record what the monitor wants to know.
"""

import math
from typing import Any

import numpy as np

from goodflight.physics.flight.burn import mass_at, read_thrust
from goodflight.physics.flight.column import DENSITY, EAST, NORTH, SOUND, UP, find_node, read_air
from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.record import (
    ACROSS_CD,
    AIR_NOW,
    AUX,
    BURNING,
    CROSS_SPEED,
    GONE,
    GONE_RATE,
    JET,
    MACH_ROW,
    MACH_SHARE,
    MET_X,
    MET_Y,
    MET_Z,
    NEW,
    PITCH_INERTIA,
    ROLL_INERTIA,
    SCALARS,
    TABLE,
    TABLE_NOW,
    THRUST_NOW,
)
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
    TABLE_NOW + AERO_INDEX["body_slope"],
    TABLE_NOW + AERO_INDEX["body_moment_m"],
    TABLE_NOW + AERO_INDEX["body_second_m2"],
)
_FIN, _FIN_CP = TABLE_NOW + AERO_INDEX["fin_slope"], TABLE_NOW + AERO_INDEX["fin_cp_m"]
_LOW, _HIGH = TABLE_NOW + AERO_INDEX["axial_low"], TABLE_NOW + AERO_INDEX["axial_high"]
_BURN = TABLE_NOW + AERO_INDEX["axial_burn"]
_ROLL, _ROLL_DAMP = TABLE_NOW + AERO_INDEX["roll_force"], TABLE_NOW + AERO_INDEX["roll_damp"]
_SIDE = TABLE_NOW + AERO_INDEX["fin_side"]
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


@compiled_inside
def crossflow_drag(rows: float) -> float:
    """Cross-flow drag coefficient of a long cylinder, so many CROSSFLOW_STEPs of Mach number up.

    DATCOM 4.2.1.2-35b, linear between rows.
    """
    last = len(CROSSFLOW) - 1
    i = int(rows)
    if i >= last:
        return CROSSFLOW[last]
    return CROSSFLOW[i] + (CROSSFLOW[i + 1] - CROSSFLOW[i]) * (rows - i)


@compiled_inside
def smooth_step(x: float, low: float, high: float) -> float:
    """0 below low, 1 above high, cubic with level ends between."""
    width = high - low
    t = (x - low) / (width if width > 1e-12 else 1e-12)
    t = t if t > 0.0 else 0.0
    t = t if t < 1.0 else 1.0
    return t * t * (3.0 - 2.0 * t)


@compiled_inside
def pitch_rate2(stiffness: float, pitch_inertia: float, roll_inertia: float) -> float:
    """Square of the roll rate that meets the pitch frequency, q A CNa (Xcp - Xcg) / (Iy - Ix).

    A slender body that spins at p answers as if its stiffness were less by p^2 (Iy - Ix); derived.
    """
    slender = pitch_inertia - roll_inertia
    return stiffness / (slender if slender > 1e-9 else 1e-9)


@compiled_inside
def meet_air(q: Any, s: int, n: int, at: int) -> None:
    """Air speed in body axes of the state at a place, its row of the Mach table, and the mass.

    Of flight n of s side by side, whose air and thrust are read. Notes what follows from these.
    """
    sound = q[(AIR_NOW + SOUND) * s + n]
    ve = q[(at + 3) * s + n] - q[(AIR_NOW + EAST) * s + n]
    vn = q[(at + 4) * s + n] - q[(AIR_NOW + NORTH) * s + n]
    vu = q[(at + 5) * s + n] - q[(AIR_NOW + UP) * s + n]
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(
        q[(at + 6) * s + n], q[(at + 7) * s + n], q[(at + 8) * s + n], q[(at + 9) * s + n]
    )
    u = ve * x1 + vn * x2 + vu * x3
    v = ve * y1 + vn * y2 + vu * y3
    across = ve * z1 + vn * z2 + vu * z3
    q[MET_X * s + n], q[MET_Y * s + n], q[MET_Z * s + n] = u, v, across
    mass, cg, pitch_inertia, roll_inertia, jet = mass_at(
        q, s, n, q[GONE * s + n], q[GONE_RATE * s + n]
    )
    q[MASS * s + n], q[CG * s + n], q[THRUST * s + n] = mass, cg, q[THRUST_NOW * s + n]
    q[PITCH_INERTIA * s + n], q[ROLL_INERTIA * s + n] = pitch_inertia, roll_inertia
    q[JET * s + n] = jet
    cross2 = v * v + across * across
    speed2 = u * u + cross2 + 1e-12
    speed = math.sqrt(speed2)
    mach = speed / sound
    q[SPEED * s + n], q[MACH * s + n] = speed, mach
    q[SIN2 * s + n], q[ALONG * s + n] = cross2 / speed2, u
    q[PRESSURE * s + n] = 0.5 * q[(AIR_NOW + DENSITY) * s + n] * speed2
    x = mach * (1.0 / MACH_STEP)
    x = x if x < MACH_COUNT - 1.001 else MACH_COUNT - 1.001
    i = np.floor(x)
    q[MACH_ROW * s + n], q[MACH_SHARE * s + n] = i, x - i
    # the air that the middle of the body's side meets
    rc = cg - q[_PLANFORM_CP * s + n]
    vc = v + q[(at + 12) * s + n] * rc
    wc = across - q[(at + 11) * s + n] * rc
    cross = math.sqrt(vc * vc + wc * wc)
    q[CROSS_SPEED * s + n] = cross
    q[ACROSS_CD * s + n] = cross / sound * (1.0 / CROSSFLOW_STEP)  # until it is looked up


@compiled_inside
def read_table(w: Any, q: Any, s: int, n: int) -> None:
    """Coefficients at the Mach number met, and the cross-flow drag, from the table of a record."""
    at = TABLE + _COLUMNS * int(q[MACH_ROW * s + n])
    share = q[MACH_SHARE * s + n]
    for k in range(_COLUMNS):
        low = w[at + k]
        q[(TABLE_NOW + k) * s + n] = low + share * (w[at + _COLUMNS + k] - low)
    q[ACROSS_CD * s + n] = crossflow_drag(q[ACROSS_CD * s + n])


@compiled_inside
def aero_forces(q: Any, s: int, n: int, at: int) -> tuple[float, float, float, float, float, float]:
    """Aerodynamic force and moment about the CG, in body axes, in N and N m; notes both margins.

    Of flight n of s side by side, whose air and coefficients are read.
    """
    density = q[(AIR_NOW + DENSITY) * s + n]
    u, v, across = q[MET_X * s + n], q[MET_Y * s + n], q[MET_Z * s + n]
    roll, pitch, yaw = q[(at + 10) * s + n], q[(at + 11) * s + n], q[(at + 12) * s + n]
    cg, area, d = q[CG * s + n], q[_AREA * s + n], q[_DIAMETER * s + n]
    half_rho = 0.5 * density
    along = half_rho * area * (u if u > 0.0 else -u)
    shift = q[_SHIFT * s + n]

    # bodies: first three moments of the slope about the CG
    slope = q[_BODY * s + n] * q[_F_BODY * s + n]
    first = q[_BODY_MOMENT * s + n] * q[_F_BODY * s + n]
    second = q[_BODY_SECOND * s + n] * q[_F_BODY * s + n]
    arm = cg - shift
    lever = slope * arm - first
    lever2 = slope * arm * arm - 2.0 * first * arm + second
    fy = -along * (slope * v + lever * yaw)
    fz = -along * (slope * across - lever * pitch)
    mz = -along * (lever * v + lever2 * yaw)
    my = along * (lever * across - lever2 * pitch)

    # fins, stalling towards plates
    fin_slope = q[_FIN * s + n] * q[_F_FIN * s + n]
    fin_cp = q[_FIN_CP * s + n] + shift
    r = cg - fin_cp
    vf, wf = v + yaw * r, across - pitch * r
    cross_fin2 = vf * vf + wf * wf
    stall = smooth_step(
        cross_fin2 / (u * u + cross_fin2 + 1e-12), q[_STALL_A * s + n], q[_STALL_B * s + n]
    )
    k_fin = along * fin_slope * (1.0 - stall)
    k_fin += half_rho * q[_PLATE * s + n] * PLATE_DRAG * math.sqrt(cross_fin2) * stall
    pressure = q[PRESSURE * s + n]
    side = pressure * area * q[_SIDE * s + n] * q[_F_FIN * s + n]
    fin_y = side * q[_CANT_Y * s + n] - k_fin * vf
    fin_z = side * q[_CANT_Z * s + n] - k_fin * wf

    # cross-flow on the body
    rc = cg - q[_PLANFORM_CP * s + n]
    vc, wc = v + yaw * rc, across - pitch * rc
    k_cross = half_rho * q[_ETA * s + n] * q[ACROSS_CD * s + n]
    k_cross *= q[_PLANFORM * s + n] * q[CROSS_SPEED * s + n] * q[_F_CROSS * s + n]
    cross_y, cross_z = -k_cross * vc, -k_cross * wc

    # axial force and roll
    low = q[_LOW * s + n]
    up = q[(at + 2) * s + n] * (1.0 / AXIAL_HIGH_M)
    up = up if up > 0.0 else 0.0
    axial = low + (q[_HIGH * s + n] - low) * (up if up < 2.0 else 2.0)
    axial -= q[BURNING * s + n] * q[_BURN * s + n]
    fx = -along * axial * q[_F_AXIAL * s + n] * u
    spun = half_rho * q[SPEED * s + n] * q[_ROLL_DAMP * s + n] * roll * d * 0.5
    mx = area * d * q[_F_FIN * s + n] * (pressure * q[_ROLL * s + n] * q[_CANT * s + n] + spun)

    linear = slope + fin_slope + 1e-12
    margin = (first + fin_slope * (fin_cp - shift)) / linear + shift - cg
    q[MARGIN * s + n] = margin / d
    q[PITCH_RATE2 * s + n] = pitch_rate2(
        pressure * area * linear * margin, q[PITCH_INERTIA * s + n], q[ROLL_INERTIA * s + n]
    )
    weight = along * slope + k_fin + k_cross + 1e-12
    moment = along * (first + slope * shift) + k_fin * fin_cp + k_cross * q[_PLANFORM_CP * s + n]
    q[MARGIN_INCIDENCE * s + n] = (moment / weight - cg) / d
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
    q: Any, s: int, n: int, at: int
) -> tuple[float, float, float, float, float, float, float, float, float]:
    """Force (body axes, gravity left out) N, moment N m, mass kg, pitch and roll inertia kg m2.

    Of the state at a place of flight n of s side by side, whose air and coefficients are read.
    """
    fx, fy, fz, mx, my, mz = aero_forces(q, s, n, at)
    q[SIDE_Y * s + n], q[SIDE_Z * s + n] = fy, fz
    pitch, yaw = q[(at + 11) * s + n], q[(at + 12) * s + n]
    thrust, jet = q[THRUST_NOW * s + n], q[JET * s + n]
    ty, tz = thrust * q[_TILT_Y * s + n], thrust * q[_TILT_Z * s + n]
    off_y, off_z = q[_OFF_Y * s + n], q[_OFF_Z * s + n]
    arm = q[CG * s + n] - q[_NOZZLE * s + n]
    mx += off_y * tz - off_z * ty
    my += off_z * thrust - arm * tz - jet * pitch
    mz += arm * ty - off_y * thrust - jet * yaw
    mass, pitch_inertia = q[MASS * s + n], q[PITCH_INERTIA * s + n]
    roll_inertia = q[ROLL_INERTIA * s + n]
    return fx + thrust, fy + ty, fz + tz, mx, my, mz, mass, pitch_inertia, roll_inertia


@compiled_inside
def move_freely(q: Any, s: int, n: int, at: int) -> None:
    """Right-hand side of free flight into NEW, by the loads on the state at a place."""
    fx, fy, fz, mx, my, mz, mass, pitch_inertia, roll_inertia = body_loads(q, s, n, at)
    qw, qx = q[(at + 6) * s + n], q[(at + 7) * s + n]
    qy, qz = q[(at + 8) * s + n], q[(at + 9) * s + n]
    roll, pitch, yaw = q[(at + 10) * s + n], q[(at + 11) * s + n], q[(at + 12) * s + n]
    x1, x2, x3, y1, y2, y3, z1, z2, z3 = body_axes(qw, qx, qy, qz)
    inverse = 1.0 / mass
    r1, r2, r3, r4 = quaternion_rates(qw, qx, qy, qz, roll, pitch, yaw)
    t1, t2, t3 = rotation_rates(
        mx, my, mz, roll, pitch, yaw, roll_inertia, pitch_inertia, pitch_inertia
    )
    q[NEW * s + n] = q[(at + 3) * s + n]
    q[(NEW + 1) * s + n] = q[(at + 4) * s + n]
    q[(NEW + 2) * s + n] = q[(at + 5) * s + n]
    q[(NEW + 3) * s + n] = (fx * x1 + fy * y1 + fz * z1) * inverse
    q[(NEW + 4) * s + n] = (fx * x2 + fy * y2 + fz * z2) * inverse
    q[(NEW + 5) * s + n] = (fx * x3 + fy * y3 + fz * z3) * inverse - q[_GRAVITY * s + n]
    q[(NEW + 6) * s + n], q[(NEW + 7) * s + n] = r1, r2
    q[(NEW + 8) * s + n], q[(NEW + 9) * s + n] = r3, r4
    q[(NEW + 10) * s + n], q[(NEW + 11) * s + n], q[(NEW + 12) * s + n] = t1, t2, t3
    q[FELT * s + n] = math.sqrt(fx * fx + fy * fy + fz * fz) * inverse


@compiled_inside
def read_all(time_s: float, w: Any, at: int, segment: int) -> None:
    """Air, thrust and coefficients of the state at a place of one record."""
    find_node(w, 1, 0, at)
    read_air(w, w, 1, 0)
    read_thrust(w, w, 1, 0, segment, time_s)
    meet_air(w, 1, 0, at)
    read_table(w, w, 1, 0)


@compiled
def free_rates(time_s: float, w: Any, at: int, segment: int) -> None:
    """Right-hand side of free flight of one record into NEW, and the notes."""
    read_all(time_s, w, at, segment)
    move_freely(w, 1, 0, at)
