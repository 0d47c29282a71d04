"""What is known of how a rocket comes apart: separation, charge, retention, protection.

Plain figures with their spreads, each None when the builder has not given it. Nothing is computed
here; see `recovery`.
"""

from dataclasses import dataclass
from typing import Final, Literal

CouplerIn = Literal["fore", "aft"]
RetentionKind = Literal["cap", "clips", "friction"]


@dataclass(frozen=True)
class Figure:
    """A figure with one standard deviation, how it is known, and where it stands."""

    value: float
    sigma: float = 0.0
    known: str = "guess"
    path: str = ""
    by_kind: bool = False  # not its own figure but that of the kind it is said to be of


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


@dataclass(frozen=True)
class Hatch:
    """A hatch in the tube's side; None = not given."""

    there: bool = False
    station_m: float | None = None  # of its middle
    length_m: float | None = None  # along the rocket
    width_m: float | None = None  # straight across
    holds_n: Figure | None = None  # pull straight outwards that it stands


MAIN_UNKNOWN: Final = Separation(tables=("main_separation", "main_charge"))


@dataclass(frozen=True)
class Edge:
    """A tube edge: strength in bearing, relative spread, where it comes from."""

    strength_pa: float
    sigma: float
    source: str
    paper: bool = False  # takes up moisture, and is weaker for it


# No test of such edges is known. Kraft: crush of a spiral paper tube along its axis, 10.1 MPa
# [tezuka1990], x 1.5, what such tubes stand in bending over compression, where little of the wall
# is loaded [correa2004], both seen; scatter 25 % between makes and as much for the 1.5. The others
# stand to kraft as guessed, see docs/decisions/011.
EDGES: Final[dict[str, Edge]] = {
    "kraft": Edge(
        15e6, 0.35, "crush of paper tubes [tezuka1990] x 1.5 [correa2004], seen", paper=True
    ),
    "kraft_glassed": Edge(
        26e6, 0.45, "1.75 times kraft: a layer of light glass cloth, our guess", True
    ),
    "kraft_lined": Edge(30e6, 0.40, "two walls of kraft glued", paper=True),
    "phenolic": Edge(45e6, 0.45, "paper phenolic, brittle, our guess"),
    "plywood": Edge(40e6, 0.40, "birch plywood in bearing, our guess"),
    "glass": Edge(150e6, 0.35, "wound or laid glass, our guess"),
}
