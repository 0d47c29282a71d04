"""Types of the entries in project files: quantity texts, names, and their bounds.

Each type reads one TOML value, refuses with found, expected and advice, and describes itself
in JSON Schema so that an editor can help.
"""

import datetime
import re
from dataclasses import dataclass
from typing import Annotated, Any, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Discriminator, StringConstraints, Tag
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from goodflight.physics.vehicle.part import MaterialFamily
from goodflight.project import budgets
from goodflight.quantity import Quantity, QuantityError, expected, parse
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
        {"found": found, "expected": wanted, "advice": advice},
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
class Key:
    """What a key of a file is for, written on its field: docs, schema and forms have it from there.

    label, hint : what a form calls it, and what it asks for; empty: the key and its type in words.
    left_out : what holds when it is not written. example : when that of its type would mislead.
    becomes : field of the record that takes it, of what `project/separation.py` reads.
    """

    meaning: str
    label: str = ""
    hint: str = ""
    left_out: str = ""
    example: str = ""
    becomes: str = ""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        found = handler(schema)
        kind = found.get("description")
        return {**found, "description": f"{self.meaning}; {kind}" if kind else self.meaning}


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
        return f"{(value - unit.offset) / unit.scale:g} {unit.symbol}".strip()

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
            return QuantityField("angle", least=0.0, most=6.2831853072).read(value)
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


def _material_tag(value: Any) -> str:
    return "table" if isinstance(value, (dict, BaseModel)) else "name"


Length = Annotated[Quantity, QuantityField("length", above=0.0, least=1e-5, most=50.0)]
Diameter = Annotated[Quantity, QuantityField("length", above=0.0, least=0.002, most=2.0)]
FinSize = Annotated[Quantity, QuantityField("length", above=0.0, least=0.001, most=3.0)]
LengthOrZero = Annotated[Quantity, QuantityField("length", least=0.0, most=50.0)]
Station = Annotated[
    Quantity,
    QuantityField("length", least=0.0, most=50.0, widest=budgets.WIDEST_STATION_M),
]
Height = Annotated[Quantity, QuantityField("length", above=0.0, most=30000.0)]
Distance = Annotated[Quantity, QuantityField("length", above=0.0, most=500000.0)]
Elevation = Annotated[Quantity, QuantityField("length", least=-500.0, most=6000.0, widest=500.0)]
Coordinate = Annotated[
    Quantity,
    QuantityField("length", least=-3.0, most=3.0, widest=budgets.WIDEST_STATION_M),
]
Roughness = Annotated[Quantity, QuantityField("length", least=0.0, most=2e-3, widest=2e-3)]
Mass = Annotated[Quantity, QuantityField("mass", least=0.0, most=500.0)]
LabelMass = Annotated[Quantity, QuantityField("mass", above=0.0, most=500.0, known="label")]
LabelLength = Annotated[Quantity, QuantityField("length", above=0.0, most=10.0, known="label")]
MeasuredMass = Annotated[Quantity, QuantityField("mass", above=0.0, most=500.0, known="measured")]
MeasuredLength = Annotated[
    Quantity, QuantityField("length", least=0.0, most=50.0, known="measured")
]
MeasuredTime = Annotated[Quantity, QuantityField("time", above=0.0, most=3600.0, known="measured")]
Angle = Annotated[
    Quantity,
    QuantityField("angle", least=-6.2831853072, most=6.2831853072, widest=budgets.WIDEST_ANGLE_RAD),
]
Tilt = Annotated[
    Quantity, QuantityField("angle", least=0.0, most=0.5235987756, widest=budgets.WIDEST_ANGLE_RAD)
]
Bearing = Annotated[Quantity, QuantityField("angle", least=0.0, most=6.2831853072)]
Speed = Annotated[Quantity, QuantityField("wind", least=0.0, most=60.0)]
Temperature = Annotated[Quantity, QuantityField("temperature", least=223.15, most=333.15)]
Pressure = Annotated[
    Quantity, QuantityField("pressure", least=40000.0, most=110000.0, widest=5000.0)
]
Modulus = Annotated[Quantity, QuantityField("pressure", above=0.0, least=1e3, most=1e13)]
Density = Annotated[Quantity, QuantityField("density", above=0.0, most=25000.0)]
DensityOrZero = Annotated[Quantity, QuantityField("density", least=0.0, most=25000.0)]
AreaDensity = Annotated[Quantity, QuantityField("area_density", least=0.0, most=10.0)]
Area = Annotated[Quantity, QuantityField("area", above=0.0, most=500.0)]
Volume = Annotated[Quantity, QuantityField("volume", above=0.0, most=10.0)]
Force = Annotated[Quantity, QuantityField("force", above=0.0, least=1e-3, most=1e6)]
Impulse = Annotated[Quantity, QuantityField("impulse", above=0.0, known="label")]
Delay = Annotated[Quantity, QuantityField("time", least=0.0, most=60.0, known="label")]
Seconds = Annotated[Quantity, QuantityField("time", least=0.0, most=3600.0)]
Hours = Annotated[Quantity, QuantityField("time", least=0.0)]
Ratio = Annotated[Quantity, QuantityField("ratio", above=0.0, most=10.0)]
Exponent = Annotated[Quantity, QuantityField("ratio", least=0.05, most=1.0)]
HaackC = Annotated[Quantity, QuantityField("ratio", least=0.0, most=2.0 / 3.0)]
OgiveRatio = Annotated[Quantity, QuantityField("ratio", least=1.0, most=100.0)]
Share = Annotated[Quantity, QuantityField("ratio", least=0.0, most=1.0)]
GustFactor = Annotated[Quantity, QuantityField("ratio", least=1.0, most=4.0)]
Gravity = Annotated[Quantity, QuantityField("acceleration", least=9.7, most=9.9)]
Lean = Annotated[Quantity | str, LeanField()]
Name = Annotated[
    str, StringConstraints(min_length=1, max_length=60, pattern=r"^[^\[\]:\"\\\x00-\x1f]+$")
]
Text = Annotated[str, StringConstraints(max_length=2000)]
ToDo = Annotated[str, StringConstraints(min_length=1, max_length=300)]  # what is to be done
Date = Annotated[str, DateField()]


class Table(BaseModel):
    """A table of a project file; keys that are not listed are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, defer_build=True)

    def changed(self, **entries: Any) -> Self:
        """The table with some entries written otherwise, checked as in a file."""
        return self.model_validate({**dict(self), **entries})


Model = TypeVar("Model", bound=Table)


class Says(Table):
    """Keys that go into the case as they are written, for rows and levers to read."""


def keys_of(model: type[Table]) -> list[str]:
    """Return the keys of a table as they are shown: its own, then those that rows read."""
    said = next((base for base in model.__bases__ if issubclass(base, Says)), Says)
    return [key for key in model.model_fields if key not in said.model_fields] + list(
        said.model_fields
    )


def said_in(model: type[Model], table: Model) -> Model:
    """Return only what `model` lists of a table that holds more."""
    return model.model_construct(**{key: getattr(table, key) for key in model.model_fields})


def key_words(model: type[Table], key: str) -> Key | None:
    """Return what is said of a key on its field, None when nothing is."""
    return next((each for each in model.model_fields[key].metadata if isinstance(each, Key)), None)


class MaterialTable(Table):
    """A material described in place."""

    name: Annotated[Name, Key("name of the material")]
    density: Annotated[Density, Key("density")]
    shear_modulus: Annotated[
        Modulus | None, Key("shear modulus, for flutter", example="600 MPa")
    ] = None
    bending_strength: Annotated[
        Modulus | None, Key("bending strength, for fins", example="60 MPa")
    ] = None
    family: Annotated[MaterialFamily, Key("kind of wall, for its crushing strength")] = ""
    source: Annotated[Text, Key("where the figures come from")] = ""


MaterialEntry = Annotated[
    Annotated[Name, Tag("name")] | Annotated[MaterialTable, Tag("table")],
    Discriminator(_material_tag),
]
