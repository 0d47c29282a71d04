"""How ground lies on the paper of a map."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from goodflight.outputs.field_map.labels import Box, Place


@dataclass(frozen=True)
class Ground:
    """How metres east and north of the pad lie on the paper.

    frame : left, top, right and bottom of the map. turn_rad : the bearing that is up; west and
    south are the left and lower edge as they lie when it is.
    """

    west_m: float
    south_m: float
    scale: float
    frame: Box
    turn_rad: float = 0.0

    def __call__(self, point: Sequence[float]) -> Place:
        """Where a point lies."""
        x, y = turned(point, self.turn_rad)
        left, _, _, bottom = self.frame
        return left + (x - self.west_m) * self.scale, bottom - (y - self.south_m) * self.scale

    def holds(self, at: Place) -> bool:
        """Whether a place lies on the map."""
        left, top, right, bottom = self.frame
        return left <= at[0] <= right and top <= at[1] <= bottom

    def edge(self, at: Place) -> Place:
        """The nearest place on the map."""
        left, top, right, bottom = self.frame
        return min(max(at[0], left), right), min(max(at[1], top), bottom)


def turned(point: Sequence[float], turn_rad: float) -> Place:
    """A point as it lies when a bearing is up: metres to the right, and up."""
    east, north = point
    sine, cosine = math.sin(turn_rad), math.cos(turn_rad)
    return east * cosine - north * sine, east * sine + north * cosine


def polygon(points: Iterable[Place], kind: str) -> str:
    """An area on the paper."""
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return f'<polygon points="{path}" class="{kind}"/>'
