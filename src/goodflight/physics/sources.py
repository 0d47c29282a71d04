"""Sources by their key, and what a constant stands on.

A constant of the models names its source by key, so that rows, terminal, page and JSON show the
same source that the test beside the formula cites. docs/bibliography.md is made from the
same table (`bibliography.py`).
"""

from dataclasses import dataclass
from typing import Final

from goodflight.physics.bibliography import ALL


@dataclass(frozen=True)
class Constant:
    """A figure of a model that no project gives.

    value : in SI. dimension : for showing. source : key of `SOURCES`, or one of `UNSOURCED`.
    held : how the figure itself is held, where that differs from its source. note : in a few words.
    """

    value: float
    dimension: str
    source: str
    held: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.source not in SOURCES and self.source not in UNSOURCED:
            raise ValueError(f"no source has the key {self.source!r}; add it to SOURCES")

    @property
    def said(self) -> str:
        """Where the figure comes from, in words."""
        words = (
            f"{cited(self.source)}, this figure {self.held}" if self.held else cited(self.source)
        )
        return f"{words}: {self.note}" if self.note else words


UNSOURCED: Final = {
    "practice": "common practice, no source",
    "guess": "our guess",
    "derived": "derived here",
    "memory": "from memory, no copy at hand",
    "builder": "the builder's own figure",
    "code": "code set of the site",
    "sheet": "the maker's sheet",
    "kernel": "the flight model, see docs/models.md",
    "definition": "definition",
}

SOURCES: Final = {source.key: source for source in ALL}
if len(SOURCES) != len(ALL):
    raise RuntimeError("two sources share a key")


def cited(key: str) -> str:
    """Return a source in words, with how it is held: what a row shows under its formula.

    Parameters
        key : str - of the bibliography, or a word as practice. [-]
    Returns
        words : str - the source, and whether it was read. [-]
    Raises
        KeyError - no source has this key.
    Source
        docs/bibliography.md.
    """
    if key in UNSOURCED:
        return UNSOURCED[key]
    source = SOURCES[key]
    return f"{source.text} ({source.held})"
