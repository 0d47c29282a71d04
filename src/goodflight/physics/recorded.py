"""What is known of one flight afterwards: readings against time, and what happened when.

Times count from lift-off in `Happened`, from the first reading in `Recorded`. Heights come in two
kinds that are never mixed: of the standard atmosphere (what altimeters report) and of the air as it
was. Whatever was not recorded or not seen is None.
"""

from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Recorded:
    """Readings of one logger, in the order of time.

    time_s : (readings,), strictly increasing, from the first reading. [s]
    pressure_pa : (readings,) of the static pressure, NaN where a reading is missing. [Pa]
    standard_height_m : (readings,) above where it started, as the logger itself worked it out with
    the standard atmosphere; for a log without pressure. [m]
    axial_mps2 : (readings,) of the specific force along the rocket, positive towards the nose: +g
    at rest on a vertical rail, negative in the coast. [m/s2]
    saturated_mps2 : the axial reading that this sensor does not go beyond. [m/s2]
    """

    time_s: Array
    pressure_pa: Array | None = None
    standard_height_m: Array | None = None
    axial_mps2: Array | None = None
    saturated_mps2: float | None = None


@dataclass(frozen=True)
class Measured:
    """A figure with its standard error."""

    value: Annotated[float, "middle [SI]"]
    error: Annotated[float, "standard error [SI]"]


@dataclass(frozen=True)
class Happened:
    """One flight's events and figures with their standard errors, from any source.

    Times from lift-off [s]; heights above the pad [m]; rates downward [m/s].
    """

    burnout_s: Measured | None = None
    apogee_s: Measured | None = None
    charge_s: Measured | None = None
    canopy_s: Measured | None = None
    second_canopy_s: Measured | None = None
    landing_s: Measured | None = None
    apogee_standard_m: Measured | None = None
    apogee_m: Measured | None = None
    second_canopy_m: Measured | None = None
    first_rate_mps: Measured | None = None
    last_rate_mps: Measured | None = None
