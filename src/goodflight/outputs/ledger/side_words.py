"""What a change does besides: rows that get worse, with their chances, and rows not known."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from goodflight.outputs.words import change
from goodflight.studies.results import Remedy

NOBODY: Final[Mapping[str, str]] = MappingProxyType({})


def side_words(remedy: Remedy, titles: Mapping[str, str] = NOBODY) -> str:
    """`; makes worse: zipper 2 → 4 in 100; off_field is not known`; empty for no side effects."""
    worse = [
        f"{titles.get(side.key, side.key)} {change(side.before, side.after)}"
        for side in remedy.sides
        if side.after is not None and side.after > side.before
    ]
    words = f"; makes worse: {', '.join(worse)}" if worse else ""
    if remedy.unknown:
        dark = ", ".join(titles.get(key, key) for key in remedy.unknown)
        words += f"; not known with it: {dark}"
    return words
