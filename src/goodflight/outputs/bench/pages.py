"""Templates laid out on pages: small ones together, low ones folded, big ones over tiles that join.

Lengths are millimetres on the page, y down; see `paper` for papers and what a page is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, inf, pi
from typing import Final

from goodflight.outputs.bench.paper import (
    BOTTOM_MM,
    GAP_MM,
    LEFT_MM,
    NAME_MM,
    OVERLAP_MM,
    PAPERS,
    RIGHT_MM,
    TOP_MM,
    Page,
    Placed,
    Scale,
    Seam,
    tile_name,
)
from goodflight.studies.bench.shapes import (
    Bounds,
    Circle,
    Line,
    Shape,
    Template,
    Words,
    bounds_of,
    moved,
    room_of,
)

CLEAR_MM: Final = 2.0  # of a seam, for words
MOST_FOLDS: Final = 8  # pieces of a low template laid below one another


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
        paper : str - one of PAPERS. [-]
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
    for drawn in templates:
        template = _turned(drawn, (upright, lying), scale)
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
    laid = ([*_together(up, upright, scale), *_together(on, lying, scale)] for up, on in ways)
    found, second = laid
    found = second if len(second) < len(found) else found
    for size, stack in _stacks(big, (upright, lying), scale):
        best = _tiled(stack, size, scale)
        for folded in _folds(stack, (lying, upright), scale):
            best = folded if len(folded) < len(best) else best
        found += best
    return tuple(found)


def _turned(template: Template, sizes: Sequence[tuple[float, float]], scale: Scale) -> Template:
    """A template lying on its side where that takes fewer tiles; its words read from the right."""

    def tiles(one: Template) -> int:
        return min(_tiles(one, size, scale)[2] for size in sizes)

    side = replace(template, shapes=moved(template, (0.0, 0.0), pi / 2.0))
    upright = (
        replace(s, turn_rad=s.turn_rad - pi) if isinstance(s, Words) and s.turn_rad > 2.0 else s
        for s in side.shapes
    )
    side = replace(side, shapes=tuple(upright))
    return side if tiles(side) < tiles(template) else template


def _folds(
    stack: Sequence[Template], sizes: Sequence[tuple[float, float]], scale: Scale
) -> list[list[Page]]:
    """Low templates cut into pieces that lie below one another, on each of the papers."""
    found = []
    for size in sizes:
        grids = [_tiles(template, size, scale) for template in stack]
        if all(rows == 1 and columns <= MOST_FOLDS for columns, rows, _ in grids):
            found.append(_folded(stack, size, scale))
    return found


def _folded(stack: Sequence[Template], size: tuple[float, float], scale: Scale) -> list[Page]:
    room, step = _window(size), _window(size)[0] - OVERLAP_MM
    pages: list[Page] = []
    laid: list[Placed] = []
    seams: list[Seam] = []
    y = 0.0

    def close() -> None:
        title = "; ".join(dict.fromkeys(each.template.title for each in laid))
        pages.append(Page(*size, title, tuple(laid), seams=tuple(seams)))
        laid.clear()
        seams.clear()

    for template in stack:
        columns, b = _tiles(template, size, scale)[0], template.bounds
        tall = _need(template, scale)[1]
        for column in range(columns):
            if laid and y + tall > room[1]:
                close()
                y = 0.0
            top, foot = TOP_MM + y, TOP_MM + y + tall - NAME_MM
            at = (LEFT_MM - column * step, foot)
            shapes = _to_page(template.shapes, (b.left_m, b.low_m), at, scale)
            shapes = tuple(_words_whole(shapes, size, (column, 0), (columns, 1)))
            clip = (LEFT_MM, top, size[0] - RIGHT_MM, foot)
            name = f"piece {tile_name(column, 0)[0]} of {columns}"
            laid.append(Placed(template, shapes, (LEFT_MM, foot + 3.6), clip, name))
            for each in _seams(column, 0, (columns, 1), size):
                words = f"piece {each.neighbour[0]}"
                seams.append(Seam(each.at_mm, True, words, (top, foot)))
            y += tall + GAP_MM
    close()
    return pages


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


@dataclass
class _Shelf:
    """A row of templates on a page; its first is its highest."""

    top: float
    height: float
    used: float = 0.0


@dataclass
class _Filling:
    """A page as it fills from the top: rows, and what lies where in the window."""

    shelves: list[_Shelf] = field(default_factory=list)
    laid: list[tuple[Template, tuple[float, float]]] = field(default_factory=list)

    def take(
        self, template: Template, need: tuple[float, float], room: tuple[float, float]
    ) -> bool:
        """Lay a template in a row that has room for it, or in a new one; whether there is any."""
        wide, tall = need
        for shelf in self.shelves:
            if tall <= shelf.height and shelf.used + GAP_MM + wide <= room[0]:
                self.laid.append((template, (shelf.used + GAP_MM, shelf.top)))
                shelf.used += GAP_MM + wide
                return True
        last = self.shelves[-1] if self.shelves else None
        top = 0.0 if last is None else last.top + last.height + GAP_MM
        if last is not None and top + tall > room[1]:
            return False
        self.shelves.append(_Shelf(top, tall, wide))
        self.laid.append((template, (0.0, top)))
        return True


def _together(templates: Sequence[Template], size: tuple[float, float], scale: Scale) -> list[Page]:
    """Rows of templates, the tallest first, each on the first page that has room for it."""
    room = _window(size)
    filled: list[_Filling] = []
    for template in sorted(templates, key=lambda t: (-_need(t, scale)[1], t.key)):
        need = _need(template, scale)
        if not any(page.take(template, need, room) for page in filled):
            filled.append(_Filling())
            filled[-1].take(template, need, room)
    return [_page(page, size, scale) for page in filled]


def _page(filled: _Filling, size: tuple[float, float], scale: Scale) -> Page:
    titles = ", ".join(t.title for t, _ in filled.laid)
    title = titles if len(titles) < 60 else f"{len(filled.laid)} drawings"
    laid = tuple(_put(t, (LEFT_MM + x, TOP_MM + y), scale) for t, (x, y) in filled.laid)
    return Page(*size, title, laid)


def figure(template: Template) -> tuple[Shape, ...]:
    """A drawing in page millimetres, its upper left corner at the origin; for running text."""
    b = template.bounds
    return _to_page(template.shapes, (b.left_m, b.high_m), (0.0, 0.0), Scale())


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
            laid = tuple(
                replace(
                    each,
                    shapes=tuple(_words_whole(each.shapes, size, (column, row), (columns, rows))),
                )
                for each in laid
            )
            if not laid:
                continue  # an empty tile is not printed; the map shows the gap
            page = Page(
                *size,
                title="; ".join(each.template.title for each in laid),
                placed=laid,
                tile=tile_name(column, row),
                grid=(columns, rows),
                here=(column, row),
                seams=tuple(_seams(column, row, (columns, rows), size)),
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


def _words_whole(
    shapes: Iterable[Shape],
    size: tuple[float, float],
    here: tuple[int, int],
    grid: tuple[int, int],
) -> Iterable[Shape]:
    """Every text whole on one tile, moved off its seams: the one that holds its middle."""
    (left, right), (top, low) = (
        (
            near + OVERLAP_MM / 2.0 if at > 0 else -inf,
            far - OVERLAP_MM / 2.0 if at < count - 1 else inf,
        )
        for near, far, at, count in (
            (LEFT_MM, size[0] - RIGHT_MM, here[0], grid[0]),
            (TOP_MM, size[1] - BOTTOM_MM, here[1], grid[1]),
        )
    )
    for shape in shapes:
        if not isinstance(shape, Words):
            yield shape
            continue
        (x, y), corners = shape.at_m, room_of(shape)
        if left <= x < right and top <= y < low:
            across, down = ([corner[i] for corner in corners] for i in (0, 1))
            yield replace(shape, at_m=(x + _off(across, left, right), y + _off(down, top, low)))


def _off(along: Sequence[float], low: float, high: float) -> float:
    """How far a text moves to stand clear of seams; not at all where it is longer than the room."""
    low, high = low + CLEAR_MM, high - CLEAR_MM
    if max(along) - min(along) > high - low:
        return 0.0
    return max(0.0, low - min(along)) + min(0.0, high - max(along))


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
