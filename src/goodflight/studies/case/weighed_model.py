"""What a weighing is, and what design and weighings come to together: plain records."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.vehicle import (
    MassItem,
    ReadOff,
    balance_reading,
    mass_reading,
    swing_reading,
)
from goodflight.project.bench_files import SwingTable
from goodflight.studies.case.planned import Joint

Array = NDArray[np.float64]
Kind = Literal["mass", "balance", "swing"]

NOT_ENTERED: Final = "not entered in the design"
_DIMENSION: Final[dict[Kind, str]] = {"mass": "mass", "balance": "length", "swing": "time"}


@dataclass(frozen=True)
class Reading:
    """One figure read off a scale, an edge or a watch, and how it stands to the rest. [SI]

    design : what the design as drawn says; rest : what the design and all other readings say;
    apart : this reading less the rest, in spreads. items : what was on the scale.
    """

    path: str
    kind: Kind
    words: str
    date: str
    value: float
    sigma: float
    items: tuple[str, ...]
    whole: bool
    design: float = 0.0
    rest: float = 0.0
    apart: float = 0.0

    @property
    def dimension(self) -> str:
        """What it is, for showing."""
        return _DIMENSION[self.kind]


@dataclass(frozen=True, eq=False)
class AsBuilt:
    """Every mass of the project as design and weighings have it together.

    items : posterior, those of canopies at home too; design : the same before. inertia : factor of
    the pitch inertia, middle and spread. wider : guesses had to be taken as wider than stated.
    misfit : chi-square of the readings against design and each other, as many degrees of freedom.
    whole : whether a whole rocket was weighed.
    """

    items: Mapping[str, MassItem]
    design: Mapping[str, MassItem]
    readings: tuple[Reading, ...]
    joint: Joint
    inertia: tuple[float, float]
    wider: bool = False
    misfit: float = 0.0

    @property
    def not_entered(self) -> MassItem | None:
        """What the whole weighs more than all parts can."""
        return self.items.get(NOT_ENTERED)

    @property
    def swung(self) -> bool:
        """Whether a swing was timed."""
        return any(reading.kind == "swing" for reading in self.readings)

    @property
    def whole(self) -> bool:
        """Whether a whole rocket was on the scale."""
        return any(reading.whole and reading.kind == "mass" for reading in self.readings)


@dataclass(frozen=True, eq=False)
class Prior:
    items: tuple[MassItem, ...]
    mean: Array
    covariance: Array
    swings: Mapping[str, SwingTable]

    def read(self, here: Array, readings: Sequence[Reading]) -> tuple[Array, Array]:
        """What would be read, and its slopes."""
        count = len(self.items)
        place = {item.name: i for i, item in enumerate(self.items)}
        values, slopes = np.empty(len(readings)), np.zeros((len(readings), 2 * count + 1))
        for row, reading in enumerate(readings):
            on = np.array([place[name] for name in reading.items])
            read = self._one(reading, here[on], here[count + on], on, float(here[-1]))
            values[row] = read.value
            slopes[row, on], slopes[row, count + on] = read.by_mass, read.by_place
            slopes[row, -1] = read.by_factor
        return values, slopes

    def _one(
        self, reading: Reading, masses: Array, places: Array, on: NDArray[np.int64], factor: float
    ) -> ReadOff:
        if reading.kind == "mass":
            return mass_reading(masses)
        if reading.kind == "balance":
            return balance_reading(masses, places)
        own = np.array([_own_m2(self.items[i]) for i in on])
        swing = self.swings[reading.path]
        return swing_reading(
            masses,
            stations_m=places,
            own_m2=own,
            factor=factor,
            spacing_m=swing.spacing.value,
            wires_m=swing.wires.value,
        )


def _own_m2(item: MassItem) -> float:
    return item.pitch_inertia_kg_m2 / item.mass_kg if item.mass_kg > 0.0 else 0.0
