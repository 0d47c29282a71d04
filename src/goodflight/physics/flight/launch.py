"""What all flights of one call of the kernel share, beside what each row of parameters says."""

from dataclasses import dataclass

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import BY_DELAY, TOLERANCE
from goodflight.physics.motor.model import Motor


@dataclass(frozen=True, eq=False)
class Launch:
    """What is launched, what opens, and how its flights are worked out.

    deployment : BY_DELAY, BY_ALTIMETER or NOTHING_OPENS. turbulence : False: the mean wind only.
    tolerance : of one step, see `stepper.SCALE`. node_spacing_m4 : spacing of the air column's
    nodes in the fourth root of height [m^0.25], so that studies of one vehicle share their gusts;
    None: from `column_spacing`.
    """

    motor: Motor
    tables: AeroTables
    deployment: int = BY_DELAY
    turbulence: bool = True
    tolerance: float = TOLERANCE
    node_spacing_m4: float | None = None
