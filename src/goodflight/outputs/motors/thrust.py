"""A thrust curve as a small SVG: straight lines between the points, greatest and mean thrust named.

No colours or sizes of type stand in the marks, only class names; the sheet they are put into inks
them.
"""

from collections.abc import Sequence
from html import escape
from typing import Final

from goodflight.outputs.marks import lettering
from goodflight.quantity import show

WIDTH: Final = 340.0
HEIGHT: Final = 170.0
LEFT: Final = 8.0
RIGHT: Final = 8.0
TOP: Final = 26.0
FOOT: Final = 24.0
MARKED: Final = 60  # points up to which each one is marked


def thrust_svg(
    times_s: Sequence[float], thrusts_n: Sequence[float], mean_n: float, units: str = "metric"
) -> str:
    """The curve with its mean as a chain line; every point of a short table as a tick.

    Parameters
        times_s : sequence of float - from ignition, rising from 0. [s]
        thrusts_n : sequence of float - thrust at those times, somewhere above 0. [N]
        mean_n : float - mean thrust over the curve. [N]
        units : str - "metric" or "imperial". [-]
    Returns
        svg : str - to be put into a sheet. [-]
    """
    end, peak = times_s[-1], max(thrusts_n)
    across = (WIDTH - LEFT - RIGHT) / end
    up = (HEIGHT - TOP - FOOT) / peak
    base = HEIGHT - FOOT
    points = [(LEFT + t * across, base - f * up) for t, f in zip(times_s, thrusts_n, strict=True)]
    curve = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    mean = base - mean_n * up
    top_x = points[thrusts_n.index(peak)][0]
    anchor = "start" if top_x < WIDTH / 3 else "end" if top_x > 2 * WIDTH / 3 else "middle"
    ticks = "".join(f"M{x:.1f} {base:g}v4" for x, _ in points) if len(points) <= MARKED else ""
    marks = [
        f'<path class="under" d="{curve}L{points[-1][0]:.1f} {base:g}H{LEFT:g}z"/>',
        f'<path class="hair" d="M{LEFT:g} {mean:.1f}H{WIDTH - RIGHT:g}"/>',
        f'<path class="curve" d="{curve}"/>',
        f'<path class="axis" d="M{LEFT:g} {base:g}H{WIDTH - RIGHT:g}{ticks}"/>',
        lettering(top_x, TOP - 9, f"{show(peak, 'force', units)} at most", anchor),
        lettering(WIDTH - RIGHT, mean - 4, f"mean {show(mean_n, 'force', units)}", "end"),
        lettering(LEFT, HEIGHT - 6, "ignition", "start"),
        lettering(WIDTH - RIGHT, HEIGHT - 6, f"{show(end, 'time', units)}", "end"),
    ]
    words = f"thrust over {show(end, 'time', units)}, at most {show(peak, 'force', units)}"
    return (
        f'<svg class="thrust" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img" '
        f'aria-label="{escape(words)}">{"".join(marks)}</svg>'
    )
