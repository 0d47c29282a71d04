"""The part kind `canopy`: a parachute or a streamer, by its size as measured or by its cloth."""

from typing import ClassVar, Literal

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project import defaults
from goodflight.project.fields import Area, AreaDensity, Force, LengthOrZero, Mass, Ratio, Station
from goodflight.project.measures import Lines, Roll, Wide
from goodflight.project.parts.table import Making, PartKind, PartTable, Placed, quoted, relative
from goodflight.project.sheets import Sheet

CanopyShape = Literal[
    "flat_circular",
    "flat_hexagonal",
    "flat_octagonal",
    "flat_square",
    "conical",
    "extended_skirt",
    "hemispherical",
    "annular",
    "cross",
    "ringslot",
    "streamer",
]  # as in physics; a test compares


class CanopyTable(PartTable):
    """A parachute or a streamer: its size as it was measured, or the area of its cloth."""

    words: ClassVar = {
        "shape": "cut of the canopy",
        "across": "width and how it was measured | the cloth's area",
        "cloth_area": "area of the cloth; a streamer's length x width | from shape and width",
        "cloth": "mass of the cloth by area",
        "spill_hole": "diameter of the hole at the top | none",
        "drag_coefficient": "on the cloth's area | 0.75 ± 0.08, or the middle of what its kind has",
        "lines": "number of lines x length of one",
        "line_strength": "strength of a line",
        "roll": "packed, length x diameter",
    }

    kind: Literal["canopy"]
    station: Station
    mass: Mass
    shape: CanopyShape = "flat_hexagonal"
    across: Wide | None = None
    cloth_area: Area | None = None
    cloth: AreaDensity | None = None
    spill_hole: LengthOrZero | None = None
    drag_coefficient: Ratio | None = None
    lines: Lines | None = None
    line_strength: Force | None = None
    strength: Force | None = None
    roll: Roll | None = None


def _check(sheet: Sheet, part: Placed) -> None:
    """A size that its kind can be measured by, once."""
    canopy, kind = part.table, canopy_kind(part.table.shape)
    ways = " or ".join(kind.ways)
    if canopy.across is None and canopy.cloth_area is None:
        wanted = f"across with {ways}, or cloth_area" if ways else "cloth_area, length x width"
        example = f'across = "1.00 m {next(iter(kind.ways))}"' if ways else 'cloth_area = "0.1 m2"'
        advice = f"add {example}, with your figure"
        sheet.add((*part.path, "cloth_area"), "nothing", wanted, advice)
    elif canopy.across is not None and canopy.across.way not in kind.ways:
        wanted = f"a width {ways}" if ways else "cloth_area, length x width"
        advice = f"measure a {kind.label} canopy that way, or give cloth_area"
        sheet.add((*part.path, "across"), quoted(canopy.across), wanted, advice)


def _build(m: Making) -> Part:
    cd, usual = m.table.drag_coefficient, canopy_kind(m.table.shape).usual_drag_coefficient
    long, wide = m.pair("roll")
    return p.Canopy(
        **m.common,
        kind=m.table.shape,
        across_m=m.of("across"),
        way="" if m.table.across is None else m.table.across.way,
        drag_coefficient=m.of("drag_coefficient", usual),
        drag_coefficient_sigma=defaults.sigma_of("drag_coefficient", cd)
        if cd is not None
        else defaults.DRAG_COEFFICIENT_SIGMA,
        cloth_area_m2=m.of("cloth_area"),
        spill_hole_diameter_m=m.of("spill_hole"),
        line_count=0 if m.table.lines is None else int(m.table.lines["count"].value),
        line_length_m=m.pair("lines")[1],
        line_strength_n=m.maybe("line_strength"),
        strength_n=m.maybe("strength"),
        strength_sigma=relative(m.table.strength, defaults.CANOPY_STRENGTH_SIGMA),
        packed_length_m=long,
        packed_diameter_m=wide,
    )


KIND = PartKind(
    CanopyTable,
    "carried",
    2,
    _build,
    check=_check,
    still=("across", "drag_coefficient", "cloth_area", "spill_hole", "line_strength", "strength"),
    long=lambda t: None if t.roll is None else t.roll["length"],
)
