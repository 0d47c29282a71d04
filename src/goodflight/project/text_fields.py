"""Entries that are one text: a quantity, a lean, a date; each reads it, or says what is wrong.

Which of them a key takes, and with which bounds, stands in `fields`.
"""

import datetime
import re
from dataclasses import dataclass
from typing import Any

from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from goodflight.project import budgets
from goodflight.quantity import Quantity, QuantityError, expected, parse
from goodflight.quantity.said import both, marked
from goodflight.quantity.units import dimension_of

FAULT = "project_fault"
_OTHERS = ("30 um", "240 mm", "250 m", "8 km", "1.6", "0.5", "3 deg", "230 deg", "9.81 m/s2",
           "1000 hPa", "9 degC", "3.5 m/s", "4 d", "0")  # fmt: skip
SHOWN = 80  # characters of a wrong text that are repeated in its fault


def fault(found: str, wanted: str, advice: str) -> PydanticCustomError:
    """Make a validation error that carries found, expected and advice."""
    return PydanticCustomError(
        FAULT,
        "found {found}; expected {expected}; {advice}",
        {"found": marked(found), "expected": marked(wanted), "advice": marked(advice)},
    )


class TextField:
    """An entry that is one text: reads it, and says what it looks like."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        raise NotImplementedError

    @property
    def words(self) -> str:
        """The kind and its units."""
        raise NotImplementedError

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        raise NotImplementedError

    def read(self, value: Any) -> Any:
        """Turn a TOML value into what it means, or refuse."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "description": self.wanted}


@dataclass(frozen=True)
class QuantityField(TextField):
    """A quantity text of one dimension with bounds in SI, and how it is known by default."""

    dimension: str
    above: float | None = None
    least: float | None = None
    most: float | None = None
    known: str = "guess"
    widest: float | None = None  # greatest spread; None: as `budgets` says for the dimension

    def read(self, value: Any) -> Quantity:
        """Turn a TOML value into a quantity, or refuse."""
        bare = dimension_of(self.dimension).bare
        if isinstance(value, Quantity):
            return value
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            if not bare:
                wanted = expected(self.dimension)
                raise fault(f"{value} without a unit", f"{wanted}, in quotes", self._quote(value))
            value = repr(value)
        if not isinstance(value, str):
            raise fault(show_found(value), expected(self.dimension), "write it as text in quotes")
        try:
            quantity = parse(value, self.dimension, self.known)
        except QuantityError as error:
            raise fault(error.found, error.expected, error.advice) from None
        self._bounds(quantity)
        return quantity

    def _quote(self, value: float) -> str:
        return f'write "{value:g} {dimension_of(self.dimension).units[0].symbol}" or another unit'

    def _bounds(self, quantity: Quantity) -> None:
        found, size = f'"{quantity.text}"', quantity.value
        kind = expected(self.dimension)
        if self.above is not None and size <= self.above:
            raise fault(found, f"{kind}, more than 0", "check the number; 0 and less are refused")
        if self.least is not None and size < self.least * (1 - 1e-12):
            raise fault(found, f"{kind}, {self._limit(self.least)} or more", "check the number")
        if self.most is not None and size > self.most * (1 + 1e-12):
            advice = "check the number and the unit"
            raise fault(found, f"{kind}, at most {self._limit(self.most)}", advice)
        self._spread(quantity, found)

    def _spread(self, quantity: Quantity, found: str) -> None:
        """Refuse a stated spread that is wider than the figure can have."""
        if quantity.sigma is None:
            return
        widest, words = budgets.widest_spread(self.dimension, quantity.value, self.widest)
        if quantity.sigma > widest * (1 + 1e-9):
            wanted = f"a spread of at most ± {words or self._limit(widest)} here"
            advice = "± is one standard deviation; write a narrower one, or none"
            raise fault(found, wanted, advice)

    def _limit(self, value: float) -> str:
        small = self.dimension != "length" or value < 0.1
        unit = dimension_of(self.dimension).units[0 if small else 2]
        metric = f"{(value - unit.offset) / unit.scale:g} {unit.symbol}".strip()
        return both(value, self.dimension, metric)

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return expected(self.dimension)

    @property
    def words(self) -> str:
        """The kind and its units."""
        units = [unit.symbol for unit in dimension_of(self.dimension).units if unit.symbol]
        return f"{self.dimension.replace('_', ' ')}: {', '.join(units)}"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        for text in (expected(self.dimension).split(" like ")[-1].split(" or ")[0], *_OTHERS):
            try:
                self.read(text)
            except PydanticCustomError:
                continue
            return f'"{text}"'
        raise ValueError(f"no example of {self}; add one to _OTHERS")

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        kind = dimension_of(self.dimension)
        symbols = ", ".join(unit.symbol for unit in kind.units if unit.symbol)
        note = f"{kind.name.replace('_', ' ')}; units: {symbols or 'none'}; " if symbols else ""
        wanted: dict[str, Any] = {
            "type": ["string", "number"] if kind.bare else "string",
            "description": f"{note}optional ± one standard deviation; optional guess, label, "
            "measured or flight",
        }
        return wanted


def show_found(value: Any) -> str:
    """Return a TOML value as it is named in a fault."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        plain = "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in value)
        return f'"{plain}"' if len(plain) <= SHOWN else f'"{plain[:SHOWN]}…"'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return str(value)


@dataclass(frozen=True)
class LeanField(TextField):
    """The way the rail leans: "into wind", or the bearing its top leans to."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return '"into wind" or a bearing like 230 deg'

    @property
    def words(self) -> str:
        """The kind and its units."""
        return "bearing, or into wind"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return '"into wind"'

    def read(self, value: Any) -> Quantity | str:
        """Turn a TOML value into "into wind" or a bearing, or refuse."""
        if value == "into wind":
            return "into wind"
        try:
            return QuantityField("angle", least=0.0, most=budgets.FULL_TURN_RAD).read(value)
        except PydanticCustomError as error:
            ctx = dict(error.context or {})
            advice = str(ctx["advice"])
            if isinstance(value, str) and not any(sign.isdigit() for sign in value):
                advice = 'write "into wind", or the bearing that the top of the rail leans to'
            raise fault(str(ctx["found"]), self.wanted, advice) from None


@dataclass(frozen=True)
class DateField(TextField):
    """A day of the calendar: "2026-10-09", or the same without quotes; "" is a day not given."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return "a day like 2026-10-09"

    @property
    def words(self) -> str:
        """The kind and its units."""
        return "day: year-month-day"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return '"2026-10-09"'

    def read(self, value: Any) -> str:
        """Turn a TOML value into a day as text, or refuse."""
        if type(value) is datetime.date:
            return value.isoformat()
        if not isinstance(value, str):
            raise fault(show_found(value), self.wanted, "write it as text in quotes")
        if value and not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
            advice = "write the year, the month and the day in figures: 2026-10-09"
            raise fault(show_found(value), self.wanted, advice)
        try:
            return value and datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            advice = "no calendar has this day; check the month and the day"
            raise fault(show_found(value), self.wanted, advice) from None

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "format": "date", "description": self.wanted}
