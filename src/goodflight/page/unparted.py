"""No line to read ends between a figure and its unit, nor inside "7 in 100".

In files that stand alone here, on a page in static/spoken.js, by the same units.
"""

import re
from typing import Final

from goodflight.quantity import DIMENSIONS

_SHOWN: Final = {unit.symbol for each in DIMENSIONS.values() for unit in each.units} - {""}
UNITS: Final = "|".join(re.escape(each) for each in sorted(_SHOWN | {"°C", "°F"}))
_PARTS: Final = re.compile(
    rf" (?:(?<=\d )(?=(?:{UNITS})(?![\w/]))|(?<=\d[ \u00a0]in )(?=\d)|(?<=± )(?=\d))"
)
_KEPT: Final = re.compile(
    r"<(script|style|code|pre|textarea|option)\b.*?</\1>|<[^>]*>|([^<]+)", re.DOTALL
)


def unparted(words: str) -> str:
    """Words to read in which no line ends between a figure and its unit."""
    return _PARTS.sub("\u00a0", words)


def unparted_html(html: str) -> str:
    """The same of what is read of a file; tags, scripts and what is copied stay as they are."""
    return _KEPT.sub(lambda found: unparted(found[0]) if found[2] else found[0], html)
