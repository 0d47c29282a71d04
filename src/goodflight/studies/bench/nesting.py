"""Flat pieces laid out on sheets, grain kept, with room for the cut between them.

Each piece is laid down in turn, the largest first, at the lowest place along the sheet where it
meets nothing, in every turn it may have. Places are searched on a millimetre raster by
correlation; the result is checked with the true outlines. Not a proven optimum.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import atan2, pi
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.bench.choices import Choices, Stock
from goodflight.studies.bench.planes import Area, covers, shifted, solid_area, turned_area
from goodflight.studies.bench.shapes import Line, Shape, Template, moved, rectangle

CELL_M = 0.001
WEB_M = 0.002  # least material left between two cuts
MARGIN_M = 0.005  # from the edge of the sheet


@dataclass(frozen=True)
class Laid:
    """One piece on a sheet: turned about its own origin, then moved."""

    template: Template
    move_m: tuple[float, float]
    turn_rad: float


@dataclass(frozen=True)
class CutSheet:
    """One sheet with the pieces on it."""

    stock: Stock
    material: Annotated[str, "what it is of"]
    thickness_m: Annotated[float, "of it [m]"]
    number: Annotated[int, "from 1"]
    laid: tuple[Laid, ...]

    @property
    def used(self) -> float:
        """Share of the sheet's area that becomes parts."""
        parts = sum(float(solid_area(each.template).area) for each in self.laid)
        return parts / (self.stock.width_m * self.stock.height_m)

    def template(self) -> Template:
        """The sheet as one drawing, true to size."""
        shapes: list[Shape] = [
            rectangle(0.0, 0.0, self.stock.width_m, self.stock.height_m, "hidden")
        ]
        for each in self.laid:
            shapes += moved(each.template, each.move_m, each.turn_rad)
        title = f"Cut sheet {self.number}: {1e3 * self.thickness_m:g} mm {self.material}".strip()
        used = f"{100 * self.used:.0f} % used"
        return Template(
            key=f"sheet-{self.number}",
            title=title,
            shapes=tuple(shapes),
            count=1,
            material="",
            thickness_m=None,
            notes=(f"{self.stock.name}, {used}; outer grain along the long side.",),
            flat=False,
        )


def grain_turns(template: Template) -> tuple[float, ...]:
    """The turns a piece may have: with grain, its arrow along the sheet either way; else four."""
    arrow = next((s for s in template.shapes if isinstance(s, Line) and s.layer == "grain"), None)
    if template.grain and arrow is not None:
        (x0, y0), (x1, y1) = arrow.points_m[0], arrow.points_m[-1]
        lean = atan2(y1 - y0, x1 - x0)
        return (-lean, pi - lean)
    return (0.0, pi / 2, pi, 1.5 * pi)


def _raster(figure: Area) -> NDArray[np.float64]:
    """Cells that a figure (its low left corner at 0, 0) touches, grown by half a cell."""
    grown = figure.buffer(0.75 * CELL_M)
    left, low, right, high = grown.bounds
    nx = int(np.ceil((right - left) / CELL_M)) + 1
    ny = int(np.ceil((high - low) / CELL_M)) + 1
    x = left + CELL_M * (np.arange(nx) + 0.5)
    y = low + CELL_M * (np.arange(ny) + 0.5)
    gx, gy = np.meshgrid(x, y)
    return np.asarray(covers(grown, gx, gy), dtype=np.float64)


def _fits_at(taken: NDArray[np.float64], mask: NDArray[np.float64]) -> tuple[int, int] | None:
    """The leftmost, then lowest place where the mask meets nothing: (column, row)."""
    if mask.shape[0] > taken.shape[0] or mask.shape[1] > taken.shape[1]:
        return None
    # correlation on a ring; places where the mask does not run over the edge are exact
    ring = np.fft.rfft2(taken) * np.conj(np.fft.rfft2(mask, taken.shape))
    rows, columns = (t - m + 1 for t, m in zip(taken.shape, mask.shape, strict=True))
    overlap = np.fft.irfft2(ring, taken.shape)[:rows, :columns]
    free = np.argwhere(overlap.T < 0.5)
    return None if len(free) == 0 else (int(free[0][0]), int(free[0][1]))


def nest(
    templates: Sequence[Template], stock: Stock, kerf_m: float
) -> tuple[tuple[Laid, ...], ...]:
    """Lay pieces out on as many equal sheets as it takes.

    Parameters
        templates : sequence of Template - flat pieces, `count` of each. [m]
        stock : Stock - the sheet; its width runs along the grain. [m]
        kerf_m : float - width of the cut. [m]
    Returns
        sheets : tuple of tuples of Laid - one tuple a sheet. [m]
    Raises
        nothing
    Validity
        A piece larger than the sheet is left out; `too_large` says so. Pieces keep kerf + 2 mm
        apart and 5 mm from the sheet's edge.
    Source
        Bottom-left placement on a raster (common practice); outlines checked exactly.
    Example
        >>> nest((), Stock("s", "", 0.004, 0.6, 0.3), 0.0)
        ()
    """
    pieces = [t for t in templates for _ in range(t.count)]
    pieces.sort(key=lambda t: (-float(solid_area(t).area), t.key))
    grow = (kerf_m + WEB_M) / 2.0
    rooms: list[NDArray[np.float64]] = []
    sheets: list[list[Laid]] = []
    shape = (
        int((stock.height_m - 2 * MARGIN_M + 2 * grow) / CELL_M),
        int((stock.width_m - 2 * MARGIN_M + 2 * grow) / CELL_M),
    )

    @cache
    def ways(key: str) -> list[tuple[float, tuple[float, float], NDArray[np.float64]]]:
        template = next(t for t in templates if t.key == key)
        found = []
        for turn in grain_turns(template):
            figure = turned_area(solid_area(template), turn, origin=(0, 0), use_radians=True)
            grown = figure.buffer(grow)
            left, low, _, _ = grown.bounds
            found.append((turn, (left - 0.75 * CELL_M, low - 0.75 * CELL_M), _raster(grown)))
        return found

    for piece in pieces:
        placed = _lay(piece, ways(piece.key), rooms, shape, grow)
        if placed is None:
            continue
        number, laid = placed
        while len(sheets) <= number:
            sheets.append([])
        sheets[number].append(laid)
    return tuple(tuple(sheet) for sheet in sheets)


def _lay(
    piece: Template,
    ways: Sequence[tuple[float, tuple[float, float], NDArray[np.float64]]],
    rooms: list[NDArray[np.float64]],
    shape: tuple[int, int],
    grow: float,
) -> tuple[int, Laid] | None:
    """Put a piece on the first sheet with room, a new one when none has."""
    for number in range(len(rooms) + 1):
        if number == len(rooms):
            rooms.append(np.zeros(shape))
        options = []
        for turn, corner, mask in ways:
            at = _fits_at(rooms[number], mask)
            if at is not None:
                options.append((at[0] + mask.shape[1], at, turn, corner, mask))
        if options:
            _, at, turn, corner, mask = min(options, key=lambda o: (o[0], o[1], o[2]))
            column, row = at
            rooms[number][row : row + mask.shape[0], column : column + mask.shape[1]] += mask
            move = (
                MARGIN_M - grow + column * CELL_M - corner[0],
                MARGIN_M - grow + row * CELL_M - corner[1],
            )
            return number, Laid(piece, move, turn)
        if not rooms[number].any():
            return None
    return None


def too_large(
    templates: Sequence[Template], choices: Choices, sheets: Sequence[CutSheet]
) -> dict[str, str]:
    """Flat pieces that lie on none of the sheets, by key, each with the reason and what to do."""
    laid = {each.template.key for sheet in sheets for each in sheet.laid}
    found = {}
    for template in templates:
        if not (template.flat and template.thickness_m) or template.key in laid:
            continue
        stock = stock_for(template.material, template.thickness_m, choices.stock)
        b = template.bounds
        found[template.key] = (
            f"{template.title}, {1e3 * b.width_m:.0f} x {1e3 * b.height_m:.0f} mm, is larger than "
            f"{stock.name} ({1e3 * stock.width_m:.0f} x {1e3 * stock.height_m:.0f} mm) and is "
            "on no cut sheet: give a larger sheet under [[bench.stock]] in build.toml"
            + (", or print the guide in one piece." if template.key == "guide-plate" else ".")
        )
    return found


def cut_sheets(templates: Sequence[Template], choices: Choices) -> tuple[CutSheet, ...]:
    """Nest all flat pieces that fit, by material and thickness, on the builder's sheets.

    What may be of any sheet, as a guide, lies with the other pieces of its thickness.
    """
    groups: dict[tuple[str, float], list[Template]] = {}
    for template in templates:
        if template.flat and template.thickness_m:
            material = template.material or "sheet"
            groups.setdefault((material, template.thickness_m), []).append(template)
    for material, thickness in [key for key in groups if key[0] == "sheet"]:
        same = sorted(name for name, thick in groups if thick == thickness and name != "sheet")
        if same:
            groups[same[0], thickness] += groups.pop((material, thickness))
    found: list[CutSheet] = []
    for (material, thickness), group in sorted(groups.items()):
        stock = stock_for(material, thickness, choices.stock)
        for laid in nest(group, stock, choices.kerf_m):
            found.append(CutSheet(stock, material, thickness, len(found) + 1, laid))
    return tuple(found)


def stock_for(material: str, thickness_m: float, stock: Sequence[Stock]) -> Stock:
    """The first sheet of this material and thickness; an unnamed one serves for any."""
    for each in stock:
        same = not each.material or each.material.lower() in material.lower()
        if same and (not each.thickness_m or abs(each.thickness_m - thickness_m) < 2e-4):
            return replace(each, thickness_m=thickness_m)
    return Stock(f"sheet 600 x 300, {1e3 * thickness_m:g} mm", material, thickness_m, 0.600, 0.300)


def placed_area(laid: Laid) -> Area:
    """The true outline of a piece where it lies."""
    figure = turned_area(solid_area(laid.template), laid.turn_rad, origin=(0, 0), use_radians=True)
    return shifted(figure, *laid.move_m)
