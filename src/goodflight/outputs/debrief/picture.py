"""What was predicted and what the flight did, one scale a figure, the flight overlaid.

A wide band holds 9 in 10 of the predicted flights, the dark one half; the upright is what was seen,
with its error either side.
"""

from collections.abc import Sequence
from html import escape
from typing import Final

from goodflight.constants import HALF_NORMAL, NINE_TENTHS
from goodflight.quantity import show
from goodflight.studies.debriefing.book import Kept
from goodflight.studies.debriefing.fit import Place

ROW, WIDTH = 64.0, 360.0  # px: as wide as a phone
AROUND: Final = 1.35  # of the widest: room at both ends


def overlay_svg(
    places: Sequence[Place], kept: Kept | None = None, units: str = "metric", alone: bool = False
) -> str:
    """Bands of every figure seen, and what was seen.

    Parameters
        places : sequence of Place - each figure seen, and what was predicted. [SI]
        kept : Kept or None - the prediction kept with the flight; its bands stand before the
            model's, where it was made before. [SI]
        units : str - metric or imperial. [-]
        alone : bool - with its own inks, for paper. [-]
    Returns
        svg : str - one row a figure. [-]
    Raises
        nothing
    Validity
        Each row has its own scale.
    Source
        Own drawing.
    Example
        none
    """
    said = {} if kept is None or kept.afterwards else kept.bands
    rows = [_row(i, place, said.get(place.name), units) for i, place in enumerate(places)]
    high = ROW * len(places) + 8
    style = f"<style>{PAPER}</style>" if alone else ""
    words = "; ".join(f"{p.words} {round(100 * p.below)} in 100 predicted lower" for p in places)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="overlay" viewBox="0 0 {WIDTH:g} '
        f'{high:g}" role="img" aria-label="{escape(words)}">{style}{"".join(rows)}</svg>'
    )


PAPER: Final = (
    "text{font:12px sans-serif;fill:#1b2626}.soft{fill:#68726f}.nine{fill:#d9d8cf}"
    ".half{fill:#9aa39f}.middle,.axis{stroke:#1b2626;fill:none}.seen{stroke:#1b2626;"
    "stroke-width:3;fill:none}.off{stroke:#d2401f}"
)


def _row(number: int, place: Place, kept: tuple[float, ...] | None, units: str) -> str:
    middle, sigma = place.predicted.value, place.predicted.error
    nine = (middle - NINE_TENTHS * sigma, middle + NINE_TENTHS * sigma)
    half = (middle - HALF_NORMAL * sigma, middle + HALF_NORMAL * sigma)
    if kept is not None:
        nine, half, middle = (kept[0], kept[-1]), (kept[2], kept[4]), kept[3]
    seen, error = place.seen.value, place.seen.error
    reach = AROUND * max(abs(end - middle) for end in (*nine, seen - error, seen + error))

    def x(value: float) -> float:
        return WIDTH / 2 * (1.0 + (value - middle) / reach)

    top, kind = number * ROW + 8, place.dimension
    off = "" if nine[0] <= seen <= nine[1] else " off"
    words = f"{place.words}: seen {show(seen, kind, units)}"
    return (
        f'<text x="0" y="{top + 12:g}">{escape(words)}</text>'
        f'<text x="{WIDTH:g}" y="{top + 12:g}" text-anchor="end" class="soft">'
        f"{show(middle, kind, units)}</text>"
        f'<path d="M0 {top + 46:g}H{WIDTH:g}" class="axis"/>'
        f'<rect x="{x(nine[0]):.1f}" y="{top + 24:g}" width="{x(nine[1]) - x(nine[0]):.1f}" '
        f'height="22" class="nine"/>'
        f'<rect x="{x(half[0]):.1f}" y="{top + 29:g}" width="{x(half[1]) - x(half[0]):.1f}" '
        f'height="17" class="half"/>'
        f'<path d="M{x(middle):.1f} {top + 24:g}V{top + 46:g}" class="middle"/>'
        f'<path d="M{x(seen):.1f} {top + 18:g}V{top + 50:g}M{x(seen - error):.1f} {top + 21:g}'
        f'H{x(seen + error):.1f}" class="seen{off}"/>'
    )
