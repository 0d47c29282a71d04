"""Where templates go on paper: several small ones to a page, big ones over tiles that join.

Lengths here are millimetres on the page, from its upper left corner, y down. A printer that is
off by a few tenths of a per cent is corrected by `Scale`: everything drawn true to size, the
check bars included, is stretched by what was measured.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from goodflight.outputs.bench.dimension_lines import dimensioned
from goodflight.studies.bench.shapes import (
    Shape,
    Template,
    Words,
    placed,
)

LETTER_MM: Final = (215.9, 279.4)
PAPERS: Final[dict[str, tuple[float, float]]] = {
    "a4": (210.0, 297.0),
    "letter": LETTER_MM,
    "a3": (297.0, 420.0),
    "legal": (LETTER_MM[0], 355.6),
    "tabloid": (LETTER_MM[1], 431.8),
    "a5": (148.0, 210.0),
}
FRAME_MM: Final = 8.0  # border of the sheet
LEFT_MM: Final = 16.0  # window for drawing: room for the upright check bar
TOP_MM: Final = 12.0
RIGHT_MM: Final = 12.0
BOTTOM_MM: Final = 34.0  # check bar and title block
OVERLAP_MM: Final = 10.0  # of neighbouring tiles
CHECK_MM: Final = 150.0  # length of the check bars
SHORT_CHECK_MM: Final = 100.0  # on paper too small for them, upright or across
GAP_MM: Final = 6.0  # between templates on a page
NAME_MM: Final = 5.0  # room for the name under a template


@dataclass(frozen=True)
class Scale:
    """What the drawing is stretched by so that this printer puts true lengths on paper."""

    across: float = 1.0
    down: float = 1.0


def check_mm(paper: str) -> float:
    """Length of both check bars on a paper [mm]."""
    return Page(*PAPERS[paper], "", ()).check_mm


def scale_from(
    measured_m: float | None, measured_down_m: float | None = None, paper: str = "a4"
) -> Scale:
    """Correction from the check bars as measured on a first print.

    Parameters
        measured_m : float or None - length of the 150 mm bar across the page. [m]
        measured_down_m : float or None - of the upright bar; None = the same printer error. [m]
        paper : str - that was printed on: a5 has bars of 100 mm. [-]
    Returns
        scale : Scale - 150 mm over what was measured. [-]
    Raises
        ValueError - more than 10 % off: the print was scaled to fit the page
    Validity
        Even stretch over the page.
    Source
        Proportion.
    Example
        >>> round(scale_from(0.1496).across, 6)
        1.002674
    """
    if measured_m is None and measured_down_m is None:
        return Scale()
    across = measured_m if measured_m is not None else measured_down_m
    down = measured_down_m if measured_down_m is not None else measured_m
    true = check_mm(paper)
    ratios = [true / (1e3 * (each or 1.0)) for each in (across, down)]
    for ratio in ratios:
        if not 0.9 <= ratio <= 1.1:
            raise ValueError(
                f"the check bar measured {true / ratio:.1f} mm instead of {true:g} mm; "
                'that is a scaled page, not a printer error. Print at 100 % or "actual size".'
            )
    return Scale(*ratios)


@dataclass(frozen=True)
class Seam:
    """A line where two tiles join: cut one sheet here and lay it on the other, cross on cross."""

    at_mm: float
    upright: bool
    neighbour: str
    reach_mm: tuple[float, float] | None = None  # from, to; None: over the whole window


@dataclass(frozen=True)
class Placed:
    """One template on a page: its shapes in page millimetres (y down)."""

    template: Template
    shapes: tuple[Shape, ...]  # coordinates are page millimetres
    name_at_mm: tuple[float, float] | None
    clip_mm: tuple[float, float, float, float] | None = None  # left, top, right, bottom of a piece
    piece: str = ""  # of a folded template: "piece A of 3"


@dataclass(frozen=True)
class Page:
    """One printed page."""

    width_mm: float
    height_mm: float
    title: str
    placed: tuple[Placed, ...]
    tile: str = ""  # "B2" of a template over several pages
    grid: tuple[int, int] = (1, 1)  # columns, rows of tiles
    here: tuple[int, int] = (0, 0)
    seams: tuple[Seam, ...] = field(default_factory=tuple)

    @property
    def check_mm(self) -> float:
        """Length of both check bars [mm]."""
        small = min(self.width_mm, self.height_mm) <= CHECK_MM + BOTTOM_MM
        return SHORT_CHECK_MM if small else CHECK_MM

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the drawing window [mm]."""
        return LEFT_MM, TOP_MM, self.width_mm - RIGHT_MM, self.height_mm - BOTTOM_MM


def tile_name(column: int, row: int) -> str:
    """A tile by column letter and row number: A1 is at the upper left."""
    return f"{chr(ord('A') + column)}{row + 1}"


def _on_its_layer(template: Template, shape: Shape) -> Shape:
    """Edges and holes of paper, which no cutter of sheet should get, on a layer of their own."""
    own = template.flat or isinstance(shape, Words) or shape.layer not in ("cut", "bore")
    return shape if own else replace(shape, layer="paper")


def arranged(templates: Sequence[Template], gap_m: float = 0.012) -> tuple[Shape, ...]:
    """All templates beside and below one another in one plane, for SVG and DXF [m]."""
    found: list[Shape] = []
    x = y = row = 0.0
    for template in map(dimensioned, templates):
        b = template.bounds
        if x > 0.0 and x + b.width_m > 0.9:
            x, y, row = 0.0, y - row - 2 * gap_m, 0.0
        move = (x - b.left_m, y - b.high_m)
        found += [placed(_on_its_layer(template, shape), move) for shape in template.shapes]
        many = f": make {template.count}" if template.count > 1 else ""
        found.append(Words(f"{template.title}{many}", (x + b.width_m / 2, y - b.height_m - 0.006)))
        x, row = x + b.width_m + gap_m, max(row, b.height_m)
    return tuple(found)
