"""The part kind `canopy`: a parachute or a streamer, by its size as measured or by its cloth."""

from typing import Annotated, Literal

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project import defaults
from goodflight.project.fields import (
    Area,
    AreaDensity,
    Force,
    Key,
    LengthOrZero,
    Mass,
    Ratio,
    Station,
)
from goodflight.project.first_asked import First
from goodflight.project.measures import Lines, Roll, Wide
from goodflight.project.parts.table import (
    AT,
    WEIGHT,
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
    quoted,
    relative,
)
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

    kind: Annotated[Literal["canopy"], WHICH]
    station: Annotated[Station, AT]
    mass: Annotated[Mass, WEIGHT]
    shape: Annotated[CanopyShape, Key("cut of the canopy")] = "flat_hexagonal"
    across: Annotated[
        Wide | None, Key("width and how it was measured", left_out="the cloth's area")
    ] = None
    cloth_area: Annotated[
        Area | None,
        Key("area of the cloth; a streamer's length x width", left_out="from shape and width"),
    ] = None
    cloth: Annotated[AreaDensity | None, Key("mass of the cloth by area")] = None
    spill_hole: Annotated[
        LengthOrZero | None, Key("diameter of the hole at the top", left_out="none")
    ] = None
    drag_coefficient: Annotated[
        Ratio | None,
        Key("on the cloth's area", left_out="0.75 ± 0.08, or the middle of what its kind has"),
    ] = None
    lines: Annotated[Lines | None, Key("number of lines x length of one")] = None
    line_strength: Annotated[
        Force | None,
        Key(
            "strength of a line",
            first=First(210, "Strength of one of the canopy's lines", "on the reel"),
        ),
    ] = None
    strength: Annotated[Force | None, Key("force at which it breaks")] = None
    roll: Annotated[Roll | None, Key("packed, length x diameter")] = None


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
        article = "an" if kind.label[0] in "aeiou" else "a"
        advice = f"measure {article} {kind.label} canopy that way, or give cloth_area"
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
