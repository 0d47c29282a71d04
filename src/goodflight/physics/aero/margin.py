"""Normal force and centre of pressure at any incidence, as the flight computes them.

Answers: where does the air push when the rocket meets it at 5, 10, 15 degrees, and how much
margin is left? The same formulas as the flight kernel, written plainly. Sources: `body`, `fins`,
`crossflow`.
"""

from typing import Final, NamedTuple

import numpy as np

from goodflight.physics.aero.crossflow import crossflow_drag
from goodflight.physics.aero.curves import smoothstep
from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_STEP

PLATE_CD: Final = 1.2  # of stalled fins broadside


class NormalForce(NamedTuple):
    """Normal force coefficient on the reference area and where it acts."""

    coefficient: float  # [-]
    cp_m: float  # from the nose tip


def _column(tables: AeroTables, name: str, mach: float) -> float:
    """Value of one column at a Mach number, straight between rows, held at the last."""
    place = min(mach / MACH_STEP, tables.mach_table.shape[0] - 1.0)
    i = min(int(place), tables.mach_table.shape[0] - 2)
    column = tables.mach_table[:, AERO_INDEX[name]]
    return float(column[i] + (place - i) * (column[i + 1] - column[i]))


def normal_force(tables: AeroTables, mach: float, incidence_rad: float) -> NormalForce:
    """Normal force coefficient and centre of pressure at an incidence, steady flight.

    Body potential and fins: slope sin a cos a (fins times 1 - b); stalled fins 1.2 plate area
    b sin^2 a; cross-flow eta Cdc planform sin^2 a; b a smooth step in sin^2 a.

    Parameters
        tables : AeroTables - of the vehicle. [-]
        mach : float - Mach number. [-]
        incidence_rad : float - between axis and air, either sign. [rad]
    Returns
        force : NormalForce - coefficient [-] and CP; at zero incidence the small-angle CP. [m]
    Validity
        0 to pi / 2; beyond the start of fin stall within about 20 %.
    Source
        [allen1951], [jorgensen1977].
    Example
        normal_force(tables, 0.3, 0.0873).cp_m
    """
    scalar = {name: float(tables.scalars[i]) for name, i in AERO_SCALAR_INDEX.items()}
    slope, moment, fin, fin_cp = (
        _column(tables, name, mach)
        for name in ("body_slope", "body_moment_m", "fin_slope", "fin_cp_m")
    )
    sine, cosine = float(np.sin(incidence_rad)), float(np.cos(incidence_rad))
    stalled = float(
        smoothstep(sine**2, scalar["fin_stall_start_sin2"], scalar["fin_stall_end_sin2"])
    )
    attached = cosine  # the common sin a is taken out, so that a = 0 has its limit
    fins = fin * attached * (1.0 - stalled)
    fins += PLATE_CD * stalled * scalar["fin_plate_m2"] / scalar["area_m2"] * abs(sine)
    cross = float(crossflow_drag(mach * abs(sine))) * scalar["crossflow_eta"]
    cross *= scalar["planform_m2"] / scalar["area_m2"] * abs(sine)
    total = slope * attached + fins + cross
    turning = moment * attached + fins * fin_cp + cross * scalar["planform_cp_m"]
    return NormalForce(total * sine, turning / total if total != 0.0 else float("nan"))
