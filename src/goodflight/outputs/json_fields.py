"""What JSON fields mean that no result declares itself."""

from typing import Final

from goodflight.outputs.figures import FIGURES

FIELDS: Final[dict[str, dict[str, str]]] = {
    "draw": {"file": "where the drawing was saved"},
    "figures of `fly`": {key: words for key, (_, words) in FIGURES.items()},
}
