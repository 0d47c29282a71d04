"""The part kind `transition`: a cone between two diameters of the body."""

from typing import Annotated, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.fields import Diameter, Key, Length, LengthOrZero
from goodflight.project.parts.table import (
    ALONG,
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
    smaller,
)
from goodflight.project.sheets import Sheet


class TransitionTable(PartTable):
    """A cone between two diameters of the body."""

    kind: Annotated[Literal["transition"], WHICH]
    length: Annotated[Length, ALONG]
    fore_diameter: Annotated[Diameter, Key("outside diameter in front")]
    aft_diameter: Annotated[Diameter, Key("outside diameter behind")]
    wall: Annotated[LengthOrZero, Key("wall thickness; 0 is solid", left_out="solid")]


def _check(sheet: Sheet, part: Placed) -> None:
    half = "less than half the smaller diameter (0 for a solid part)"
    narrow = min(("fore_diameter", "aft_diameter"), key=lambda k: getattr(part.table, k).value)
    smaller(sheet, part, inner="wall", outer=narrow, factor=2.0, words=half)


def _build(m: Making) -> Part:
    return p.Transition(**m.common, **m.sized("length fore_diameter aft_diameter wall"))


KIND = PartKind(
    TransitionTable,
    "airframe",
    5,
    _build,
    check=_check,
    still=("length", "fore_diameter", "aft_diameter"),
    ends=lambda t: (t.fore_diameter, t.aft_diameter),
    front="fore_diameter",
)
