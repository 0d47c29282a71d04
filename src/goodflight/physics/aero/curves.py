"""Published curves as frozen tables that check themselves, and straight-line reading of them.

Every table names its figure. All were read in a stored copy of the source's tabulation; the raw
files stand with the tests. Outside its range a curve is held at its end value.
"""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Curve:
    """One dependent value against one variable."""

    points: tuple[tuple[float, float], ...]
    source: str
    _x: Array = field(init=False, repr=False, compare=False)
    _y: Array = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        x, y = np.array(self.points, dtype=np.float64).T
        if np.any(np.diff(x) <= 0.0) or not np.all(np.isfinite(y)):
            raise ValueError(f"curve of {self.source}: the variable must rise, values be finite")
        object.__setattr__(self, "_x", x)
        object.__setattr__(self, "_y", y)

    def __call__(self, x: ArrayLike) -> Array:
        """Value at x, held at the ends."""
        return np.asarray(np.interp(np.asarray(x, dtype=np.float64), self._x, self._y))


@dataclass(frozen=True)
class Surface:
    """One dependent value against two variables, straight lines both ways."""

    rows: tuple[float, ...]
    columns: tuple[float, ...]
    values: tuple[tuple[float, ...], ...]
    source: str
    _rows: Array = field(init=False, repr=False, compare=False)
    _columns: Array = field(init=False, repr=False, compare=False)
    _values: Array = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        rows, columns = np.array(self.rows), np.array(self.columns)
        values = np.array(self.values, dtype=np.float64)
        if np.any(np.diff(rows) <= 0.0) or np.any(np.diff(columns) <= 0.0):
            raise ValueError(f"table of {self.source}: rows and columns must rise")
        if values.shape != (len(rows), len(columns)) or not np.all(np.isfinite(values)):
            raise ValueError(f"table of {self.source}: {values.shape} values do not fit the axes")
        object.__setattr__(self, "_rows", rows)
        object.__setattr__(self, "_columns", columns)
        object.__setattr__(self, "_values", values)

    def along_rows(self, column: Array) -> Array:
        """Values of every row at each column variable: shape (len(column), len(rows))."""
        j = np.clip(np.searchsorted(self._columns, column) - 1, 0, len(self._columns) - 2)
        lower, upper = self._columns[j], self._columns[j + 1]
        t = np.clip((column - lower) / (upper - lower), 0.0, 1.0)
        return np.asarray(
            self._values[:, j].T * (1 - t)[:, None] + self._values[:, j + 1].T * t[:, None]
        )

    def __call__(self, row: ArrayLike, column: ArrayLike) -> Array:
        """Value at (row, column), held at the edges."""
        r, c = np.broadcast_arrays(
            np.asarray(row, dtype=np.float64), np.asarray(column, dtype=np.float64)
        )
        i = np.clip(np.searchsorted(self._rows, r) - 1, 0, len(self._rows) - 2)
        j = np.clip(np.searchsorted(self._columns, c) - 1, 0, len(self._columns) - 2)
        s = np.clip((r - self._rows[i]) / (self._rows[i + 1] - self._rows[i]), 0.0, 1.0)
        t = np.clip((c - self._columns[j]) / (self._columns[j + 1] - self._columns[j]), 0.0, 1.0)
        v = self._values
        low = v[i, j] * (1 - t) + v[i, j + 1] * t
        high = v[i + 1, j] * (1 - t) + v[i + 1, j + 1] * t
        return np.asarray(low * (1 - s) + high * s)


def smoothstep(x: ArrayLike, start: float, end: float) -> Array:
    """0 below start, 1 above end, 3 t^2 - 2 t^3 between: value and slope join.

    Parameters
        x : float or array - where. [-]
        start, end : float - of the rise. [-]
    Returns
        share : array - 0 to 1. [-]
    Source
        Cubic with flat ends.
    """
    t = np.clip((np.asarray(x, dtype=np.float64) - start) / (end - start), 0.0, 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))


_DATCOM: Final = "[datcom1978] fig "
APPARENT_MASS: Final = Curve(
    (
        (4, 0.77),
        (5, 0.825),
        (6, 0.865),
        (8, 0.91),
        (10, 0.94),
        (12, 0.955),
        (14, 0.965),
        (16, 0.97),
        (18, 0.973),
        (20, 0.975),
    ),
    _DATCOM + "4.2.1.1-20",
)
CROSSFLOW_CD: Final = Curve(
    (
        (0, 1.2),
        (0.2, 1.2),
        (0.3, 1.21),
        (0.36, 1.23),
        (0.4, 1.27),
        (0.5, 1.36),
        (0.6, 1.5),
        (0.7, 1.67),
        (0.77, 1.75),
        (0.8, 1.77),
        (0.86, 1.8),
        (0.9, 1.8),
        (0.98, 1.8),
        (1, 1.79),
        (1.111, 1.74),
        (1.25, 1.65),
        (1.666, 1.47),
        (2.5, 1.355),
        (3.33, 1.315),
        (10, 1.255),
    ),
    _DATCOM + "4.2.1.2-35b",
)
CROSSFLOW_ETA: Final = Curve(
    (
        (2, 0.56),
        (4, 0.6),
        (8, 0.66),
        (12, 0.71),
        (16, 0.74),
        (20, 0.76),
        (24, 0.775),
        (28, 0.79),
    ),
    _DATCOM + "4.2.1.2-35a",
)
ROUGHNESS_EXPONENT: Final = Curve(
    ((0, 1.5778), (1, 1.67221), (2, 1.98509), (3, 2.28874)), _DATCOM + "4.1.5.1-27"
)
DRAG_RISE: Final = Curve(
    (
        (1, 0.63),
        (2, 0.708),
        (3, 0.769),
        (4, 0.814),
        (5, 0.849),
        (6, 0.873),
        (8, 0.907),
        (10, 0.931),
        (12, 0.956),
    ),
    "[raymer1992] fig 12.28, subsonic design",
)
_LIFT_ROWS: Final = (0.0, 0.4, 0.8, 1.2, 2.0, 3.0, 4.0, 5.0)
OGIVE_SLOPE: Final = Surface(
    _LIFT_ROWS,
    (0, 0.4, 0.6, 0.8, 1.0, 1.1, 1.25, 1.43, 1.667, 2.0, 10.0),
    (
        (2.25, 2.46, 2.42, 2.33, 2.21, 2.14, 2.07, 1.99, 1.91, 1.83, 1.43),
        (2.25, 2.63, 2.69, 2.71, 2.66, 2.61, 2.55, 2.48, 2.39, 2.3, 1.85),
        (2.25, 2.74, 2.87, 2.93, 2.93, 2.91, 2.87, 2.78, 2.68, 2.56, 1.96),
        (2.25, 2.78, 2.95, 3.04, 3.09, 3.08, 3.06, 2.96, 2.86, 2.71, 1.96),
        (2.25, 2.81, 3.01, 3.13, 3.25, 3.27, 3.25, 3.18, 3.06, 2.78, 1.38),
        (2.25, 2.83, 3.04, 3.19, 3.31, 3.33, 3.33, 3.26, 3.14, 2.87, 1.52),
        (2.25, 2.83, 3.04, 3.22, 3.34, 3.36, 3.35, 3.3, 3.18, 2.94, 1.74),
        (2.25, 2.83, 3.04, 3.22, 3.34, 3.36, 3.35, 3.3, 3.18, 2.94, 1.74),
    ),
    _DATCOM + "4.2.1.1-21a",
)
CONE_SLOPE: Final = Surface(
    _LIFT_ROWS,
    (0, 0.4, 0.6, 0.678, 0.8, 0.9, 1.0, 1.25, 2.0, 10.0),
    (
        (2.08, 1.96, 1.87, 1.84, 1.84, 1.85, 1.85, 1.85, 1.85, 1.85),
        (2.64, 2.59, 2.55, 2.53, 2.47, 2.42, 2.37, 2.35, 2.35, 2.43),
        (2.62, 2.77, 2.79, 2.8, 2.8, 2.8, 2.78, 2.76, 2.76, 2.77),
        (2.51, 2.84, 2.95, 2.98, 3.04, 3.07, 3.08, 3.04, 3.0, 2.94),
        (2.35, 2.86, 3.04, 3.1, 3.2, 3.24, 3.24, 3.28, 3.32, 3.43),
        (2.36, 2.9, 3.1, 3.18, 3.28, 3.3, 3.31, 3.38, 3.47, 3.62),
        (2.37, 2.92, 3.14, 3.25, 3.35, 3.36, 3.37, 3.47, 3.61, 3.8),
        (2.38, 2.95, 3.19, 3.33, 3.4, 3.41, 3.42, 3.56, 3.75, 3.98),
    ),
    _DATCOM + "4.2.1.1-21b",
)
# nose wave drag ordinate of pointed noses against 2 ln / (beta d); CD = Y pi d^4 / (16 S ln^2)
CONE_WAVE: Final = Curve(
    (
        (1, 0.45),
        (2, 1.75),
        (3, 2.49),
        (4, 3.0),
        (5, 3.35),
        (6, 3.72),
        (8, 4.25),
        (10, 4.9),
        (15, 5.1),
        (20, 5.5),
    ),
    _DATCOM + "4.2.3.1-28",
)
OGIVE_WAVE: Final = 4.68  # [datcom1978] fig 4.2.3.1-27, pointed: the same at every Mach number
LIFTING_SURFACE: Final = Surface(
    (0.25, 0.6, 0.8, 0.9),
    (0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0),
    (
        (0.81, 0.85, 0.89, 0.925, 0.96, 1.0, 1.03, 1.05, 1.06, 1.06, 1.07),
        (0.88, 0.92, 0.96, 1.0, 1.04, 1.08, 1.11, 1.13, 1.14, 1.14, 1.15),
        (1.0, 1.04, 1.08, 1.11, 1.15, 1.18, 1.21, 1.23, 1.25, 1.25, 1.26),
        (1.1, 1.13, 1.17, 1.2, 1.24, 1.27, 1.3, 1.33, 1.34, 1.35, 1.36),
    ),
    _DATCOM + "4.1.5.1-28b",
)
