"""The part kind `nose`; its outline takes one figure of its own, by its family."""

from typing import Annotated, Final, Literal

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.shapes import NoseShape
from goodflight.project.fields import (
    Diameter,
    Exponent,
    HaackC,
    Key,
    Length,
    LengthOrZero,
    OgiveRatio,
    Share,
)
from goodflight.project.first_asked import First
from goodflight.project.measures import Shoulder
from goodflight.project.parts.table import (
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
    mm,
    quoted,
    smaller,
)
from goodflight.project.sheets import Sheet


class NoseTable(PartTable):
    """The nose; its outline takes one figure of its own, by the family it is of."""

    kind: Annotated[Literal["nose"], WHICH]
    length: Annotated[Length, Key("length without the shoulder")]
    diameter: Annotated[Diameter, Key("outside diameter where the nose meets the tube")]
    wall: Annotated[
        LengthOrZero,
        Key(
            "wall thickness; 0 is solid",
            left_out="solid",
            first=First(
                20,
                "Wall of the nose",
                "its mass, once weighed by itself",
                key="nose_wall",
                default="2 mm",
                imperial="0.08 in",
            ),
        ),
    ]
    shoulder: Annotated[Shoulder | None, Key("shoulder, length x diameter", left_out="none")] = None
    outline: Annotated[
        NoseShape,
        Key(
            "family of the outline",
            first=First(
                10,
                "Outline of the nose",
                "lift and drag",
                key="nose_outline",
                default="tangent_ogive",
            ),
        ),
    ] = "tangent_ogive"
    exponent: Annotated[
        Exponent | None,
        Key("only for power: radius goes with this power of the length", left_out="0.5"),
    ] = None
    haack_c: Annotated[
        HaackC | None,
        Key(
            "only for haack: 0 for least drag at length and diameter, 1/3 at length and volume",
            left_out="0",
        ),
    ] = None
    parabola_k: Annotated[
        Share | None,
        Key("only for parabola: 0 is a cone, 1 meets the tube without a corner", left_out="0"),
    ] = None
    ogive_ratio: Annotated[
        OgiveRatio | None,
        Key(
            "only for secant_ogive: radius of its arc over that of the tangent ogive", left_out="2"
        ),
    ] = None
    plate: Annotated[bool, Key("a plate closes its base, weighed with it")] = False


# the one figure that an outline takes: its key, and what it is when left out
OUTLINE_FIGURES: Final = {
    "power": ("exponent", 0.5),
    "haack": ("haack_c", 0.0),
    "parabola": ("parabola_k", 0.0),
    "secant_ogive": ("ogive_ratio", 2.0),
}


def _check(sheet: Sheet, part: Placed) -> None:
    nose = part.table
    half = "less than half the diameter (0 for a solid nose)"
    smaller(sheet, part, inner="wall", outer="diameter", factor=2.0, words=half)
    if nose.shoulder is not None and nose.shoulder["diameter"].value >= nose.diameter.value - 1e-9:
        wanted = f"a diameter less than the nose's, {mm(nose.diameter.value)}"
        advice = "write length x diameter; check shoulder and diameter"
        sheet.add((*part.path, "shoulder"), quoted(nose.shoulder), wanted, advice)
    own = OUTLINE_FIGURES.get(nose.outline, ("", 0.0))[0]
    for outline, (key, _) in OUTLINE_FIGURES.items():
        if key != own and getattr(nose, key) is not None:
            advice = f'remove {key}, or write outline = "{outline}"'
            found = f'{key} of a nose with outline = "{nose.outline}"'
            sheet.add((*part.path, key), found, f"{key} only with outline {outline}", advice)


def _build(m: Making) -> Part:
    key, plain = OUTLINE_FIGURES.get(m.table.outline, ("", 0.0))
    long, wide = m.pair("shoulder")
    return p.Nose(
        **m.common,
        shape=m.table.outline,
        outline_constant=m.of(key, plain) if key else 0.0,
        length_m=m.of("length"),
        diameter_m=m.of("diameter"),
        wall_m=m.of("wall"),
        shoulder_length_m=long,
        shoulder_diameter_m=wide,
        plate=m.table.plate,
    )


KIND = PartKind(
    NoseTable,
    "airframe",
    4,
    _build,
    check=_check,
    still=("length", "diameter", "exponent", "haack_c", "parabola_k", "ogive_ratio"),
    ends=lambda t: (None, t.diameter),
)
