"""One flight's air from the ground up: density, speed of sound and wind with its gusts.

The column is tabulated on heights that grow with the fourth power of the node number, so that nodes
lie close together near the ground, where a power-law wind is steepest. Turbulence is a frozen
field: each wind component is a first-order (Dryden) process along the height with the length scale
and the standard deviation of that height, so its variance is exact at the nodes whatever their
spacing. Low-altitude scales of [mil-f-8785c], halved for the horizontal components because a climb
crosses them (the lateral scale of [mil-hdbk-1797], memory); what does not depend on the flight is
worked out once for an ensemble (`ladder`). Between nodes a Catmull-Rom cubic keeps the slope
continuous.
"""

import math
from typing import Any

import numpy as np

from goodflight.constants import FOOT_M, GAS_CONSTANT, HEAT_RATIO, LAPSE_K_M, STANDARD_GRAVITY_M_S2
from goodflight.physics.flight.compiled import compiled, compiled_inside, compiled_owner
from goodflight.physics.flight.record import AIR, AIR_COLUMNS, AIR_NOW, INSIDE, NODE, NODES, SPACING
from goodflight.physics.flight.registry import PARAMETER_INDEX

DENSITY, SOUND, EAST, NORTH, UP = 0, 1, 2, 3, 4
# what the gusts of every flight share, one row per node
HEIGHT, LOG_HEIGHT, KEEP, KEEP_UP, FRESH, FRESH_UP, RATIO, NEAR = 0, 1, 2, 3, 4, 5, 6, 7

LOW_FT, HIGH_FT, FREE_FT = 10.0, 1000.0, 2000.0  # the low-altitude form, and free air from there
FREE_SCALE_FT = 1750.0

_SPEED = PARAMETER_INDEX["wind_m_s"]
_FROM = PARAMETER_INDEX["wind_from_rad"]
_HEIGHT = PARAMETER_INDEX["wind_height_m"]
_EXPONENT = PARAMETER_INDEX["wind_exponent"]
_SIGMA = PARAMETER_INDEX["gust_sigma_m_s"]
_TEMPERATURE = PARAMETER_INDEX["ground_temperature_k"]
_PRESSURE = PARAMETER_INDEX["ground_pressure_pa"]

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_MIX_1 = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2 = np.uint64(0x94D049BB133111EB)
_S30, _S27, _S31, _S11 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(11)


@compiled
def uniform(state: Any) -> Any:
    """Next state, and its number in (-1, 1), of a SplitMix64 stream (Steele, Lea, Flood 2014)."""
    state += _GOLDEN
    z = (state ^ (state >> _S30)) * _MIX_1
    z = (z ^ (z >> _S27)) * _MIX_2
    z = z ^ (z >> _S31)
    return state, float(z >> _S11) * (2.0 / 9007199254740992.0) - 1.0


@compiled
def normal_pair(state: Any) -> Any:
    """Next state, and two independent standard normal numbers (Marsaglia's polar method)."""
    while True:
        state, a = uniform(state)
        state, b = uniform(state)
        s = a * a + b * b
        if 0.0 < s < 1.0:
            scale = math.sqrt(-2.0 * math.log(s) / s)
            return state, a * scale, b * scale


@compiled
def gust_scale(height_m: float) -> tuple[float, float, float]:
    """Dryden low-altitude scales at a height.

    Returns the scales on a climbing path of the horizontal components and of the vertical one, in
    m, and sigma_u / sigma_w. [mil-f-8785c]: L_u = h / (0.177 + 0.000823 h)^1.2, halved; L_w = h,
    ratio (0.177 + 0.000823 h)^-0.4, h in ft; from 1000 ft straight to 1750 ft at 2000 ft.
    """
    feet = max(height_m / FOOT_M, LOW_FT)
    low = min(feet, HIGH_FT)
    ratio = (0.177 + 0.000823 * low) ** -0.4
    share = min(max((feet - HIGH_FT) / (FREE_FT - HIGH_FT), 0.0), 1.0)
    rise = share * (FREE_SCALE_FT - HIGH_FT)
    return 0.5 * FOOT_M * (low * ratio**3 + rise), FOOT_M * (low + rise), ratio


@compiled_owner
def ladder(spacing: float) -> Any:
    """What every flight's air shares, (NODES, 8): heights, and how gusts go from node to node."""
    rows = np.zeros((NODES, 8))
    below = 0.0
    for i in range(NODES):
        height = (i * spacing) ** 4
        length, length_up, _ = gust_scale(0.5 * (height + below))
        if i > 0:
            rows[i, LOG_HEIGHT] = math.log(height)
            rows[i, KEEP] = math.exp(-(height - below) / length)
            rows[i, KEEP_UP] = math.exp(-(height - below) / length_up)
        rows[i, HEIGHT] = height
        rows[i, FRESH] = math.sqrt(1.0 - rows[i, KEEP] ** 2)
        rows[i, FRESH_UP] = math.sqrt(1.0 - rows[i, KEEP_UP] ** 2)
        rows[i, RATIO] = gust_scale(height)[2]
        rows[i, NEAR] = min(1.0, height / (LOW_FT * FOOT_M))
        below = height
    return rows


@compiled
def fill_gusts(w: Any, rows: Any, seed: Any) -> None:
    """Add one realisation of the turbulence to a flight's wind, at every node."""
    sigma_up = w[_SIGMA] / gust_scale(w[_HEIGHT])[2]
    if sigma_up <= 0.0:
        return
    toward_e, toward_n = -math.sin(w[_FROM]), -math.cos(w[_FROM])
    along, across, up, spare = 0.0, 0.0, 0.0, 0.0
    state = seed
    for i in range(NODES):
        state, one, two = normal_pair(state)
        if i % 2 == 1:
            three = spare
        else:
            state, three, spare = normal_pair(state)
        along = rows[i, KEEP] * along + rows[i, FRESH] * one
        across = rows[i, KEEP] * across + rows[i, FRESH] * two
        up = rows[i, KEEP_UP] * up + rows[i, FRESH_UP] * three
        sigma = sigma_up * rows[i, RATIO]
        at = AIR + AIR_COLUMNS * (i + 1)
        w[at + EAST] += sigma * (along * toward_e + across * toward_n)
        w[at + NORTH] += sigma * (along * toward_n - across * toward_e)
        w[at + UP] += sigma_up * up * rows[i, NEAR]


@compiled
def fill_column(w: Any, rows: Any, seed: Any, turbulence: bool) -> None:
    """Tabulate one flight's air: a ghost row, the heights of the ladder `rows`, a ghost row."""
    exponent = STANDARD_GRAVITY_M_S2 / (GAS_CONSTANT * LAPSE_K_M)
    toward_e, toward_n = -math.sin(w[_FROM]), -math.cos(w[_FROM])
    log_height = math.log(w[_HEIGHT])
    for i in range(NODES):
        temperature = w[_TEMPERATURE] - LAPSE_K_M * rows[i, HEIGHT]
        pressure = w[_PRESSURE] * (temperature / w[_TEMPERATURE]) ** exponent
        speed = 0.0
        if i > 0:
            speed = w[_SPEED] * math.exp(w[_EXPONENT] * (rows[i, LOG_HEIGHT] - log_height))
        at = AIR + AIR_COLUMNS * (i + 1)
        w[at + DENSITY] = pressure / (GAS_CONSTANT * temperature)
        w[at + SOUND] = math.sqrt(HEAT_RATIO * GAS_CONSTANT * temperature)
        w[at + EAST] = speed * toward_e
        w[at + NORTH] = speed * toward_n
        w[at + UP] = 0.0
    if turbulence:
        fill_gusts(w, rows, seed)
    top = AIR + AIR_COLUMNS * NODES
    for k in range(AIR_COLUMNS):
        w[AIR + k] = w[AIR + 2 * AIR_COLUMNS + k]
        w[top + AIR_COLUMNS + k] = 2.0 * w[top + k] - w[top - AIR_COLUMNS + k]


@compiled_inside
def find_node(q: Any, s: int, n: int, at: int) -> None:
    """Node below the state at a place, and weights of four nodes (Catmull-Rom in height^(1/4)).

    Of flight n of s side by side; held at the ends.
    """
    height = q[(at + 2) * s + n]
    height = height if height > 0.0 else 0.0
    x = math.sqrt(math.sqrt(height)) / q[SPACING * s + n]
    i = np.floor(x if x < NODES - 2.0 else NODES - 2.0)
    t = x - i
    t = t if t < 1.0 else 1.0
    t2 = t * t
    t3 = t2 * t
    q[NODE * s + n] = i
    q[(NODE + 1) * s + n] = -0.5 * t3 + t2 - 0.5 * t
    q[(NODE + 2) * s + n] = 1.5 * t3 - 2.5 * t2 + 1.0
    q[(NODE + 3) * s + n] = -1.5 * t3 + 2.0 * t2 + 0.5 * t
    q[(NODE + 4) * s + n] = 0.5 * (t3 - t2)


@compiled_inside
def read_air(w: Any, q: Any, s: int, n: int) -> None:
    """Air at the node found, from the column of a record: AIR_NOW, in the order of the columns."""
    a = AIR + AIR_COLUMNS * int(q[NODE * s + n])
    w0, w1 = q[(NODE + 1) * s + n], q[(NODE + 2) * s + n]
    w2, w3 = q[(NODE + 3) * s + n], q[(NODE + 4) * s + n]
    for k in range(AIR_COLUMNS):
        q[(AIR_NOW + k) * s + n] = (
            w0 * w[a + k]
            + w1 * w[a + AIR_COLUMNS + k]
            + w2 * w[a + 2 * AIR_COLUMNS + k]
            + w3 * w[a + 3 * AIR_COLUMNS + k]
        )


@compiled
def air_at(w: Any, height_m: float) -> tuple[float, float, float, float, float]:
    """Density kg/m3, speed of sound m/s, wind east, north, up m/s at a height; spoils INSIDE."""
    w[INSIDE + 2] = height_m
    find_node(w, 1, 0, INSIDE)
    read_air(w, w, 1, 0)
    return w[AIR_NOW], w[AIR_NOW + 1], w[AIR_NOW + 2], w[AIR_NOW + 3], w[AIR_NOW + 4]
