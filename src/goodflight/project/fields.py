"""Types of the entries in project files: quantity texts, names, and their bounds.

Each type reads one TOML value, refuses with found, expected and advice, and describes itself
in JSON Schema so that an editor can help.
"""

from dataclasses import dataclass
from typing import Annotated, Any, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Discriminator, StringConstraints, Tag
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema

from goodflight.physics.vehicle.part import MaterialFamily
from goodflight.project import budgets
from goodflight.project.first_asked import First
from goodflight.project.text_fields import DateField, LeanField, QuantityField
from goodflight.quantity import Quantity


@dataclass(frozen=True)
class Key:
    """What a key of a file is for, written on its field: docs, schema and forms have it from there.

    label, hint : what a form calls it, and what it asks for; empty: the key and its type in words.
    left_out : what holds when it is not written. example : when that of its type would mislead.
    becomes : field of the record that takes it, of a table of `project/head`. share : one standard
    deviation of it as a share, where none is written and that of its kind would mislead.
    first : how the first form asks for it, where it does.
    """

    meaning: str
    label: str = ""
    hint: str = ""
    left_out: str = ""
    example: str = ""
    becomes: str = ""
    share: float | None = None
    first: First | None = None

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        found = handler(schema)
        kind = found.get("description")
        return {**found, "description": f"{self.meaning}; {kind}" if kind else self.meaning}


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
    QuantityField(
        "angle",
        least=-budgets.FULL_TURN_RAD,
        most=budgets.FULL_TURN_RAD,
        widest=budgets.WIDEST_ANGLE_RAD,
    ),
]
Tilt = Annotated[
    Quantity, QuantityField("angle", least=0.0, most=0.5235987756, widest=budgets.WIDEST_ANGLE_RAD)
]
Bearing = Annotated[Quantity, QuantityField("angle", least=0.0, most=budgets.FULL_TURN_RAD)]
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
