"""What the flight needs of a vehicle's aerodynamics, tabulated once per vehicle."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class AeroTables:
    """Mach tables and scalars of one vehicle.

    mach_table : (MACH_COUNT, len(AERO_COLUMNS)), columns as in `flight.registry.AERO_COLUMNS`.
    scalars : (len(AERO_SCALARS),).
    warnings : sentences where the method is outside its validity for this shape.
    """

    mach_table: NDArray[np.float64]
    scalars: NDArray[np.float64]
    warnings: tuple[str, ...] = ()
