"""What all part kinds share: the common keys, the declaration of a kind, small helpers of checks.

A kind is one module of this package: its table with the words of its keys, its own checks, how it
becomes a record of physics, and what of it still counts once it is weighed. Reading, the JSON
Schema, docs/files.md, the forms of the page and the list of parts to add follow from it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Annotated, Any, Final, get_args

from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Key, Mass, MaterialEntry, Name, Station, Table, Text
from goodflight.project.measures import Pair
from goodflight.project.sheets import Sheet
from goodflight.project.values import Values
from goodflight.quantity import Quantity, show
from goodflight.quantity.said import both

GROUPS: Final = ("fin can", "airframe", "carried", "on the rail")  # where one builds
OVERHANG_M: Final = 0.06  # motor tubes and retainers may stand out behind the tail
NEAR_M: Final = 0.0005  # half a millimetre: what counts as touching
# keys that several kinds have
WHICH: Final = Key("which kind of part this is")
AT: Final = Key(
    "distance of the front end aft of the nose tip",
    left_out="outer parts: the end of the part before",
)
WEIGHT: Final = Key("weight of the part", left_out="worked out from shape and material")
ALONG: Final = Key("length along the body")
OUTSIDE: Final = Key("outside diameter")
INSIDE: Final = Key("inside diameter")


class PartTable(Table):
    """What every part may say."""

    name: Annotated[Name, Key("name, used by other entries")]
    station: Annotated[Station | None, AT] = None
    material: Annotated[
        MaterialEntry | None, Key("name from the library of materials, or a table")
    ] = None
    mass: Annotated[Mass | None, WEIGHT] = None
    balance: Annotated[
        Station | None,
        Key(
            "balance point, from the nose tip",
            left_out="worked out from shape and material, no better than a guess",
        ),
    ] = None
    note: Annotated[Text, Key("a remark; nothing reads it")] = ""


@dataclass(frozen=True)
class Placed:
    """A part that is valid by itself, with its place in the file."""

    path: tuple[str | int, ...]
    table: Any


@dataclass(frozen=True)
class Making:
    """A part on its way to a record of physics: its table, and what the rocket says around it."""

    table: Any
    base: str  # path of its figures
    common: Mapping[str, Any]  # what every record has
    values: Values
    radius_m: float  # of the body at its station
    tail_m: float

    def of(self, key: str, default: float = 0.0) -> float:
        """SI value of one key, overridden ones first."""
        return self.values.of(self.base, self.table, key, default)

    def maybe(self, key: str) -> float | None:
        """SI value of a key that may be unknown."""
        return self.values.maybe(f"{self.base}.{key}", getattr(self.table, key))

    def pair(self, key: str) -> tuple[float, float]:
        """Both SI values of a pair, 0 when it is not given."""
        return self.values.pair(self.base, self.table, key)

    def sized(self, keys: str) -> dict[str, Any]:
        """Lengths as fields of a record: "length wall" gives length_m and wall_m."""
        return {field_of(key): self.of(key) for key in keys.split()}


def field_of(key: str) -> str:
    """Return the field of a part's record that holds a length of the file: its key and the unit."""
    return f"{key}_m"


def resized(part: Part, key: str, length_m: float) -> Part | None:
    """Return a part with another of its lengths, by its key; None where the record has none."""
    name = field_of(key)
    if name not in (each.name for each in fields(part)):
        return None
    changed: dict[str, Any] = {name: length_m}
    return replace(part, **changed)


def length_of(table: Any) -> Quantity | None:
    """Return the quantity that says how long a part is along the axis, or None."""
    return getattr(table, "length", None) or getattr(table, "thickness", None)


@dataclass(frozen=True)
class PartKind:
    """One kind of part, declared once."""

    table: type[PartTable]
    group: str  # one of GROUPS
    rank: int  # place in its group
    build: Callable[[Making], Part]
    check: Callable[[Sheet, Placed], None] | None = None
    still: tuple[str, ...] | None = None  # keys that change a flight once weighed; None = all
    wall: bool = False  # outer and inner diameter are the two sides of one wall
    fits: str = ""  # key that must fit into the body around it
    long: Callable[[Any], Quantity | None] = length_of
    overhang_m: float = NEAR_M  # how far it may stand out behind the tail
    # outer body: diameters in front and behind, and the key of the one in front
    ends: Callable[[Any], tuple[Quantity | None, Quantity]] | None = None
    front: str = "outer_diameter"
    weightless: bool = False  # a room rather than a thing: needs neither mass nor material

    @property
    def key(self) -> str:
        """The kind as it is written in the file."""
        return str(get_args(self.table.model_fields["kind"].annotation)[0])


def mm(value_m: float) -> str:
    """Show a length in a fault."""
    metric = show(value_m, "length", unit="mm", digits=4 if value_m >= 1 else 3)
    return both(value_m, "size", metric)


def quoted(quantity: Quantity | Pair) -> str:
    """Show what the builder wrote in a fault."""
    return f'"{quantity.text}"'


def smaller(
    sheet: Sheet, part: Placed, inner: str, outer: str, factor: float = 1.0, words: str = ""
) -> None:
    """Note a fault unless `factor` times one key is less than another."""
    small, large = getattr(part.table, inner), getattr(part.table, outer)
    if small is None or large is None or small.value * factor < large.value - 1e-9:
        return
    wanted = words or f"less than the {outer.replace('_', ' ')}, {mm(large.value / factor)}"
    sheet.add((*part.path, inner), quoted(small), wanted, f"check {inner} and {outer}")


def hollow(sheet: Sheet, part: Placed) -> None:
    """Note a fault unless the inside is less than the outside."""
    smaller(sheet, part, "inner_diameter", "outer_diameter")


def relative(quantity: Quantity | None, default: float) -> float:
    """Return a spread as a share of its value, or the default."""
    if quantity is None or quantity.sigma is None or quantity.value == 0:
        return default
    return quantity.sigma / quantity.value
