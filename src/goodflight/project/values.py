"""Figures of the typed tables as SI values, any of them overridden by its path.

A path names a figure: `rocket.toml:part[nose].mass`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from goodflight.quantity import Quantity

T = TypeVar("T")


class This(Generic[T]):
    """One thing that never changes, as a key by which an answer is remembered: itself, not alike.

    To compare a table with all that are remembered takes longer than to work the answer out.
    """

    __slots__ = ("one",)

    def __init__(self, one: T) -> None:
        self.one = one

    def __eq__(self, other: object) -> bool:
        return isinstance(other, This) and other.one is self.one

    def __hash__(self) -> int:
        return id(self.one)


@dataclass
class Values:
    """Reads figures, overridden ones first, and remembers which overrides were used."""

    overrides: Mapping[str, float] = field(default_factory=dict)
    lengths_known: str = "guess"

    def get(self, path: str, quantity: Quantity | None, default: float = 0.0) -> float:
        """Return the SI value of a figure, or `otherwise` when it is not given."""
        if path in self.overrides:
            return float(self.overrides[path])
        return default if quantity is None else quantity.value

    def maybe(self, path: str, quantity: Quantity | None) -> float | None:
        """Return the SI value of a figure that may be unknown."""
        if path in self.overrides:
            return float(self.overrides[path])
        return None if quantity is None else quantity.value

    def pair(self, base: str, table: Any, key: str) -> tuple[float, float]:
        """Return both SI values of a pair like "180 mm x 72 mm", 0 when it is not given."""
        pair = getattr(table, key)
        if pair is None:
            return 0.0, 0.0
        first, second = (self.get(f"{base}.{key}.{name}", figure) for name, figure in pair)
        return first, second

    def of(self, base: str, table: Any, key: str, default: float = 0.0) -> float:
        """Return the SI value of `table.key`, whose path is `base.key`."""
        return self.get(f"{base}.{key}", getattr(table, key), default)


def part_path(name: str) -> str:
    """Return the path of a part in overrides and faults."""
    return f"rocket.toml:part[{name}]"
