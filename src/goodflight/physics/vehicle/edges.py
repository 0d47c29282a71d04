"""What a tube's edge is made of, and the stress at which a cord tears it."""

from dataclasses import dataclass
from typing import Final


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
