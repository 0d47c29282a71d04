"""Closed lines on the ground, and what they run round."""

import math
from collections.abc import Sequence

import numpy as np

Point = tuple[float, float]


def holds(lines: Sequence[Sequence[Point]], place: Point) -> bool:
    """Whether the lines run round a place; a hole runs the other way, so it takes off."""
    turned = 0.0
    for line in lines:
        away = np.asarray(line) - place
        angles = np.arctan2(away[:, 1], away[:, 0])
        steps = np.roll(angles, -1) - angles
        turned += float(((steps + np.pi) % math.tau - np.pi).sum())
    return round(turned / math.tau) > 0
