"""Write project files so that nothing is ever lost.

A file changes places with its new text in one step, so a killed process leaves the old or the new
text, never half of one; several files change all together or not at all (`together`). A file that
changed on disk since it was read is never overwritten. The text before each change is kept under
`.versions/` and can be brought back (`kept`).
"""

import contextlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

from goodflight.project import journal, kept, together
from goodflight.project.disk import digest, read_in
from goodflight.project.faults import Fault, ProjectErrors, SavedTwice, SaveRefused
from goodflight.project.folder import SCRATCH, VERSIONS, Folder
from goodflight.project.kept import Version, text_of
from goodflight.project.places import kind_of, make_root
from goodflight.project.reading import read_project
from goodflight.project.records import Project


@contextlib.contextmanager
def opened(root: Path) -> Iterator[Folder]:
    """Open a project folder; what the disk refuses is a refusal, and nothing was written."""
    try:
        with Folder(root) as folder:
            yield folder
    except OSError as error:
        place = error.filename if isinstance(error.filename, str) else str(root)
        raise SaveRefused(
            f"{place}: {error.strerror or error}",
            f"a disk with room, and a folder {root} that can be read and written",
            "make room or change the permissions, then do it again; the files are as they were",
        ) from error


@contextlib.contextmanager
def _locked(root: Path) -> Iterator[Folder]:
    """Open a folder for one process to change; a save that was cut off before is ended first."""
    with opened(root) as folder, folder.locked():
        together.recover(folder)
        yield folder


def versions(root: Path, file: str) -> tuple[Version, ...]:
    """Return the earlier texts of a file, the oldest first.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]

    Returns
    -------
    kept : tuple of Version - empty when there are none. [-]

    Raises
    ------
    SaveRefused - the folder of earlier texts cannot be read, or is not the project's own.
    """
    with opened(root) as folder:
        return kept.listed(folder, file)


def keep_version(root: Path, file: str, number: int, keep: bool = True) -> Version:
    """Mark an earlier text so that it is never pruned, or take the mark away.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]
    number : int - of the version, from 1. [-]
    keep : bool - mark it, or take the mark away. [-]

    Returns
    -------
    version : Version - as it is marked now. [-]

    Raises
    ------
    SaveRefused - there is no such version, or the folder cannot be written.
    """
    with opened(root) as folder:
        kept.numbered(folder, file, number)  # before anything is made in the folder
    with _locked(root) as folder:
        return kept.mark(folder, file, number, keep)


def write_files(
    project: Project,
    changed: Mapping[str, str | None],
    logs: Mapping[str, bytes] = MappingProxyType({}),
) -> Project:
    """Write changed texts of a project, all or none, after checking the whole; return it anew.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    changed : mapping - new texts by path inside the folder; None takes a file out. [-]
    logs : mapping - logs of flights, byte for byte, by paths where nothing lies yet. [-]

    Raises
    ------
    SaveRefused - a file changed on disk since it was read, the project has no folder, or the disk
        or what lies in the folder does not let it be written; nothing is written.
    SaveUnfinished - the disk failed in the middle; the next start finishes or takes back the save.
    SavedTwice - all is written; what another program saved in the same moment is a version.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    root = project.root
    if root is None:
        raise SaveRefused("this project was not read from a folder; load it from one to save it")
    changed = {file: text for file, text in changed.items() if project.texts.get(file) != text}
    if not changed and not logs:
        return project
    with _locked(root) as folder:
        now, faults = read_in(folder)
        if faults:
            raise ProjectErrors(faults_of(now, root, faults))
        raw = {file: _raw(folder, file) for file in changed}
        for file, present in raw.items():
            text = None if present is None else present.decode("utf-8-sig", "replace")
            _check_unchanged(project, file, text)
        contents = {f: None if text is None else text.encode() for f, text in changed.items()}
        put = {f: raw.decode("utf-8-sig") for f, raw in contents.items() if raw is not None}
        after = {f: text for f, text in {**now, **put}.items() if changed.get(f, "") is not None}
        new = read_project(after, root)
        twice = _change(folder, {**logs, **contents}, raw)
        written = _as_it_lies(folder, after, new)
    if twice is not None:
        twice.project = written
        raise twice
    return written


def _raw(folder: Folder, file: str) -> bytes | None:
    try:
        return folder.read(file)
    except FileNotFoundError:
        return None


def _change(
    folder: Folder, contents: Mapping[str, bytes | None], raw: Mapping[str, bytes | None]
) -> SavedTwice | None:
    """Write; what to raise in the end when another program saved in the same moment."""
    try:
        met = together.change(folder, contents, raw)
    except together.MetAnotherError as error:
        raise _met(error.file, "was changed by another program") from error
    if not met:
        return None
    files = ", ".join(f"{entry.file} version {int(entry.kept[:6])}" for entry in met)
    return SavedTwice(
        "The change was written. In the very same moment another program saved, too; what it "
        f"wrote is kept: {files}. Look at both, and bring back the one you want."
    )


def _as_it_lies(folder: Folder, texts: Mapping[str, str], new: Project) -> Project:
    """The project just written, read once more if another program has written since."""
    try:
        now, faults = read_in(folder)
        return new if not faults and now == texts else read_project(now, folder.root, faults)
    except (OSError, ProjectErrors):  # not a fault of this save: the next look tells it
        return new


def _check_unchanged(project: Project, file: str, present: str | None) -> None:
    read = project.hashes.get(file)
    if (None if present is None else digest(present)) != read:
        what = "was removed" if present is None else "was changed by another program"
        raise _met(file, what)


def _met(file: str, what: str) -> SaveRefused:
    return SaveRefused(
        f"{file} {what} after it was read here. Nothing was written and nothing is lost: "
        "load the project again, look at the file, and make the change once more."
    )


def restore(project: Project, file: str, number: int) -> Project:
    """Bring back an earlier text of a file; the present one becomes a version itself.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    file : str - path inside the folder, e.g. "rocket.toml". [-]
    number : int - of the version, from 1. [-]

    Raises
    ------
    SaveRefused - there is no such version, or the file changed since it was read.
    ProjectErrors - the old text does not fit the other files; nothing is written.
    """
    if project.root is None:
        raise SaveRefused("this project was not read from a folder; it has no earlier versions")
    with opened(project.root) as folder:
        text = text_of(folder, kept.numbered(folder, file, number))
    return write_files(project, {file: text})


def bring_back(root: Path, file: str, number: int) -> tuple[Fault, ...]:
    """Bring back an earlier text of a file, also where the project is broken as it stands.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder, e.g. "rocket.toml". [-]
    number : int - of the version, from 1. [-]

    Returns
    -------
    faults : tuple of Fault - what is still wrong in the project; empty when it is sound. [-]

    Raises
    ------
    SaveRefused - there is no such version, or the folder cannot be written.
    SavedTwice - it is written; what another program saved in the same moment is a version.
    ProjectErrors - the project is sound and the old text would break it; nothing is written.
    """
    with opened(root) as folder:
        kept.numbered(folder, file, number)  # before anything is made in the folder
    with _locked(root) as folder:
        text = text_of(folder, kept.numbered(folder, file, number))
        texts, unread = read_in(folder)
        rest = [fault for fault in unread if fault.file != file]
        after = faults_of({**texts, file: text}, root, rest)
        if after and not faults_of(texts, root, unread):
            raise ProjectErrors(after)
        present, content = _raw(folder, file), text.encode("utf-8")
        twice = None if present == content else _change(folder, {file: content}, {file: present})
    if twice is not None:
        raise twice
    return after


def faults_of(texts: Mapping[str, str], root: Path, unread: list[Fault]) -> tuple[Fault, ...]:
    """Return every fault of a set of texts; empty when they make a project."""
    try:
        read_project(texts, root, unread)
    except ProjectErrors as error:
        return error.faults
    return ()


def write_project(root: Path, files: Mapping[str, str | bytes]) -> None:
    """Write a new project into a folder that is new or empty, schemas for editors included.

    Parameters
    ----------
    root : Path - the project's folder; made when it is not there. [-]
    files : mapping - texts, or bytes of logs, by path inside the folder. [-]

    Raises
    ------
    SaveRefused - the folder holds something already, or cannot be written; nothing was written.
    SaveUnfinished - the disk failed in the middle; the next start finishes or takes back the save.
    """
    from goodflight.project.schemas import packaged

    if not is_empty(root):
        raise not_empty(root)
    schemas = {f".schema/{name}": text for name, text in packaged().items()}
    texts = {**schemas, **files}
    try:
        make_root(root)
    except OSError as error:
        raise SaveRefused(
            f"{root}: {error.strerror or error}",
            "a place where a folder can be made",
            "give another place; nothing was written",
        ) from error
    with _locked(root) as folder:
        if any(not name.startswith(".") for name in folder.names()):
            raise not_empty(root)
        contents = {f: t if isinstance(t, bytes) else t.encode() for f, t in texts.items()}
        _change(folder, contents, {file: _raw(folder, file) for file in texts})


def write_first(root: Path, files: Mapping[str, str]) -> None:
    """Write texts into a folder that holds no project yet, beside what lies there.

    Parameters
    ----------
    root : Path - made when it is not there. [-]
    files : mapping - texts by path inside the folder; what they replace is kept as a version. [-]

    Raises
    ------
    SaveRefused - a project stands there already, or the folder cannot be written.
    SaveUnfinished - the disk failed in the middle; the next start finishes or takes back the save.
    """
    if kind_of(root) == "":
        return write_project(root, files)
    with _locked(root) as folder:
        if any(folder.kind(name) for name in ("rocket.toml", "plans.toml")):
            raise SaveRefused(f"{root} holds a project already; nothing was written")
        contents = {file: text.encode("utf-8") for file, text in files.items()}
        present = {file: _raw(folder, file) for file in contents}
        changed = {file: raw for file, raw in contents.items() if raw != present[file]}
        _change(folder, changed, {file: present[file] for file in changed})
    return None


def is_empty(root: Path) -> bool:
    """Whether a place is free for a new project: nothing there, or a folder without files."""
    if kind_of(root) != "a folder":
        return kind_of(root) == ""
    with opened(root) as folder:
        waiting = journal.pending(folder)
        return not waiting and all(name.startswith(".") for name in folder.names())


def not_empty(root: Path) -> SaveRefused:
    """What is said of a place that is not free for a new project."""
    return SaveRefused(f"{root} is not empty; name a new folder, nothing was written")


def keep_text(root: Path, file: str, text: str) -> None:
    """Keep a text of a file as its newest version, unless it is that already.

    For the text that was read last, when another program has broken the file since.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]
    text : str - to keep. [-]

    Raises
    ------
    SaveRefused - the folder cannot be written.
    """
    content = text.encode("utf-8")
    with _locked(root) as folder:
        there = kept.listed(folder, file)
        if there and folder.read(there[-1].inside) == content:
            return
        place, slot = f"{VERSIONS}/{file}", f"{SCRATCH}/{journal.new_mark()}"
        folder.make(place)
        folder.write(slot, content)
        folder.move(slot, f"{place}/{kept.next_name(folder, file, content)}")
        folder.sync(place)
        kept.prune(folder, file)
