"""Earlier texts of the files: how they are named, found, marked as kept, and pruned.

Each stands in `.versions/FILE/` as NUMBER-TIME-HASH, marked ones with `-kept` behind.
"""

import contextlib
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from goodflight.project.disk import is_project_file
from goodflight.project.faults import PlaceRefused, SaveRefused
from goodflight.project.folder import (
    SCRATCH,
    VERSION_NAME,
    VERSIONS,
    Folder,
    digest_of,
    refuse,
)

NEWEST: Final = 100  # of a file, always there: an evening of changes, about a megabyte of text
DEEPEST: Final = 4  # folders below each other: .versions/flights/NAME/notes.toml


@dataclass(frozen=True)
class Version:
    """An earlier text of one file, numbered from 1, the oldest first."""

    file: str
    number: int
    saved: str  # UTC, when it was replaced: 20301231T235959Z
    path: Path
    kept: bool = False  # marked: never pruned

    @property
    def inside(self) -> str:
        """The path inside the project folder."""
        return f"{VERSIONS}/{self.file}/{self.path.name}"


def listed(folder: Folder, file: str) -> tuple[Version, ...]:
    """Return the earlier texts of a file, the oldest first; what is no plain file is none."""
    if not is_project_file(file):
        return ()
    place = f"{VERSIONS}/{file}"
    found = []
    for name in folder.names(place):
        match = VERSION_NAME.fullmatch(name)
        if match and folder.kind(f"{place}/{name}") == "a file":
            path = folder.root / place / name
            found.append(Version(file, int(match[1]), match[2], path, bool(match[4])))
    return tuple(sorted(found, key=lambda version: version.path.name))


def files_listed(folder: Folder) -> tuple[str, ...]:
    """Return the files of which earlier texts are kept, in order."""
    found, todo = list[str](), [VERSIONS]
    while todo:
        place = todo.pop()
        names = folder.names(place)
        if any(VERSION_NAME.fullmatch(name) for name in names):
            found.append(place.removeprefix(f"{VERSIONS}/"))
            continue
        for name in names:
            inside = f"{place}/{name}"
            kind = folder.kind(inside)
            if kind == "a folder" and inside != SCRATCH and inside.count("/") < DEEPEST:
                todo.append(inside)
            elif kind not in ("a folder", "a file"):
                refuse(inside, kind, "a folder with earlier texts", "take it away")
    return tuple(sorted(file for file in found if is_project_file(file)))


def next_name(folder: Folder, file: str, content: bytes, more: int = 0) -> str:
    """Return the name of the next version of a file, numbered after all that bear a number."""
    numbers = [VERSION_NAME.fullmatch(name) for name in folder.names(f"{VERSIONS}/{file}")]
    number = max((int(match[1]) for match in numbers if match), default=0) + 1 + more
    stamp = time.strftime("%Y%m%dT%H%M%SZ", time.gmtime())
    return f"{number:06d}-{stamp}-{digest_of(content)[:8]}"


def numbered(folder: Folder, file: str, number: int) -> Version:
    """Return one version of a file; SaveRefused names those that there are."""
    kept = listed(folder, file)
    for each in kept:
        if each.number == number:
            return each
    there = ", ".join(str(each.number) for each in kept) or "none"
    advice = "goodflight versions lists them"
    shown = file if len(file) <= 80 else file[:79] + "…"
    raise SaveRefused(f"{shown} has no version {number}; there are: {there}", advice=advice)


def text_of(folder: Folder, version: Version) -> str:
    """Return the text of a version; SaveRefused when it is none."""
    try:
        return folder.read(version.inside).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise SaveRefused(
            f"{version.file} version {version.number} holds bytes that are no text in UTF-8",
            "a text",
            "take another version; this one was kept of a file that was damaged",
        ) from error


def mark(folder: Folder, file: str, number: int, kept: bool) -> Version:
    """Mark a version as kept for good, or take the mark away."""
    version = numbered(folder, file, number)
    if version.kept != kept:
        name = version.path.name.removesuffix("-kept") + ("-kept" if kept else "")
        folder.move(version.inside, f"{VERSIONS}/{file}/{name}")
        folder.sync(f"{VERSIONS}/{file}")
    return numbered(folder, file, number)


def prune(folder: Folder, file: str) -> None:
    """Delete old versions: all but the newest, the last of each day, and every marked one."""
    found = listed(folder, file)
    last_of_day = {version.saved[:8]: version.number for version in found}
    with contextlib.suppress(OSError, PlaceRefused):  # the next save tries again
        for version in found[:-NEWEST]:
            if not version.kept and last_of_day[version.saved[:8]] != version.number:
                folder.drop(version.inside)
