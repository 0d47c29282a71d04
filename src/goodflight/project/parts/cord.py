"""The part kind `cord`: from one anchor to the other, with its heat-proof leader."""

from typing import Annotated, Final, Literal

from pydantic import Field

from goodflight.physics.recovery import JOINTS
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import Part
from goodflight.project import defaults
from goodflight.project.fields import Force, Key, Length, LengthOrZero, Mass, Share, Station
from goodflight.project.first_asked import First
from goodflight.project.parts.table import (
    ALONG,
    AT,
    WEIGHT,
    WHICH,
    Making,
    PartKind,
    PartTable,
    Placed,
    relative,
)
from goodflight.project.sheets import Sheet

_USUAL: Final = JOINTS["two_knots"].efficiency
_NAMED: Final = (JOINTS["bowline"], JOINTS["sewn"], JOINTS["splice"])
_LEAVE: Final = ", ".join(f"{joint.label} {joint.efficiency:g}" for joint in _NAMED)


class CordTable(PartTable):
    """The recovery cord from one anchor to the other, with its heat-proof leader."""

    kind: Annotated[Literal["cord"], WHICH]
    station: Annotated[Station, AT]
    mass: Annotated[Mass, WEIGHT]
    length: Annotated[Length, ALONG]
    strength: Annotated[Force, Key("force at which it breaks, new and straight")]
    joint_efficiency: Annotated[
        Share | None,
        Key(f"share of the strength that knots leave: {_LEAVE}", left_out=f"{_USUAL:g}"),
    ] = None
    elongation: Annotated[
        Share | None,
        Key(
            "stretch at the strength: nylon about 0.25, aramid 0.04",
            first=First(
                100,
                "Stretch of the cord at its strength",
                "how hard it jerks: nylon 0.25, aramid 0.04",
                key="cord_stretch",
                default="0.25",
            ),
        ),
    ] = None
    stowed_length: Annotated[LengthOrZero | None, Key("length of tube it takes when stowed")] = None
    width: Annotated[
        Length | None,
        Key(
            "width of the webbing",
            first=First(
                220, "Width of the cord", "where it touches the tube's edge", key="cord_width"
            ),
        ),
    ] = None
    canopy_at: Annotated[
        LengthOrZero | None, Key("length of cord from the upper end to the canopy")
    ] = None
    leader: Annotated[LengthOrZero | None, Key("length of the heat-proof leader")] = None
    leader_strength: Annotated[Force | None, Key("force at which the leader breaks")] = None
    leader_elongation: Annotated[
        Share | None, Key("stretch of the leader at its strength", left_out="0.04")
    ] = None
    flights_before: Annotated[
        Annotated[int, Field(ge=0, le=1000)] | None,
        Key("flights that cord and canopy lines had before; 0 is new", left_out="10"),
    ] = None


def _check(sheet: Sheet, part: Placed) -> None:
    """A leader of unknown strength would be left out, and the cord taken as softer than it is."""
    cord, pair = part.table, ("leader", "leader_strength")
    given = [key for key in pair if getattr(cord, key) is not None]
    if len(given) == 1 and getattr(cord, given[0]).value > 0.0:
        lacks = next(key for key in pair if key not in given)
        wanted = "a length like 1.0 m" if lacks == "leader" else "a force like 6000 N"
        advice = f"add {lacks}, or remove {given[0]} where there is no leader"
        sheet.add((*part.path, lacks), f"nothing, beside {given[0]}", wanted, advice)


def _build(m: Making) -> Part:
    return p.Cord(
        **m.common,
        length_m=m.of("length"),
        strength_n=m.of("strength"),
        strength_sigma=relative(m.table.strength, defaults.CORD_STRENGTH_SIGMA),
        joint_efficiency=m.of("joint_efficiency", _USUAL),
        elongation_at_break=m.of("elongation"),
        elongation_figure=_elongation(m),
        packed_length_m=m.of("stowed_length"),
        width_m=m.of("width"),
        canopy_at_m=m.maybe("canopy_at"),
        leader_length_m=m.of("leader"),
        leader_strength_n=m.of("leader_strength"),
        leader_elongation=m.of("leader_elongation", 0.04),
        flights_before=m.table.flights_before,
    )


def _elongation(m: Making) -> Figure | None:
    """The stretch with its own spread, where it says one or was measured."""
    said = m.table.elongation
    if said is None or not said.value or (said.sigma is None and said.known != "measured"):
        return None
    sigma = relative(said, defaults.spread_of("ratio", 1.0, "measured"))
    return Figure(1.0, sigma, said.known, f"{m.base}.elongation")


KIND = PartKind(
    CordTable,
    "carried",
    3,
    _build,
    check=_check,
    still=(
        "length",
        "strength",
        "joint_efficiency",
        "elongation",
        "stowed_length",
        "width",
        "leader",
        "leader_strength",
        "flights_before",
    ),
    long=lambda t: t.stowed_length,
)
