"""What a change does besides: rows that get worse, with their chances, and rows not known."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from goodflight.outputs.words import change
from goodflight.studies.results import Remedy, SideRow

NOBODY: Final[Mapping[str, str]] = MappingProxyType({})


def side_words(remedy: Remedy, titles: Mapping[str, str] = NOBODY) -> str:
    """`; makes worse: zipper 2 → 4 in 100; off_field is not known`; empty for no side effects."""
    sides = {side.key: side for side in remedy.sides}
    worse = [_worse(titles.get(key, key), sides.get(key)) for key in remedy.worsens]
    words = f"; makes worse: {', '.join(worse)}" if worse else ""
    if remedy.unknown:
        dark = ", ".join(titles.get(key, key) for key in remedy.unknown)
        words += f"; not known with it: {dark}"
    return words


def _worse(title: str, side: SideRow | None) -> str:
    return (
        title
        if side is None or side.after is None
        else (f"{title} {change(side.before, side.after)}")
    )
