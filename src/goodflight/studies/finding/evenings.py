"""Sunset and last light as a table for a file that works out no sun: by latitude and day."""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.sun import LAST_LIGHT_RAD, SUNSET_RAD, julian_day, sun_sinks_s

YEAR: Final = 2027  # of the table; another one differs by a minute
LATITUDES_DEG: Final = tuple(range(-62, 63, 2))
EVERY_DAYS: Final = 5
NEVER: Final = -32768


def evenings() -> NDArray[np.int16]:
    """Minutes after midnight of local mean time, (2, latitudes, days): sunset, last light.

    Returns
        minutes : array of int - `NEVER` where the sun does not sink so far. [min]
    Validity
        Between two latitudes and days in a straight line: within 2 min to 56 deg north and south,
        4 min to 60.
    Source
        `sun_sinks_s`.
    """
    start = julian_day(YEAR, 1, 1)
    days = range(0, 366 + EVERY_DAYS, EVERY_DAYS)
    found = [
        [
            [sun_sinks_s(start + day, math.radians(lat), 0.0, height) for day in days]
            for lat in LATITUDES_DEG
        ]
        for height in (SUNSET_RAD, LAST_LIGHT_RAD)
    ]
    minutes = [
        [[NEVER if s is None else round(s / 60.0) for s in row] for row in table] for table in found
    ]
    return np.array(minutes, dtype=np.int16)
