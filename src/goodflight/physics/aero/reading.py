"""The aerodynamic table read for many flights at once, each with its own factors.

Answers: which slopes, CP and drag area has the rocket at the speed of each flight? Rows of the
table are taken as the nearest one for slopes, which hardly change between two of them, and straight
between rows for drag.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_COUNT, MACH_STEP

Array = NDArray[np.float64]
Values = NDArray[np.float64] | float
SHIFT_MACH: Final = 0.3


class Slopes(NamedTuple):
    """Normal-force slopes of body and fins on the reference area [1/rad] and their CP [m]."""

    body: Array
    fin: Array
    cp_m: Array  # small angles, from the nose tip
    fin_cp_m: Array  # of the fins alone

    @property
    def total(self) -> Array:
        """Slope of the whole rocket [1/rad]."""
        return np.asarray(self.body + self.fin)


def scalar(tables: AeroTables, name: str) -> float:
    """One number of the vehicle that belongs to no Mach number, by its name in the registry.

    Parameters
        tables : AeroTables - of the vehicle. [-]
        name : str - one of `AERO_SCALARS`. [-]
    Returns
        value : float - in the unit the name ends in. [SI]
    Source
        Definition.
    """
    return float(tables.scalars[AERO_SCALAR_INDEX[name]])


def slopes_at(
    tables: AeroTables, mach: Values, body_factor: Values = 1.0, fin_factor: Values = 1.0
) -> Slopes:
    """Small-angle slopes and CP at a Mach number, for loads and stability of many flights.

    Nearest row of the table; CP = (sum of slope x station) / (sum of slopes), each slope times the
    factor of its flight.

    Parameters
        tables : AeroTables - of the vehicle. [-]
        mach : float or array - Mach number. [-]
        body_factor : float or array - on the body's slope. [-]
        fin_factor : float or array - on the fins' slope. [-]
    Returns
        slopes : Slopes - body, fins, CP; nan CP where nothing lifts. [1/rad, m]
    Raises
        nothing
    Validity
        Beyond the last row (Mach 2) the last row is used.
    Source
        [barrowman1967] for the sum of moments.
    Example
        slopes_at(tables, 0.06).cp_m
    """
    table = tables.mach_table
    place = np.rint(np.asarray(mach, dtype=np.float64) / MACH_STEP).astype(np.int64)
    row = np.clip(place, 0, table.shape[0] - 1)
    body = table[row, AERO_INDEX["body_slope"]] * body_factor
    fin = table[row, AERO_INDEX["fin_slope"]] * fin_factor
    moment = table[row, AERO_INDEX["body_moment_m"]] * body_factor
    fins_at = table[row, AERO_INDEX["fin_cp_m"]]
    moment = moment + fin * fins_at
    with np.errstate(divide="ignore", invalid="ignore"):
        cp = np.asarray(moment / (body + fin))
    return Slopes(np.asarray(body), np.asarray(fin), cp, np.asarray(fins_at))


def cp_follows_m(tables: AeroTables, body_change: Values, fin_change: Values) -> Array:
    """How far the CP moves aft when the slopes of body and fins change by small shares.

    dX = (CNb b (Xb - X) + CNf f (Xf - X)) / (CNb + CNf), to first order, at Mach 0.3.

    Parameters
        tables : AeroTables - of the vehicle. [-]
        body_change, fin_change : float or array - relative changes b, f of the slopes. [-]
    Returns
        shift : array - of the CP. [m]
    Raises
        nothing
    Validity
        Changes of some per cent.
    Source
        Derivative of the sum of moments in `slopes_at`.
    Example
        cp_follows_m(tables, 0.0, 0.02)
    """
    at = slopes_at(tables, SHIFT_MACH)
    body_cp_m = (at.cp_m * at.total - at.fin * at.fin_cp_m) / at.body if at.body else 0.0
    moved = at.body * body_change * (body_cp_m - at.cp_m)
    return np.asarray((moved + at.fin * fin_change * (at.fin_cp_m - at.cp_m)) / at.total)


def one_fin_slope(
    fin_slope: Values, count: int, reference_area_m2: float, panel_area_m2: float
) -> Array:
    """Slope of one fin that meets the flow square on, on its own area, body's share included.

    Of n >= 3 fins the set carries as much as n / 2 fins square on: slope x 2 / n x A / S.

    Parameters
        fin_slope : float or array - of the set, on the reference area. [1/rad]
        count : int - fins. [-]
        reference_area_m2 : float - A. [m2]
        panel_area_m2 : float - S, one exposed panel. [m2]
    Returns
        slope : array - on the panel's area. [1/rad]
    Raises
        nothing
    Validity
        Three fins or more, evenly spread.
    Source
        Sum of sin^2 over evenly spread fins; derived.
    Example
        >>> float(one_fin_slope(9.0, 3, 0.005, 0.01))
        3.0
    """
    slope = np.asarray(fin_slope, dtype=np.float64)
    return np.asarray(slope * 2.0 / count * reference_area_m2 / panel_area_m2)


def coast_drag_area_m2(tables: AeroTables, mach: Values, axial_factor: Values = 1.0) -> Array:
    """Drag area of the whole rocket while it coasts, motor out, nose into the wind.

    CA(M) A, straight between the rows of the table.

    Parameters
        tables : AeroTables - of the vehicle. [-]
        mach : float or array - Mach number. [-]
        axial_factor : float or array - on the drag. [-]
    Returns
        area : array - drag over dynamic pressure. [m2]
    Raises
        nothing
    Validity
        Zero incidence, at the pad's height; as the drag build-up.
    Source
        See `build.axial_force`.
    Example
        coast_drag_area_m2(tables, 0.3)
    """
    grid = np.arange(MACH_COUNT) * MACH_STEP
    axial = np.interp(mach, grid, tables.mach_table[:, AERO_INDEX["axial_low"]])
    return np.asarray(axial * scalar(tables, "area_m2") * axial_factor)
