"""What is known of one flight afterwards: readings against time, and what happened when.

Times count from lift-off in `Happened`, from the first reading in `Recorded`. Heights come in two
kinds that are never mixed: of the standard atmosphere (what altimeters report) and of the air as it
was. Whatever was not recorded or not seen is None.
"""

from dataclasses import dataclass, field, fields
from typing import Annotated, Final

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


def _seen(dimension: str) -> dict[str, str]:
    return {"dimension": dimension}


def _time(event: str) -> dict[str, str]:
    return {"dimension": "time", "event": event}


@dataclass(frozen=True)
class Happened:
    """One flight's events and figures with their standard errors, from any source.

    Times from lift-off [s]; heights above the pad [m]; rates downward [m/s].
    """

    burnout_s: Measured | None = field(default=None, metadata=_time("burnout"))
    apogee_s: Measured | None = field(default=None, metadata=_time("apogee"))
    charge_s: Measured | None = field(default=None, metadata=_time("charge"))
    canopy_s: Measured | None = field(default=None, metadata=_time("canopy"))
    second_canopy_s: Measured | None = field(default=None, metadata=_time("second_canopy"))
    landing_s: Measured | None = field(default=None, metadata=_time("landing"))
    apogee_standard_m: Measured | None = field(default=None, metadata=_seen("length"))
    apogee_m: Measured | None = field(default=None, metadata=_seen("length"))
    second_canopy_m: Measured | None = field(default=None, metadata=_seen("length"))
    first_rate_mps: Measured | None = field(default=None, metadata=_seen("speed"))
    last_rate_mps: Measured | None = field(default=None, metadata=_seen("speed"))

    def given(self) -> dict[str, Measured]:
        """What is known, by name."""
        every = {each.name: getattr(self, each.name) for each in fields(self)}
        return {name: value for name, value in every.items() if value is not None}


# of every name: its dimension; of every event that a watch or a film shows: the name of its time
DIMENSION_OF: Final[dict[str, str]] = {
    each.name: each.metadata["dimension"] for each in fields(Happened)
}
TIME_OF: Final[dict[str, str]] = {
    each.metadata["event"]: each.name for each in fields(Happened) if "event" in each.metadata
}
EVENT_OF: Final[dict[str, str]] = {name: event for event, name in TIME_OF.items()}
