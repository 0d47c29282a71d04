"""From ejection to the ground: a point mass with a growing canopy, drifting with the wind.

Before line stretch only the opened, tumbling rocket drags; a canopy that drags more carries it
alone: the parts then hang in line, in its wake, and no source credits their side. From line stretch
the canopy's drag area grows as ((t - t0) / t_fill)^j with t_fill = n D / v (Knacke, NWC TP 6575,
ch. 5; from memory). A second canopy opens the same way below its height. Position and velocity are
the first six of the state.
A rocket of which nothing opens is taken to fall nose first from apogee, the attitude in which it
hits hardest: a stable one points into its path, and no flight data at hand say that it glides.
"""

import math
from typing import Any

from goodflight.physics.flight.column import DENSITY, EAST, NORTH, SOUND, UP, find_node, read_air
from goodflight.physics.flight.compiled import compiled, compiled_inside
from goodflight.physics.flight.forces import FELT, MACH, PRESSURE, SPEED
from goodflight.physics.flight.record import (
    AIR_NOW,
    CANOPIES,
    DESCENT,
    DESCENT_COUNT,
    DRAGS,
    MAIN_DONE,
    NEW,
    NOW,
    PHASE,
    SCALARS,
    STEP,
    TABLE,
    WIDE,
)
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    MACH_STEP,
    PARAMETER_INDEX,
)

_TUMBLE = PARAMETER_INDEX["tumble_area_m2"]
_F_AXIAL = PARAMETER_INDEX["axial_factor"]
_AREA_REF = SCALARS + AERO_SCALAR_INDEX["area_m2"]
FALL_STEP_S = 0.05
OPEN_S = 1e-6  # before it is full a canopy counts as full
FALL_MACH = 0.2  # falling from 300 to 1000 m; drag hardly changes between Mach 0.1 and 0.4
_FALL_AXIAL = TABLE + len(AERO_COLUMNS) * round(FALL_MACH / MACH_STEP) + AERO_INDEX["axial_low"]
_DRY, _GRAVITY = PARAMETER_INDEX["dry_mass_kg"], PARAMETER_INDEX["gravity_m_s2"]
FIRST, SECOND = 0, 1
# the canopy state, two numbers per canopy: line stretch s (inf = not yet), fill time s
STRETCH, FILL = CANOPIES, CANOPIES + 1
_AREA = (PARAMETER_INDEX["canopy_area_m2"], PARAMETER_INDEX["main_area_m2"])
_GROWTH = (PARAMETER_INDEX["canopy_growth"], PARAMETER_INDEX["main_growth"])


@compiled_inside
def open_area(time_s: float, w: Any, which: int) -> float:
    """Drag area in m2 of one canopy at a time."""
    since = time_s - w[STRETCH + 2 * which]
    if since <= 0.0:
        return 0.0
    area: float = w[_AREA[which]]
    full = w[FILL + 2 * which]
    if since >= full:
        return area
    return area * (since / full) ** w[_GROWTH[which]]


@compiled_inside
def all_open(w: Any) -> bool:
    """Whether every canopy that this flight opens is full."""
    first = w[NOW] >= w[STRETCH] + w[FILL] - OPEN_S
    second = w[_AREA[SECOND]] <= 0.0 or w[NOW] >= w[STRETCH + 2] + w[FILL + 2] - OPEN_S
    return first and second


@compiled
def fall_nose_first(w: Any) -> None:
    """From here on a point mass with the drag of the coasting rocket, and no canopy."""
    w[_TUMBLE] = w[_AREA_REF] * w[_FALL_AXIAL] * w[_F_AXIAL]
    w[MAIN_DONE] = 1
    w[PHASE] = DESCENT
    w[STEP] = FALL_STEP_S


@compiled_inside
def sink(q: Any, s: int, n: int, at: int) -> None:
    """Right-hand side of the descent into NEW, by the air and canopies read; notes the pressure.

    Of the state at a place of flight n of s side by side.
    """
    density, sound = q[(AIR_NOW + DENSITY) * s + n], q[(AIR_NOW + SOUND) * s + n]
    ve = q[(at + 3) * s + n] - q[(AIR_NOW + EAST) * s + n]
    vn = q[(at + 4) * s + n] - q[(AIR_NOW + NORTH) * s + n]
    vu = q[(at + 5) * s + n] - q[(AIR_NOW + UP) * s + n]
    speed = math.sqrt(ve * ve + vn * vn + vu * vu)
    tumble, area = q[_TUMBLE * s + n], q[DRAGS * s + n]
    k = 0.5 * density * (area if area > tumble else tumble) * speed / q[_DRY * s + n]
    q[NEW * s + n] = q[(at + 3) * s + n]
    q[(NEW + 1) * s + n] = q[(at + 4) * s + n]
    q[(NEW + 2) * s + n] = q[(at + 5) * s + n]
    q[(NEW + 3) * s + n], q[(NEW + 4) * s + n] = -k * ve, -k * vn
    q[(NEW + 5) * s + n] = -k * vu - q[_GRAVITY * s + n]
    q[SPEED * s + n], q[MACH * s + n] = speed, speed / sound
    q[PRESSURE * s + n], q[FELT * s + n] = 0.5 * density * speed * speed, k * speed


@compiled
def descent_rates(time_s: float, w: Any, at: int) -> None:
    """Right-hand side of the descent of one record into NEW, and the notes."""
    find_node(w, 1, 0, at)
    read_air(w, w, 1, 0)
    w[DRAGS] = open_area(time_s, w, FIRST) + open_area(time_s, w, SECOND)
    sink(w, 1, 0, at)
    for i in range(NEW + DESCENT_COUNT, NEW + WIDE):
        w[i] = 0.0
