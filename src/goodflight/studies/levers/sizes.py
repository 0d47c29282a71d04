"""Sizes that a builder makes or buys: round figures of the units that the project is shown in."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from goodflight.quantity.units import dimension_of
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.lever import steps


@dataclass(frozen=True)
class Sizes:
    """One kind of size: the unit it is written in and the step between two, metric and imperial."""

    dimension: str
    metric: tuple[str, float]
    imperial: tuple[str, float]

    def unit(self, case: Case) -> tuple[str, float]:
        """Symbol of its unit for a project, and the SI value of one."""
        symbol = getattr(self, case.origin.units)[0]
        found = dimension_of(self.dimension).unit(symbol)
        assert found is not None
        return symbol, found.scale

    def step(self, case: Case) -> float:
        """The step between two sizes [SI]."""
        step: float = getattr(self, case.origin.units)[1]
        return step * self.unit(case)[1]

    def between(self, case: Case, low: float, high: float) -> Iterator[float]:
        """Sizes in whole steps from the first one not below `low`, at least that one [SI]."""
        step = self.step(case)
        first = step * math.ceil(low / step - 1e-6)
        return steps(first, max(first, step * math.floor(high / step + 1e-6)), step)

    def near(self, case: Case, value: float) -> float:
        """The nearest size [SI]."""
        step = self.step(case)
        return step * round(value / step)

    def text(self, case: Case, value: float) -> str:
        """A size as it is written."""
        symbol, scale = self.unit(case)
        return f"{round(value / scale, 4):g} {symbol}"


THICK: Final = Sizes("length", ("mm", 1.0), ("in", 1 / 16))
FILLET: Final = THICK
DRILL: Final = Sizes("length", ("mm", 0.1), ("in", 0.01))
SPAN: Final = Sizes("length", ("mm", 1.0), ("in", 0.125))
ACROSS: Final = Sizes("length", ("m", 0.05), ("in", 2.0))
LONG: Final = Sizes("length", ("m", 0.5), ("ft", 1.0))
FIELD: Final = Sizes("length", ("m", 10.0), ("ft", 50.0))
PLACE: Final = Sizes("length", ("mm", 20.0), ("in", 1.0))
WIND: Final = Sizes("wind", ("m/s", 0.25), ("mph", 0.5))
PULL: Final = Sizes("force", ("N", 1.0), ("lbf", 0.25))
FORCE: Final = Sizes("force", ("N", 1.0), ("lbf", 1.0))
MASS: Final = Sizes("mass", ("g", 5.0), ("oz", 0.25))
AREA: Final = Sizes("area", ("m2", 0.001), ("in2", 1.0))
WARM: Final = Sizes("temperature", ("degC", 1.0), ("degF", 1.0))


def stock(case: Case, metric_mm: tuple[float, ...], imperial_in: tuple[float, ...]) -> list[float]:
    """Sizes as they are sold [m]."""
    sold = metric_mm if case.origin.units == "metric" else imperial_in
    return [each * THICK.unit(case)[1] for each in sold]
