"""Lines and areas cut at the frame of a map, so that nothing drawn reaches beyond it."""

from collections.abc import Callable, Sequence

from goodflight.outputs.field_map.labels import Box, Place


def clipped_line(points: Sequence[Place], frame: Box, closed: bool = True) -> str:
    """The path of a line within a frame, in as many pieces as are left of it."""
    ends = [*points[1:], points[0]] if closed else points[1:]
    path, last = [], None
    for start, end in zip(points, ends):
        piece = _within(start, end, frame)
        if piece is None:
            continue
        (x0, y0), (x1, y1) = piece
        if last != piece[0]:
            path.append(f"M{x0:.1f} {y0:.1f}")
        path.append(f"L{x1:.1f} {y1:.1f}")
        last = piece[1]
    return "".join(path)


def clipped_area(ring: Sequence[Place], frame: Box) -> list[Place]:
    """The corners of an area within a frame; empty when all of it lies beyond.

    Cut at one side of the frame after the other (Sutherland and Hodgman).
    """
    left, top, right, bottom = frame
    cuts: tuple[tuple[int, float, Callable[[float], bool]], ...] = (
        (0, left, lambda v: v >= left),
        (0, right, lambda v: v <= right),
        (1, top, lambda v: v >= top),
        (1, bottom, lambda v: v <= bottom),
    )
    found = list(ring)
    for axis, edge, holds in cuts:
        before, found = found, []
        for a, b in zip([*before[-1:], *before[:-1]], before):
            if holds(a[axis]) != holds(b[axis]):
                share = (edge - a[axis]) / (b[axis] - a[axis])
                found.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
            if holds(b[axis]):
                found.append(b)
    return found


def _within(start: Place, end: Place, frame: Box) -> tuple[Place, Place] | None:
    """The part of a straight piece within a frame (Liang and Barsky); None when there is none."""
    (x0, y0), (x1, y1) = start, end
    left, top, right, bottom = frame
    first, last = 0.0, 1.0
    for step, room in (
        (x0 - x1, x0 - left),
        (x1 - x0, right - x0),
        (y0 - y1, y0 - top),
        (y1 - y0, bottom - y0),
    ):
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first >= last:
        return None
    a = start if first == 0.0 else (x0 + first * (x1 - x0), y0 + first * (y1 - y0))
    b = end if last == 1.0 else (x0 + last * (x1 - x0), y0 + last * (y1 - y0))
    return a, b
