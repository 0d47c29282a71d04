"""From ejection to the ground: a point mass with a growing canopy, drifting with the wind.

Before line stretch only the opened, tumbling rocket drags. From then the canopy's drag area grows
as ((t - t0) / t_fill)^j with t_fill = n D / v (Knacke, NWC TP 6575, ch. 5; from memory). A second
canopy opens the same way below its height. Position and velocity are the first six of the state.
"""

import math
from typing import Any

from goodflight.physics.flight.column import air_at
from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.registry import PARAMETER_INDEX

_TUMBLE = PARAMETER_INDEX["tumble_area_m2"]
_GRAVITY = PARAMETER_INDEX["gravity_m_s2"]
FIRST, SECOND = 0, 1
# rows of the canopy state, one per canopy: line stretch s (inf = not yet), fill time s
STRETCH, FILL = 0, 1
_AREA = (PARAMETER_INDEX["canopy_area_m2"], PARAMETER_INDEX["main_area_m2"])
_GROWTH = (PARAMETER_INDEX["canopy_growth"], PARAMETER_INDEX["main_growth"])


@compiled
def open_area(time_s: float, p: Any, canopies: Any, which: int) -> float:
    """Drag area in m2 of one canopy at a time."""
    since = time_s - canopies[which, STRETCH]
    if since <= 0.0:
        return 0.0
    area: float = p[_AREA[which]]
    if since >= canopies[which, FILL]:
        return area
    return area * (since / canopies[which, FILL]) ** p[_GROWTH[which]]


@compiled
def descent_rates(
    time_s: float,
    y: Any,
    dy: Any,
    row: int,
    aux: Any,
    p: Any,
    canopies: Any,
    mass: float,
    column: Any,
    spacing: float,
) -> None:
    """Right-hand side of the descent: fills dy[0:6]; aux gets air speed and dynamic pressure."""
    density, sound, east, north, up = air_at(column, spacing, y[2])
    ve, vn, vu = y[3] - east, y[4] - north, y[5] - up
    speed = math.sqrt(ve * ve + vn * vn + vu * vu)
    area = (
        p[_TUMBLE] + open_area(time_s, p, canopies, FIRST) + open_area(time_s, p, canopies, SECOND)
    )
    k = 0.5 * density * area * speed / mass
    dy[row, 0], dy[row, 1], dy[row, 2] = y[3], y[4], y[5]
    dy[row, 3], dy[row, 4], dy[row, 5] = -k * ve, -k * vn, -k * vu - p[_GRAVITY]
    aux[0] = speed
    aux[1] = speed / sound
    aux[2] = 0.5 * density * speed * speed
    aux[7] = k * speed
