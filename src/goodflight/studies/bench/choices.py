"""What the builder chooses for the workbench: kerf, clearances, paper, sheets, extra holes.

Read from the `[bench]` table of `build.toml`; everything has a default. Defaults are common
practice, no source. Nothing here is a figure of the flight.
"""

from dataclasses import dataclass, replace
from typing import Annotated, Any, Final, Literal

from pydantic import Field

from goodflight.project import Fault, Project, ProjectErrors
from goodflight.project.fields import Angle, Length, LengthOrZero, Name, Station, Table, Text
from goodflight.project.sheets import Sheet, read_sheet
from goodflight.quantity import Quantity

FILE: Final = "build.toml"


class HoleTable(Table):
    """One more hole in a tube: a camera port, a switch, a vent of your own."""

    name: Name
    station: Station
    angle: Angle | None = None  # from fin 1, clockwise seen from behind
    diameter: Length | None = None
    width: Length | None = None  # round the tube: a hatch, with `length`
    length: Length | None = None
    corner: LengthOrZero | None = None


class StockTable(Table):
    """A sheet you have or can buy."""

    name: Name
    material: Text = ""
    thickness: Length
    width: Length
    height: Length


class PriceTable(Table):
    """What one metre, panel or piece of a line of the shopping list costs you."""

    of: Name  # words of the line
    each: Annotated[float, Field(ge=0.0, le=1e6)]


class BenchTable(Table):
    """`[bench]` in build.toml."""

    kerf: LengthOrZero | None = None
    clearance: LengthOrZero | None = None
    cut_error: LengthOrZero | None = None
    plate: Length | None = None
    seat: Literal["body", "motor_tube"] = "body"
    paper: LengthOrZero | None = None
    circumference: Length | None = None
    tape: LengthOrZero | None = None
    arm_reach: Length | None = None
    bed: Length | None = None
    bolt_circle: Length | None = None
    bolts: Annotated[int, Field(ge=0, le=12)] = 0
    bolt: Length | None = None
    measured_cant: list[Angle] = Field(default_factory=list)
    hole: list[HoleTable] = Field(default_factory=list)
    stock: list[StockTable] = Field(default_factory=list)
    money: Text = ""
    price: Annotated[list[PriceTable], Field(max_length=200)] = Field(default_factory=list)


@dataclass(frozen=True)
class Hole:
    """A hole or hatch in a tube; round when `width_m` is 0."""

    name: str
    station_m: float  # of its middle
    angle_rad: float
    diameter_m: float
    width_m: float = 0.0
    length_m: float = 0.0
    corner_m: float = 0.0


@dataclass(frozen=True)
class Stock:
    """A sheet of material."""

    name: str
    material: str
    thickness_m: float
    width_m: float
    height_m: float


@dataclass(frozen=True)
class Price:
    """What one unit of a line of the shopping list costs, in the builder's money."""

    of: str
    each: float


@dataclass(frozen=True)
class Choices:
    """All choices with their defaults, SI."""

    kerf_m: float = 0.0002  # what the cutter takes away, whole width
    clearance_m: float = 0.0002  # slot wider than what goes in, whole
    cut_error_m: float = 0.0002  # one standard deviation of where a cut edge lies
    plate_m: float = 0.004  # thickness of the guide's sheet
    seat: str = "body"  # the guide sits on the body or on the bare motor tube
    paper_m: float = 0.0001  # thickness of the printing paper
    circumference_m: float | None = None  # as measured round the body with the tape below
    tape_m: float = 0.0001  # thickness of the tape or paper strip measured with
    arm_reach_m: float = 0.35  # how deep a hand works in a tube
    bed_m: float = 0.22  # side of the printer's square bed
    bolt_circle_m: float = 0.0  # diameter, on the rearmost ring; 0 = none
    bolts: int = 0
    bolt_m: float = 0.0032  # hole
    measured_cants_rad: tuple[float, ...] = ()  # of the finished fin can, one a fin
    holes: tuple[Hole, ...] = ()
    stock: tuple[Stock, ...] = (
        Stock("sheet 300 x 600", "", 0.0, 0.600, 0.300),  # any thickness
    )
    money: str = ""  # name of the money that prices are in
    prices: tuple[Price, ...] = ()


_KEYS: Final = (
    "kerf", "clearance", "cut_error", "plate", "paper", "circumference", "tape", "arm_reach",
    "bed", "bolt_circle", "bolt",
)  # fmt: skip


def _si(quantity: Quantity | None, default: float = 0.0) -> float:
    return default if quantity is None else quantity.value


def choices_of(project: Project) -> Choices:
    """Read the builder's choices from `[bench]` in build.toml.

    Parameters
    ----------
    project : Project - as loaded. [-]

    Returns
    -------
    choices : Choices - with defaults where nothing is written. [SI]

    Raises
    ------
    ProjectErrors - an entry of the table is not valid; all of them are listed.
    """
    text = project.texts.get(FILE)
    if text is None:
        return Choices()
    sheet = read_sheet(FILE, text)
    data = sheet.data.get("bench")
    if data is None:
        return Choices()
    table = _checked(sheet, data)
    values: dict[str, Any] = {
        f"{key}_m": getattr(table, key).value for key in _KEYS if getattr(table, key) is not None
    }
    chosen = replace(Choices(), seat=table.seat, bolts=table.bolts, **values)
    holes = tuple(
        Hole(
            name=h.name,
            station_m=h.station.value,
            angle_rad=_si(h.angle),
            diameter_m=_si(h.diameter),
            width_m=_si(h.width),
            length_m=_si(h.length),
            corner_m=_si(h.corner),
        )
        for h in table.hole
    )
    stock = tuple(
        Stock(s.name, s.material, s.thickness.value, s.width.value, s.height.value)
        for s in table.stock
    )
    cants = tuple(each.value for each in table.measured_cant)
    return replace(
        chosen,
        holes=holes,
        stock=stock or chosen.stock,
        measured_cants_rad=cants,
        money=table.money,
        prices=tuple(Price(x.of, x.each) for x in table.price),
    )


def _checked(sheet: Sheet, data: Any) -> BenchTable:
    table = sheet.check(("bench",), data, BenchTable)
    if table is None:
        raise ProjectErrors(sheet.faults)
    wrong = [
        Fault(
            FILE,
            sheet.lines.get(("bench", "hole", i), 1),
            f"bench.hole[{hole.name}]",
            found="no size",
            expected="a diameter, or a width and a length",
            advice='add the line diameter = "12 mm"',
        )
        for i, hole in enumerate(table.hole)
        if hole.diameter is None and (hole.width is None or hole.length is None)
    ]
    if wrong:
        raise ProjectErrors(wrong)
    return table
