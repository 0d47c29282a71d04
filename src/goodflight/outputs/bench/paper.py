"""Where templates go on paper: several small ones to a page, big ones over tiles that join.

Lengths here are millimetres on the page, from its upper left corner, y down. A printer that is
off by a few tenths of a per cent is corrected by `Scale`: everything drawn true to size, the
check bars included, is stretched by what was measured.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import ceil
from typing import Final

from goodflight.studies.bench.shapes import (
    Bounds,
    Circle,
    Line,
    Shape,
    Template,
    Words,
    bounds_of,
    placed,
)

PAPERS: Final[dict[str, tuple[float, float]]] = {  # not smaller than the check bar
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
    "a3": (297.0, 420.0),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
}
FRAME_MM: Final = 8.0  # border of the sheet
LEFT_MM: Final = 16.0  # window for drawing: room for the upright check bar
TOP_MM: Final = 12.0
RIGHT_MM: Final = 12.0
BOTTOM_MM: Final = 34.0  # check bar and title block
OVERLAP_MM: Final = 10.0  # of neighbouring tiles
CHECK_MM: Final = 150.0
GAP_MM: Final = 6.0  # between templates on a page
NAME_MM: Final = 5.0  # room for the name under a template


@dataclass(frozen=True)
class Scale:
    """What the drawing is stretched by so that this printer puts true lengths on paper."""

    across: float = 1.0
    down: float = 1.0


def scale_from(measured_m: float | None, measured_down_m: float | None = None) -> Scale:
    """Correction from the check bars as measured on a first print.

    Parameters
        measured_m : float or None - length of the 150 mm bar across the page. [m]
        measured_down_m : float or None - of the upright bar; None = the same printer error. [m]
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
    ratios = [CHECK_MM / (1e3 * (each or 1.0)) for each in (across, down)]
    for ratio in ratios:
        if not 0.9 <= ratio <= 1.1:
            raise ValueError(
                f"the check bar measured {CHECK_MM / ratio:.1f} mm instead of {CHECK_MM:g} mm; "
                'that is a scaled page, not a printer error. Print at 100 % or "actual size".'
            )
    return Scale(*ratios)


@dataclass(frozen=True)
class Seam:
    """A line where two tiles join: cut one sheet here and lay it on the other, cross on cross."""

    at_mm: float
    upright: bool
    neighbour: str


@dataclass(frozen=True)
class Placed:
    """One template on a page: its shapes in page millimetres (y down)."""

    template: Template
    shapes: tuple[Shape, ...]  # coordinates are page millimetres
    name_at_mm: tuple[float, float] | None


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
    def window(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the drawing window [mm]."""
        return LEFT_MM, TOP_MM, self.width_mm - RIGHT_MM, self.height_mm - BOTTOM_MM


def tile_name(column: int, row: int) -> str:
    """A tile by column letter and row number: A1 is at the upper left."""
    return f"{chr(ord('A') + column)}{row + 1}"


def _window(size: tuple[float, float]) -> tuple[float, float]:
    return size[0] - LEFT_MM - RIGHT_MM, size[1] - TOP_MM - BOTTOM_MM


def _to_page(
    shapes: Iterable[Shape], origin_m: tuple[float, float], at_mm: tuple[float, float], scale: Scale
) -> tuple[Shape, ...]:
    """Shapes in metres (y up) as page millimetres (y down); `origin_m` lands on `at_mm`."""
    kx, ky = 1e3 * scale.across, 1e3 * scale.down

    def put(point: tuple[float, float]) -> tuple[float, float]:
        return at_mm[0] + (point[0] - origin_m[0]) * kx, at_mm[1] - (point[1] - origin_m[1]) * ky

    found: list[Shape] = []
    for shape in shapes:
        if isinstance(shape, Line):
            found.append(Line(tuple(put(p) for p in shape.points_m), shape.layer, shape.closed))
        elif isinstance(shape, Circle):
            found.append(Circle(put(shape.centre_m), shape.radius_m * kx, shape.layer))
        else:
            found.append(Words(shape.text, put(shape.at_m), 1e3 * shape.height_m, -shape.turn_rad))
    return tuple(found)


def pages_for(
    templates: Sequence[Template], paper: str = "a4", scale: Scale | None = None
) -> tuple[Page, ...]:
    """Lay templates out on pages: small ones together first, then the tiled ones.

    Parameters
        templates : sequence of Template - true to size. [m]
        paper : str - "a4" or "letter". [-]
        scale : Scale or None - printer correction. [-]
    Returns
        pages : tuple of Page - shapes in page millimetres. [mm]
    Raises
        KeyError - no such paper
    Validity
        Up to 26 columns of tiles.
    Source
        Arithmetic.
    Example
        >>> pages_for(())
        ()
    """
    scale = scale or Scale()
    upright = PAPERS[paper]
    lying = (upright[1], upright[0])
    small, wide, big = [], [], []
    for template in templates:
        need = _need(template, scale)
        if _fits(need, _window(upright)):
            small.append(template)
        elif _fits(need, _window(lying)):
            wide.append(template)
        else:
            big.append(template)
    turned = [t for t in small if _fits(_need(t, scale), _window(lying))]
    other = [t for t in small if t not in turned]
    ways = ((small, wide), (other, [*wide, *turned]))  # small ones fill what wide ones leave free
    laid = [[*_together(up, upright, scale), *_together(on, lying, scale)] for up, on in ways]
    found = min(laid, key=len)
    for size, stack in _stacks(big, (upright, lying), scale):
        found += _tiled(stack, size, scale)
    return tuple(found)


def _stacks(
    templates: Sequence[Template], sizes: Sequence[tuple[float, float]], scale: Scale
) -> list[tuple[tuple[float, float], list[Template]]]:
    """Each on the paper that takes fewest tiles; low ones share a row of tiles."""
    found: list[tuple[tuple[float, float], list[Template]]] = []
    for template in templates:
        size = min(sizes, key=lambda each: _tiles(template, each, scale)[2])
        for other, stack in found:
            together = [*stack, template]
            high = sum(_need(t, scale)[1] for t in together) + GAP_MM * len(stack)
            if other == size and high <= _window(size)[1]:
                stack.append(template)
                break
        else:
            found.append((size, [template]))
    return found


def _need(template: Template, scale: Scale) -> tuple[float, float]:
    b = template.bounds
    return 1e3 * b.width_m * scale.across, 1e3 * b.height_m * scale.down + NAME_MM


def _fits(need: tuple[float, float], room: tuple[float, float]) -> bool:
    return need[0] <= room[0] and need[1] <= room[1]


def _together(templates: Sequence[Template], size: tuple[float, float], scale: Scale) -> list[Page]:
    """Rows of templates, the tallest first, filled page by page."""
    room = _window(size)
    left: list[tuple[Template, tuple[float, float]]] = []
    waiting = sorted(templates, key=lambda t: (-_need(t, scale)[1], t.key))
    pages: list[Page] = []
    x = y = row = 0.0

    def close() -> None:
        if not left:
            return
        titles = ", ".join(t.title for t, _ in left)
        title = titles if len(titles) < 60 else f"{len(left)} drawings"
        pages.append(Page(*size, title, tuple(_put(t, at, scale) for t, at in left)))
        left.clear()

    for template in waiting:
        wide, tall = _need(template, scale)
        if x > 0.0 and x + wide > room[0]:
            x, y, row = 0.0, y + row + GAP_MM, 0.0
        if y + tall > room[1]:
            close()
            x = y = row = 0.0
        left.append((template, (LEFT_MM + x, TOP_MM + y)))
        x, row = x + wide + GAP_MM, max(row, tall)
    close()
    return pages


def _put(template: Template, at_mm: tuple[float, float], scale: Scale) -> Placed:
    b = template.bounds
    foot = at_mm[1] + 1e3 * b.height_m * scale.down
    shapes = _to_page(template.shapes, (b.left_m, b.low_m), (at_mm[0], foot), scale)
    return Placed(template, shapes, (at_mm[0], foot + 3.6))


def _tiles(template: Template, size: tuple[float, float], scale: Scale) -> tuple[int, int, int]:
    b, room = template.bounds, _window(size)
    columns = ceil(round((1e3 * b.width_m * scale.across - OVERLAP_MM), 6) / (room[0] - OVERLAP_MM))
    rows = ceil(round((1e3 * b.height_m * scale.down - OVERLAP_MM), 6) / (room[1] - OVERLAP_MM))
    columns, rows = max(1, columns), max(1, rows)
    return columns, rows, columns * rows


def _tiled(stack: Sequence[Template], size: tuple[float, float], scale: Scale) -> list[Page]:
    """Tiles of one template, or of several low ones, one below the other."""
    room = _window(size)
    grids = [_tiles(template, size, scale)[:2] for template in stack]
    columns, rows = max(grid[0] for grid in grids), max(grid[1] for grid in grids)
    step = (room[0] - OVERLAP_MM, room[1] - OVERLAP_MM)
    pages = []
    for row in range(rows):
        for column in range(columns):
            at = (LEFT_MM - column * step[0], TOP_MM - row * step[1])
            laid = _seen_of(stack, at, size, scale)
            if not laid:
                continue  # an empty tile is not printed; the map shows the gap
            page = Page(
                *size,
                "; ".join(each.template.title for each in laid),
                laid,
                tile_name(column, row),
                (columns, rows),
                (column, row),
                tuple(_seams(column, row, (columns, rows), size)),
            )
            pages.append(page)
    return pages


def _seen_of(
    stack: Sequence[Template], at: tuple[float, float], size: tuple[float, float], scale: Scale
) -> tuple[Placed, ...]:
    """The templates of a stack that have a line on this tile; of several, with their names."""
    laid, top = [], at[1]
    for template in stack:
        b = template.bounds
        foot = top + 1e3 * b.height_m * scale.down
        shapes = _to_page(template.shapes, (b.left_m, b.low_m), (at[0], foot), scale)
        seen = _seen(shapes, size)
        if any(isinstance(s, (Line, Circle)) and s.layer != "hidden" for s in seen):
            name = (LEFT_MM + 2.0, foot + 3.6) if len(stack) > 1 else None
            laid.append(Placed(template, seen, name))
        top = foot + NAME_MM + GAP_MM
    return tuple(laid)


def _seen(shapes: tuple[Shape, ...], size: tuple[float, float]) -> tuple[Shape, ...]:
    """What of a template can be seen through the window of a page."""
    left, top = LEFT_MM, TOP_MM
    right, low = size[0] - RIGHT_MM, size[1] - BOTTOM_MM

    def seen(shape: Shape) -> bool:
        if isinstance(shape, Words):  # their width is not known here: 40 mm at most
            (x, y), rim = shape.at_m, 40.0
            b = Bounds(x - rim, y - rim, x + rim, y + rim)
        else:
            b = bounds_of((shape,))
        return b.left_m <= right and b.right_m >= left and b.low_m <= low and b.high_m >= top

    return tuple(shape for shape in shapes if seen(shape))


def _seams(column: int, row: int, grid: tuple[int, int], size: tuple[float, float]) -> list[Seam]:
    half = OVERLAP_MM / 2.0
    right, low = size[0] - RIGHT_MM, size[1] - BOTTOM_MM
    sides = (
        (column > 0, LEFT_MM + half, True, (column - 1, row)),
        (column < grid[0] - 1, right - half, True, (column + 1, row)),
        (row > 0, TOP_MM + half, False, (column, row - 1)),
        (row < grid[1] - 1, low - half, False, (column, row + 1)),
    )
    return [Seam(at, upright, tile_name(*other)) for there, at, upright, other in sides if there]


def _on_its_layer(template: Template, shape: Shape) -> Shape:
    """Edges and holes of paper, which no cutter of sheet should get, on a layer of their own."""
    own = template.flat or isinstance(shape, Words) or shape.layer not in ("cut", "bore")
    return shape if own else replace(shape, layer="paper")


def arranged(templates: Sequence[Template], gap_m: float = 0.012) -> tuple[Shape, ...]:
    """All templates beside and below one another in one plane, for SVG and DXF [m]."""
    found: list[Shape] = []
    x = y = row = 0.0
    for template in templates:
        b = template.bounds
        if x > 0.0 and x + b.width_m > 0.9:
            x, y, row = 0.0, y - row - 2 * gap_m, 0.0
        move = (x - b.left_m, y - b.high_m)
        found += [placed(_on_its_layer(template, shape), move) for shape in template.shapes]
        many = f": make {template.count}" if template.count > 1 else ""
        found.append(Words(f"{template.title}{many}", (x + b.width_m / 2, y - b.height_m - 0.006)))
        x, row = x + b.width_m + gap_m, max(row, b.height_m)
    return tuple(found)
