"""Kinds of launch rail by what the trade calls them: width of the section, nominal slot; or a rod.

A kind is a name on a label, no size that is computed with but the width of the section: sizes of
one nominal slot differ between profiles, so what is not sold for a kind is measured.
"""

from typing import Final, Literal

from goodflight.constants import INCH_M

RailKind = Literal[
    "20 mm, slot 6 mm",
    "25 mm, slot 6 mm",
    "1 in, slot 1/4 in",
    "30 mm, slot 8 mm",
    "1.5 in, slot 5/16 in",
    "40 mm, slot 8 mm",
    "rod",
]
ROD: Final = "rod"
WIDTHS_M: Final[dict[str, float]] = {
    "20 mm, slot 6 mm": 0.020,
    "25 mm, slot 6 mm": 0.025,
    "1 in, slot 1/4 in": INCH_M,
    "30 mm, slot 8 mm": 0.030,
    "1.5 in, slot 5/16 in": 0.0381,
    "40 mm, slot 8 mm": 0.040,
}
