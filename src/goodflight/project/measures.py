"""Entries of several words: a width with the way it was measured, and "length x width" pairs.

They read as quantities do: one TOML text in, a value out, or a fault with found, expected, advice.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Annotated, Any, Final

from pydantic_core import PydanticCustomError

from goodflight.physics.recovery.canopy_kinds import WAYS
from goodflight.project.text_fields import QuantityField, TextField, fault, show_found
from goodflight.quantity import Quantity

_LENGTH: Final = QuantityField("length", above=0.0, least=1e-5, most=50.0)
_WIDTH: Final = QuantityField("length", above=0.0, least=0.02, most=50.0)
_COUNT: Final = QuantityField("count", least=0.0, most=48.0)
_TIMES: Final = re.compile(r"\s+[x\u00d7]\s+")


@dataclass(frozen=True)
class Across(Quantity):
    """A width with the way it was measured; `text` is what the builder wrote, way included."""

    way: str = ""


@dataclass(frozen=True)
class AcrossField(TextField):
    """A width of cloth, and how it was measured: "1.00 m across corners"."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return f"a width and how it was measured, like 1.00 m {WAYS[0]}"

    @property
    def words(self) -> str:
        """The kind and its units."""
        return f"length, then {', '.join(WAYS)}"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return f'"1.00 m {WAYS[0]}"'

    def read(self, value: Any) -> Across:
        """Turn a TOML value into a width with its way, or refuse."""
        if isinstance(value, Across):
            return value
        if not isinstance(value, str):
            raise fault(show_found(value), self.wanted, "write it as text in quotes")
        plain = " ".join(value.split())
        way = next((each for each in WAYS if each in plain), "")
        if not way:
            advice = f"say which way it was measured: {', '.join(WAYS)}; or give cloth_area"
            raise fault(show_found(value), self.wanted, advice)
        size = _WIDTH.read(plain.replace(way, " "))
        found = {field.name: getattr(size, field.name) for field in fields(Quantity)}
        return Across(**{**found, "text": value}, way=way)


@dataclass(frozen=True)
class Pair:
    """Two figures of one entry, "180 mm x 72 mm", each with its name."""

    names: tuple[str, str]
    first: Quantity
    second: Quantity
    text: str

    def __iter__(self) -> Iterator[tuple[str, Quantity]]:
        """Each figure with its name."""
        yield self.names[0], self.first
        yield self.names[1], self.second

    def __getitem__(self, name: str) -> Quantity:
        """The figure of a name."""
        return self.first if name == self.names[0] else self.second


@dataclass(frozen=True)
class PairField(TextField):
    """Two figures with x between them: "length x diameter", or a number of equal things."""

    names: tuple[str, str] = ("length", "diameter")
    first: QuantityField = _LENGTH
    second: QuantityField = _LENGTH
    shown: str = "180 mm x 72 mm"

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return f"{self.words}, like {self.shown}"

    @property
    def words(self) -> str:
        """The two figures."""
        return f"{self.names[0]} x {self.names[1]}"

    @property
    def example(self) -> str:
        """One entry, in quotes."""
        return f'"{self.shown}"'

    def read(self, value: Any) -> Pair:
        """Turn a TOML value into two figures, or refuse."""
        if isinstance(value, Pair):
            return value
        if not isinstance(value, str):
            raise fault(show_found(value), self.wanted, "write it as text in quotes")
        halves = _TIMES.split(value.strip())
        if len(halves) != 2:
            advice = f"write {self.words} with an x between spaces"
            raise fault(show_found(value), self.wanted, advice)
        try:
            return Pair(self.names, self.first.read(halves[0]), self.second.read(halves[1]), value)
        except PydanticCustomError as error:
            ctx = dict(error.context or {})
            raise fault(show_found(value), self.wanted, str(ctx["advice"])) from None


Wide = Annotated[Across, AcrossField()]
Roll = Annotated[Pair, PairField()]
Shoulder = Annotated[Pair, PairField(shown="60 mm x 75.8 mm")]
Tab = Annotated[Pair, PairField(("length", "depth"), shown="118 mm x 19 mm")]
Lines = Annotated[Pair, PairField(("count", "length"), _COUNT, shown="6 x 1.1 m")]
