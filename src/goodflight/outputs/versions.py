"""Earlier texts of the project's files, for a terminal and as data."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Protocol

from goodflight.outputs.record import record


class Kept(Protocol):
    """An earlier text, as the project keeps it."""

    @property
    def file(self) -> str: ...
    @property
    def number(self) -> int: ...
    @property
    def saved(self) -> str: ...
    @property
    def kept(self) -> bool: ...


@dataclass(frozen=True)
class Version:
    """An earlier text of one file."""

    file: Annotated[str, "path inside the project"]
    version: Annotated[int, "number, from 1, the oldest first; for `restore`"]
    saved: Annotated[str, "when it was replaced, UTC: 20301231T235959Z"]
    kept: Annotated[bool, "true: marked with --keep, never pruned"]


@dataclass(frozen=True)
class Versions:
    """Earlier texts of a project, or of one file."""

    versions: Annotated[tuple[Version, ...], "every earlier text that is kept"]


def versions_record(kept: Sequence[Kept]) -> dict[str, Any]:
    """Earlier texts as data."""
    found = tuple(Version(each.file, each.number, each.saved, each.kept) for each in kept)
    return record(Versions(found))


def versions_text(kept: Sequence[Kept], folder: str) -> str:
    """Earlier texts, one a line, and how to bring one back."""
    if not kept:
        return "No earlier versions: no file of this project was changed by goodflight.\n"
    rows = [
        f"{each.file}  version {each.number}  saved {each.saved}{'  kept' if each.kept else ''}"
        for each in kept
    ]
    rows.append(f"Bring one back: goodflight restore {shlex.quote(folder)} FILE VERSION")
    return "\n".join(rows) + "\n"
