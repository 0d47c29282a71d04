"""Made-up logs of one flight in closed form, in any of the forms that loggers write.

Rest, thrust that gives 60 m/s2 for 1.6 s, free flight, 18 m/s down, 5 m/s down from 130 m, ground.
"""

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import FOOT_M

Array = NDArray[np.float64]
G: Final = 9.80665
PUSH: Final = 60.0  # m/s2
BURN_S: Final = 1.6
LIFT_S: Final = 6.0  # after the first reading
SPEED: Final = PUSH * BURN_S
APOGEE_S: Final = BURN_S + SPEED / G
APOGEE_M: Final = 0.5 * PUSH * BURN_S**2 + SPEED**2 / (2.0 * G)
CHARGE_S: Final = APOGEE_S + 1.0
FIRST_MPS, LAST_MPS, SECOND_M = 18.0, 5.0, 130.0
SECOND_S: Final = CHARGE_S + (APOGEE_M - 0.5 * G - SECOND_M) / FIRST_MPS
LANDING_S: Final = SECOND_S + SECOND_M / LAST_MPS


def height_m(time_s: Array) -> Array:
    """Above the pad; times from lift-off."""
    t = time_s
    coast = APOGEE_M - 0.5 * G * (t - APOGEE_S) ** 2
    first = APOGEE_M - 0.5 * G - FIRST_MPS * (t - CHARGE_S)
    last = SECOND_M - LAST_MPS * (t - SECOND_S)
    parts = [t < 0.0, t < BURN_S, t < CHARGE_S, t < SECOND_S, t < LANDING_S]
    return np.asarray(np.select(parts, [0.0 * t, 0.5 * PUSH * t**2, coast, first, last], 0.0))


def axial_mps2(time_s: Array) -> Array:
    """What an accelerometer along the rocket shows: G at rest, 0 in free flight."""
    t = time_s
    parts = [t < 0.0, t < BURN_S, t < CHARGE_S, t < LANDING_S]
    return np.asarray(np.select(parts, [G + 0 * t, PUSH + G + 0 * t, 0.0 * t, G + 0 * t], G))


def pressure_pa(height: Array, ground_pa: float = 100_000.0) -> Array:
    """Standard atmosphere above a level of a pressure [usstd1976]."""
    low = (ground_pa / 101_325.0) ** 0.190263
    return np.asarray(101_325.0 * (low - 0.0065 / 288.15 * height) ** (1.0 / 0.190263))


def made(every_s: float = 0.05, noise_m: float = 0.3, seed: int = 1) -> dict[str, Array]:
    """Columns of a log in SI; times from the first reading."""
    random = np.random.default_rng(seed)
    time = np.arange(0.0, LIFT_S + LANDING_S + 8.0, every_s)
    height = height_m(time - LIFT_S) + noise_m * random.normal(size=time.size)
    axial = axial_mps2(time - LIFT_S) + 0.2 * random.normal(size=time.size)
    return {"time": time, "height": height, "pressure": pressure_pa(height), "axial": axial}


def table(
    columns: Mapping[str, Array],
    delimiter: str = ",",
    decimal: str = ".",
    head: bool = True,
    form: str = "{:.4f}",
) -> str:
    """Text of a log."""
    rows = [delimiter.join(columns)] if head else []
    rows += [
        delimiter.join(form.format(value) for value in row).replace(".", decimal)
        for row in zip(*columns.values(), strict=True)
    ]
    return "\n".join(rows) + "\n"


def in_feet(height: Array) -> Array:
    """Metres as feet."""
    return height / FOOT_M
