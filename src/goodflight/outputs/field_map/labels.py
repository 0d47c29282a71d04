"""Where names may stand on a map: not on each other, and on as little ink as can be.

A name has several places where it may stand; the one that covers least ink wins. Widths of text
are estimated, a little on the wide side.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from typing import Final

import numpy as np
from numpy.typing import NDArray

Place = tuple[float, float]
Box = tuple[float, float, float, float]  # left, top, right, bottom

LETTER: Final = 6.7  # mean width of a letter of a name
TALL: Final = 15.0
ON_A_NAME: Final = 1000.0
STEP: Final = 5.0  # between the points that stand for a line of ink


@dataclass
class Labels:
    """The names on one map: its frame, the ink on it, and the boxes that are taken."""

    frame: Box
    ink: list[Place] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def draw_line(self, points: Sequence[Place], closed: bool = True) -> None:
        """Remember a line as ink."""
        ends = [*points[1:], points[0]] if closed else points[1:]
        for (x0, y0), (x1, y1) in zip(points, ends):
            count = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / STEP))
            for i in range(count):
                self.ink.append((x0 + (x1 - x0) * i / count, y0 + (y1 - y0) * i / count))

    def place(self, text: str, places: Iterable[Place]) -> Place | None:
        """The middle of the best place for a name, which is then taken; None when none fits."""
        ink: NDArray[np.float64] = np.array(self.ink) if self.ink else np.zeros((0, 2))
        best, least = None, math.inf
        for order, at in enumerate(places):
            box = self.box(text, at)
            if not self._within(box):
                continue
            cost = float(_inside(ink, box)) + 0.05 * order
            cost += ON_A_NAME * sum(_overlap(box, other) for other in self.taken)
            if cost < least:
                best, least = at, cost
        if best is None or least >= ON_A_NAME:
            return None
        self.taken.append(self.box(text, best))
        return best

    def box(self, text: str, at: Place) -> Box:
        """The box that a name covers when its middle is at a place."""
        half = 0.5 * LETTER * len(text) + 3.0
        return at[0] - half, at[1] - 0.5 * TALL, at[0] + half, at[1] + 0.5 * TALL

    def _within(self, box: Box) -> bool:
        left, top, right, bottom = self.frame
        return left < box[0] and top < box[1] and box[2] < right and box[3] < bottom


REACHES: Final = (20.0, 34.0, 52.0, 74.0, 100.0)


def around(at: Place, text: str, reaches: Iterable[float] = REACHES) -> list[Place]:
    """Places around a point, near ones first; beside it a name stands off by half its width."""
    half = 0.5 * LETTER * len(text)
    found = []
    for reach in reaches:
        for k in range(16):
            x, y = math.sin(k * math.pi / 8.0), -math.cos(k * math.pi / 8.0)
            found.append((at[0] + x * (reach + half), at[1] + y * reach))
    return found


def within(ring: Sequence[Place], text: str, frame: Box) -> list[Place]:
    """Places where a name lies wholly inside a ring and a frame; empty when it is too small."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    left, right = max(min(xs), frame[0]), min(max(xs), frame[2])
    top, bottom = max(min(ys), frame[1]), min(max(ys), frame[3])
    half, tall = 0.5 * LETTER * len(text) + 5.0, 0.5 * TALL + 4.0
    if right - left < 2.0 * half or bottom - top < 2.0 * tall:
        return []
    found = [
        (x, y)
        for y in np.linspace(top + tall, bottom - tall, 9).tolist()
        for x in np.linspace(left + half, right - half, 5).tolist()
        if all(_in_ring((x + a, y + b), ring) for a in (-half, half) for b in (-tall, tall))
    ]
    middle = 0.5 * (left + right), 0.5 * (top + bottom)
    return sorted(found, key=lambda p: math.hypot(p[0] - middle[0], p[1] - middle[1]))


def name_mark(text: str, at: Place, kind: str = "name") -> str:
    """A name centred on a place; the sheet gives it a halo of paper."""
    return (
        f'<text x="{at[0]:.1f}" y="{at[1] + 4.5:.1f}" text-anchor="middle" class="{kind}">'
        f"{escape(text)}</text>"
    )


def leader(start: Place, box: Box) -> str:
    """A thin line from a point to the near edge of a name's box."""
    x = min(max(start[0], box[0]), box[2])
    y = min(max(start[1], box[1]), box[3])
    return f'<path d="M{start[0]:.1f} {start[1]:.1f}L{x:.1f} {y:.1f}" class="leader"/>'


def _inside(ink: NDArray[np.float64], box: Box) -> int:
    x, y = ink[:, 0], ink[:, 1]
    return int(((x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])).sum())


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _in_ring(p: Place, ring: Sequence[Place]) -> bool:
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]]):
        if (y0 > p[1]) != (y1 > p[1]) and p[0] < x0 + (p[1] - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside
