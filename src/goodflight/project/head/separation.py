"""How the rocket comes apart: `[separation]`, `[charge]`, `[retention]` and those of the main.

A key is one line of its table, with its words and the field of the record that takes it, and that
field in `Separation`. A figure comes with its spread, how it is known and where it stands. Nothing
is computed here; see `physics/recovery`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from pydantic import Field

from goodflight.physics.vehicle.edges import EDGES
from goodflight.physics.vehicle.figure import Figure
from goodflight.project.fields import (
    Area,
    Force,
    Key,
    LengthOrZero,
    Mass,
    Modulus,
    Station,
    Table,
)
from goodflight.project.first_asked import First
from goodflight.project.head.taking import taken

CouplerIn = Literal["fore", "aft"]
RetentionKind = Literal["cap", "clips", "friction"]
EdgeKind = Literal["kraft", "kraft_glassed", "kraft_lined", "phenolic", "plywood", "glass"]
CLEARANCE_SIGMA: Final = 0.5  # relative, of a gap that is felt rather than measured
ANCHORS: Final = First(
    140, "Pull each anchor of the cord stands", "weights on a copy", key="anchors"
)


class JointTable(Table):
    """A separation: what holds it, and what the cord is tied to on both sides."""

    pull: Annotated[
        Force | None,
        Key(
            "force that pulls it apart by hand, pins out",
            becomes="pull_n",
            first=First(130, "Pull that separates it", "luggage scale, mean of three"),
        ),
    ] = None
    pins: Annotated[int, Field(ge=0, le=12), Key("number of shear pins", becomes="pins")] = 0
    thread: Annotated[
        Literal["#2-56", "#4-40", "#6-32"], Key("thread of the pins", becomes="pin_thread")
    ] = "#2-56"
    clearance: Annotated[
        LengthOrZero | None,
        Key(
            "gap between shoulder or coupler and tube, in diameter",
            becomes="clearance_m",
            share=CLEARANCE_SIGMA,
        ),
    ] = None
    coupler_in: Annotated[
        CouplerIn,
        Key(
            'which section the coupler is glued into: "fore" or "aft"',
            becomes="coupler_in",
            first=First(
                60,
                "The coupler is fixed in",
                "which half keeps it",
                default="fore",
                words=(("fore", "the half ahead"), ("aft", "the half behind")),
            ),
        ),
    ] = "fore"
    fore_anchor: Annotated[
        Force | None,
        Key(
            "strength of the forward attachment of the cord", becomes="fore_anchor_n", first=ANCHORS
        ),
    ] = None
    aft_anchor: Annotated[
        Force | None,
        Key("strength of the rear attachment of the cord", becomes="aft_anchor_n", first=ANCHORS),
    ] = None
    bulkhead: Annotated[
        Force | None,
        Key(
            "strength of the bulkhead that the charge pushes on, with its bond",
            becomes="bulkhead_n",
            first=First(150, "Push the bulkhead ahead of the bay stands", "scales and a copy"),
        ),
    ] = None


class SeparationTable(JointTable):
    """Where the rocket separates at ejection, and what the cord is tied to on both sides."""

    fixed_joint: Annotated[
        Force | None,
        Key(
            "strength of the joint that must stay together",
            becomes="fixed_joint_n",
            first=First(160, "Pull the nose's joint holds", "bucket of water", key="nose_joint"),
        ),
    ] = None
    edge: Annotated[
        EdgeKind | None,
        Key("what the tube's edge is made of, where the cord runs over it", becomes="edge"),
    ] = None
    edge_strength: Annotated[
        Modulus | None,
        Key("stress at which the tube's edge tears", example="30 MPa", becomes="edge_strength_pa"),
    ] = None


class MainSeparationTable(JointTable):
    """Where the rocket separates for the second canopy, and what that one's cord is tied to."""

    at: Annotated[
        Station | None, Key("station where it separates for the second canopy", example="280 mm")
    ] = None


class PowderTable(Table):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    powder: Annotated[Mass | None, Key("mass of powder", becomes="powder_kg")] = None
    blanket: Annotated[
        Area | None,
        Key(
            "area of the blanket that shields the canopy",
            becomes="blanket_m2",
            first=First(
                200,
                "Heat blanket of the canopy",
                "0.09 m2 is 0.3 m square; or: wadding",
                key="shield",
                instead=("wadding", "wadding", "true"),
            ),
        ),
    ] = None
    wadding: Annotated[bool, Key("wadding shields the canopy", becomes="wadding")] = False


class ChargeTable(PowderTable):
    """Own powder, when an altimeter fires it, and what shields the canopy from the gas."""

    pack_pull: Annotated[
        Force | None, Key("force that pulls the packed canopy out", becomes="pack_pull_n")
    ] = None


class RetentionTable(Table):
    """What keeps the motor in when the charge fires."""

    kind: Annotated[
        RetentionKind | None,
        Key(
            "how the motor is held",
            becomes="retention",
            first=First(
                180,
                "What keeps the motor in",
                "at its tail",
                key="retention",
                words=(
                    ("cap", "a cap or ring, screwed on"),
                    ("clips", "clips"),
                    ("friction", "tape, friction"),
                ),
            ),
        ),
    ] = None
    holds: Annotated[
        Force | None,
        Key(
            "force it holds, along the axis",
            becomes="retention_n",
            first=First(
                190,
                "Push the motor's retention stands",
                "the maker's, or a test",
                key="retention_holds",
            ),
        ),
    ] = None


@dataclass(frozen=True)
class Separation:
    """Separation, charge, retention and protection of a rocket; None = not given."""

    pull_n: Figure | None = None  # pulls the separation open without pins, by luggage scale
    pins: int = 0
    pin_thread: str = "#2-56"
    clearance_m: Figure | None = None  # tube's inside less coupler's outside diameter
    coupler_in: CouplerIn = "fore"  # part in which the coupler stays
    fore_anchor_n: Figure | None = None  # cord's anchor in the forward part, its bond included
    aft_anchor_n: Figure | None = None  # cord's anchor in the aft part, its bond included
    bulkhead_n: Figure | None = None  # push that the bulkhead ahead of the bay stands
    fixed_joint_n: Figure | None = None  # pull that the separation nearest the nose stands
    edge_strength_pa: Figure | None = None  # of the tube wall in bearing, at the edge
    edge: str = ""  # one of EDGES
    powder_kg: Figure | None = None  # own black powder, fired by an altimeter
    blanket_m2: Figure | None = None  # heat blanket round the canopy
    wadding: bool = False
    pack_pull_n: Figure | None = None  # draws the packed gear out of its tube
    retention: RetentionKind | None = None
    retention_n: Figure | None = None  # push that the motor's retention stands
    tables: tuple[str, str] = ("separation", "charge")  # of the rocket's file that say it


MAIN_UNKNOWN: Final = Separation(tables=("main_separation", "main_charge"))


def build_separation(
    separation: SeparationTable,
    charge: ChargeTable,
    retention: RetentionTable,
    overrides: Mapping[str, float],
) -> Separation:
    """Return how the rocket comes apart, every figure with its spread.

    Parameters
    ----------
    separation, charge, retention : tables of the rocket's file. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    separation : Separation - what is given; the rest None. [SI]
    """
    tables = {"separation": separation, "charge": charge, "retention": retention}
    found = taken(tables, overrides)
    if "edge_strength_pa" not in found and separation.edge is not None:
        edge = EDGES[separation.edge]
        path = "rocket.toml:separation.edge"
        found["edge_strength_pa"] = Figure(
            edge.strength_pa, edge.sigma * edge.strength_pa, "guess", path, by_kind=True
        )
    return Separation(**found)


def build_main_separation(
    separation: MainSeparationTable, charge: PowderTable, overrides: Mapping[str, float]
) -> Separation:
    """Return how the rocket comes apart for its second canopy, every figure with its spread.

    Parameters
    ----------
    separation, charge : tables of the rocket's file. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    separation : Separation - what is given; the rest None. [SI]
    """
    tables = {"main_separation": separation, "main_charge": charge}
    return Separation(tables=MAIN_UNKNOWN.tables, **taken(tables, overrides))
