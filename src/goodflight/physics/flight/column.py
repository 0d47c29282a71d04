"""One flight's air from the ground up: density, speed of sound and wind with its gusts.

The column is tabulated on heights that grow with the fourth power of the node number, so that nodes
lie close together near the ground, where a power-law wind is steepest. Turbulence is a frozen
field: each wind component is a first-order (Dryden) process along the height with the length scale
and the standard deviation of that height, so its variance is exact at the nodes whatever their
spacing. MIL-F-8785C low-altitude scales, halved for the horizontal components because a climb
crosses them (see `air.turbulence`). Between nodes a Catmull-Rom cubic keeps the slope continuous.
"""

import math
from typing import Any

import numpy as np

from goodflight.physics.flight.compiled import compiled
from goodflight.physics.flight.registry import PARAMETER_INDEX

NODES = 128
DENSITY, SOUND, EAST, NORTH, UP = 0, 1, 2, 3, 4

LAPSE_K_M = 0.0065
GAS_J_KG_K = 287.05287
HEAT_RATIO = 1.4
STANDARD_GRAVITY_M_S2 = 9.80665
FOOT_M = 0.3048
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
def uniform(generator: Any) -> float:
    """Next number in (-1, 1) of a SplitMix64 stream (Steele, Lea, Flood 2014)."""
    generator[0] += _GOLDEN
    z = generator[0]
    z = (z ^ (z >> _S30)) * _MIX_1
    z = (z ^ (z >> _S27)) * _MIX_2
    z = z ^ (z >> _S31)
    return float(z >> _S11) * (2.0 / 9007199254740992.0) - 1.0


@compiled
def normal_pair(generator: Any) -> tuple[float, float]:
    """Two independent standard normal numbers (Marsaglia's polar method)."""
    while True:
        a = uniform(generator)
        b = uniform(generator)
        s = a * a + b * b
        if 0.0 < s < 1.0:
            scale = math.sqrt(-2.0 * math.log(s) / s)
            return a * scale, b * scale


@compiled
def gust_scale(height_m: float) -> tuple[float, float, float]:
    """Dryden low-altitude scales at a height.

    Returns the scales on a climbing path of the horizontal components and of the vertical one, in
    m, and sigma_u / sigma_w. MIL-F-8785C: L_u = h / (0.177 + 0.000823 h)^1.2, halved; L_w = h,
    ratio (0.177 + 0.000823 h)^-0.4, h in ft; from 1000 ft straight to 1750 ft at 2000 ft.
    """
    feet = max(height_m / FOOT_M, LOW_FT)
    low = min(feet, HIGH_FT)
    ratio = (0.177 + 0.000823 * low) ** -0.4
    share = min(max((feet - HIGH_FT) / (FREE_FT - HIGH_FT), 0.0), 1.0)
    rise = share * (FREE_SCALE_FT - HIGH_FT)
    return 0.5 * FOOT_M * (low * ratio**3 + rise), FOOT_M * (low + rise), ratio


@compiled
def fill_gusts(column: Any, p: Any, spacing: float, generator: Any) -> None:
    """Add one realisation of the turbulence to the wind of a column (nodes 1 ... NODES)."""
    sigma_w = p[_SIGMA] / gust_scale(p[_HEIGHT])[2]
    if sigma_w <= 0.0:
        return
    toward_e, toward_n = -math.sin(p[_FROM]), -math.cos(p[_FROM])
    along, across, up, spare = 0.0, 0.0, 0.0, 0.0
    have_spare = False
    below = 0.0
    for i in range(NODES):
        height = (i * spacing) ** 4
        length, length_w, _ = gust_scale(0.5 * (height + below))
        keep = 0.0 if i == 0 else math.exp(-(height - below) / length)
        keep_w = 0.0 if i == 0 else math.exp(-(height - below) / length_w)
        fresh, fresh_w = math.sqrt(1.0 - keep * keep), math.sqrt(1.0 - keep_w * keep_w)
        one, two = normal_pair(generator)
        if have_spare:
            three = spare
            have_spare = False
        else:
            three, spare = normal_pair(generator)
            have_spare = True
        along = keep * along + fresh * one
        across = keep * across + fresh * two
        up = keep_w * up + fresh_w * three
        sigma = sigma_w * gust_scale(height)[2]
        column[i + 1, EAST] += sigma * (along * toward_e + across * toward_n)
        column[i + 1, NORTH] += sigma * (along * toward_n - across * toward_e)
        column[i + 1, UP] += sigma_w * up * min(1.0, height / (LOW_FT * FOOT_M))
        below = height


@compiled
def fill_column(column: Any, p: Any, spacing: float, generator: Any, turbulence: bool) -> None:
    """Tabulate one flight's air: a ghost row, NODES heights (i spacing)^4, a ghost row."""
    exponent = STANDARD_GRAVITY_M_S2 / (GAS_J_KG_K * LAPSE_K_M)
    toward_e, toward_n = -math.sin(p[_FROM]), -math.cos(p[_FROM])
    for i in range(NODES):
        height = (i * spacing) ** 4
        temperature = p[_TEMPERATURE] - LAPSE_K_M * height
        pressure = p[_PRESSURE] * (temperature / p[_TEMPERATURE]) ** exponent
        speed = p[_SPEED] * (height / p[_HEIGHT]) ** p[_EXPONENT] if height > 0.0 else 0.0
        column[i + 1, DENSITY] = pressure / (GAS_J_KG_K * temperature)
        column[i + 1, SOUND] = math.sqrt(HEAT_RATIO * GAS_J_KG_K * temperature)
        column[i + 1, EAST] = speed * toward_e
        column[i + 1, NORTH] = speed * toward_n
        column[i + 1, UP] = 0.0
    if turbulence:
        fill_gusts(column, p, spacing, generator)
    for k in range(5):
        column[0, k] = column[2, k]
        column[NODES + 1, k] = 2.0 * column[NODES, k] - column[NODES - 1, k]


@compiled
def air_at(
    column: Any, spacing: float, height_m: float
) -> tuple[float, float, float, float, float]:
    """Density kg/m3, speed of sound m/s and wind east, north, up m/s at a height.

    Catmull-Rom cubic in the fourth root of the height; held at the ends.
    """
    x = math.sqrt(math.sqrt(max(height_m, 0.0))) / spacing
    i = min(int(x), NODES - 2)
    t = min(x - i, 1.0)
    t2 = t * t
    t3 = t2 * t
    w0 = -0.5 * t3 + t2 - 0.5 * t
    w1 = 1.5 * t3 - 2.5 * t2 + 1.0
    w2 = -1.5 * t3 + 2.0 * t2 + 0.5 * t
    w3 = 0.5 * (t3 - t2)
    return (
        w0 * column[i, 0] + w1 * column[i + 1, 0] + w2 * column[i + 2, 0] + w3 * column[i + 3, 0],
        w0 * column[i, 1] + w1 * column[i + 1, 1] + w2 * column[i + 2, 1] + w3 * column[i + 3, 1],
        w0 * column[i, 2] + w1 * column[i + 1, 2] + w2 * column[i + 2, 2] + w3 * column[i + 3, 2],
        w0 * column[i, 3] + w1 * column[i + 1, 3] + w2 * column[i + 2, 3] + w3 * column[i + 3, 3],
        w0 * column[i, 4] + w1 * column[i + 1, 4] + w2 * column[i + 2, 4] + w3 * column[i + 3, 4],
    )
