"""Earlier texts of the files: what each one changes, and whether it would mend a broken project.

Built on `versions`, `restore` and `bring_back`; nothing is written here except the text that was
read last without a fault, which is kept once the file is found broken.
"""

import contextlib
import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from goodflight.project.differences import Change, changes_between
from goodflight.project.disk import read_files
from goodflight.project.faults import Fault, SaveRefused
from goodflight.project.kept import Version, files_listed, listed, numbered, text_of
from goodflight.project.reading import read_project
from goodflight.project.records import Project
from goodflight.project.saving import faults_of, opened

MOST: Final = 40  # versions of one file that are looked at, the newest
TRIED: Final = 12  # of them read with the project as it stands: each takes as long as a look
SHOWN: Final = 120  # signs of one line


@dataclass(frozen=True)
class Earlier:
    """An earlier text: when it was replaced, what it would change, the faults it would leave."""

    version: Version
    changes: tuple[Change, ...]
    left: tuple[Fault, ...] = ()

    @property
    def when(self) -> str:
        """When this text was replaced, in this machine's time."""
        return in_words(self.version.saved)


@dataclass(frozen=True)
class Line:
    """One line of a file: its number, its text, and where in it the fault stands."""

    number: int
    text: str
    wrong: bool
    start: int = 0
    end: int = 0

    @property
    def parts(self) -> tuple[str, str, str]:
        """The text before the fault, the fault, and the text after it."""
        return self.text[: self.start], self.text[self.start : self.end], self.text[self.end :]


def in_words(saved: str) -> str:
    """Return a version's UTC stamp as local date and time: 3 Nov 2030, 14:05."""
    try:
        stamp = datetime.datetime.strptime(saved, "%Y%m%dT%H%M%SZ").replace(tzinfo=datetime.UTC)
    except ValueError:  # a name that was not given here
        return saved
    here = stamp.astimezone()
    return f"{here.day} {here:%b %Y, %H:%M}"


def files_with_versions(root: Path) -> tuple[str, ...]:
    """Return the files of which earlier texts are kept, in order."""
    with opened(root) as folder:
        return files_listed(folder)


def earlier(root: Path, file: str, most: int = MOST) -> tuple[Earlier, ...]:
    """Return the earlier texts of a file, the newest first, with what each would change.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]
    most : int - how many, the newest. [-]

    Returns
    -------
    kept : tuple of Earlier - each text once, the present one left out. [-]
    """
    texts, _ = read_files(root)
    now = {file: texts[file]} if file in texts else {}
    found, seen = [], {texts.get(file)}
    for version, old in _texts(root, file, most):
        if old not in seen:
            seen.add(old)
            found.append(Earlier(version, changes_between(now, {file: old})))
    return tuple(found)


def as_it_was(project: Project, file: str, number: int) -> Project:
    """Return the project with an earlier text of one file; nothing is written.

    Raises
    ------
    SaveRefused - there is no such version.
    ProjectErrors - the earlier text does not fit the other files.
    """
    if project.root is None:
        raise SaveRefused("this project was not read from a folder; it has no earlier versions")
    with opened(project.root) as folder:
        text = text_of(folder, numbered(folder, file, number))
    return read_project({**project.texts, file: text})


def that_mend(root: Path, file: str, most: int = 5) -> tuple[Earlier, ...]:
    """Return the earlier texts of a faulty file that hold no fault themselves, the newest first.

    `left` names the faults that would still stand in other files; with none the project loads.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]
    most : int - how many, the newest. [-]

    Returns
    -------
    kept : tuple of Earlier - those with the fewest faults left first, then the newest. [-]
    """
    texts, unread = read_files(root)
    rest = [fault for fault in unread if fault.file != file]
    found: list[Earlier] = []
    now = {file: texts[file]} if file in texts else {}
    seen = {texts.get(file)}
    for version, old in _texts(root, file, TRIED):
        if old in seen:
            continue
        seen.add(old)
        left = faults_of({**texts, file: old}, root, rest)
        if not any(fault.file == file for fault in left):
            found.append(Earlier(version, changes_between(now, {file: old}), left))
        if sum(not e.left for e in found) == most:
            break
    return tuple(sorted(found, key=lambda e: len(e.left))[:most])


def _texts(root: Path, file: str, most: int) -> Iterator[tuple[Version, str]]:
    """The newest versions of a file that are texts, the newest first."""
    with opened(root) as folder:
        for version in reversed(listed(folder, file)[-most:]):
            with contextlib.suppress(OSError, SaveRefused):
                yield version, text_of(folder, version)


def rows_of(text: str) -> list[str]:
    """Return the lines of a text, as faults count them."""
    return text.replace("\r\n", "\n").split("\n")


def around(rows: Sequence[str], fault: Fault, near: int = 1) -> tuple[Line, ...]:
    """Return the line of a fault with its neighbours, and where in it the fault stands.

    Parameters
    ----------
    rows : sequence of str - the lines of the whole file. [-]
    fault : Fault - whose line is shown. [-]
    near : int - lines before and after. [-]

    Returns
    -------
    lines : tuple of Line - empty when the fault has no line. [-]
    """
    if not 1 <= fault.line <= len(rows):
        return ()
    first, last = max(fault.line - near, 1), min(fault.line + near, len(rows))
    return tuple(_line(rows[n - 1], n, fault) for n in range(first, last + 1))


def _line(row: str, number: int, fault: Fault) -> Line:
    shown = row if len(row) <= SHOWN else row[: SHOWN - 1] + "…"
    if number != fault.line:
        return Line(number, shown, False)
    found = fault.found.removeprefix("the key ").removeprefix("the line ")
    start = shown.find(found)
    if start < 0 or not found:
        bare = shown.rstrip()
        return Line(number, shown, True, len(bare) - len(bare.lstrip()), len(bare))
    return Line(number, shown, True, start, start + len(found))
