"""Write project files so that nothing is ever lost.

A file is replaced in one step (temporary file, fsync, rename), so a killed process leaves the
old or the new text, never half of one. A file that changed on disk since it was read is never
overwritten. The text before each change is kept under `.versions/` and can be brought back.
"""

import contextlib
import hashlib
import os
import re
import time
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from goodflight.project.disk import digest, read_files
from goodflight.project.faults import Fault, ProjectErrors, SaveRefused
from goodflight.project.reading import load, read_project
from goodflight.project.records import Project

VERSIONS = ".versions"
_NAME = re.compile(r"^(\d{6})-(\d{8}T\d{6}Z)-([0-9a-f]{8})$")


@dataclass(frozen=True)
class Version:
    """An earlier text of one file, numbered from 1, the oldest first."""

    file: str
    number: int
    saved: str  # UTC, when it was replaced: 20301231T235959Z
    path: Path


@contextlib.contextmanager
def _writing(folder: Path) -> Iterator[None]:
    """Turn a disk that refuses a write into a refusal of the save."""
    try:
        yield
    except OSError as error:
        place = error.filename if isinstance(error.filename, str) else str(folder)
        raise SaveRefused(
            f"{place}: {error.strerror or error}",
            f"a disk with room, and a folder {folder} that can be written",
            "make room or change the permissions, then do it again; the files are as they were",
        ) from error


def _folder(root: Path, place: Path) -> Path:
    """Make a folder of a project; a link must not lead out of it."""
    if not place.resolve().is_relative_to(root.resolve()):
        raise SaveRefused(
            f"{place}: a link that leads out of the project folder",
            "a folder inside the project",
            "put a folder in place of the link; nothing was written",
        )
    place.mkdir(parents=True, exist_ok=True)
    return place


@contextlib.contextmanager
def _locked(root: Path) -> Iterator[None]:
    """Let one process at a time check and replace files of a project."""
    with _writing(root):
        folder = _folder(root, root / VERSIONS)
        handle = open(folder / "lock", "a", encoding="utf-8")  # noqa: SIM115 (closed below)
    with handle, _writing(root):
        try:
            import fcntl
        except ImportError:  # no advisory locks here: the content check still guards
            yield
            return
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield


def replace_file(target: Path, text: str | bytes, scratch: Path) -> None:
    """Put `text` in place of `target` in one step; `scratch` is on the same disk."""
    scratch.mkdir(parents=True, exist_ok=True)
    temporary = scratch / f"{os.getpid()}-{time.monotonic_ns()}"
    try:
        with open(temporary, "wb") as handle:
            handle.write(text if isinstance(text, bytes) else text.encode("utf-8"))
            handle.flush()
            os.fsync(handle.fileno())
        os.replace(temporary, target)
        _sync_folder(target.parent)
    finally:
        temporary.unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    with contextlib.suppress(OSError):  # not every system lets a folder be synced
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _clear_scratch(scratch: Path) -> None:
    """Remove what a killed save left behind; called under the lock."""
    for leftover in scratch.glob("*") if scratch.is_dir() else ():
        leftover.unlink(missing_ok=True)


def versions(root: Path, file: str) -> tuple[Version, ...]:
    """Return the earlier texts of a file, the oldest first.

    Parameters
    ----------
    root : Path - the project's folder. [-]
    file : str - path inside the folder. [-]

    Returns
    -------
    kept : tuple of Version - empty when there are none. [-]
    """
    folder = root / VERSIONS / file
    own = folder.is_dir() and folder.resolve().is_relative_to(root.resolve())
    found = []
    for path in sorted(folder.iterdir()) if own else ():
        match = _NAME.match(path.name)
        if match and path.is_file() and not path.is_symlink():
            found.append(Version(file, int(match[1]), match[2], path))
    return tuple(found)


def _keep(root: Path, file: str, raw: bytes) -> None:
    """Keep a file's present bytes as its newest version, unless they are that already."""
    kept = versions(root, file)
    if kept and kept[-1].path.read_bytes() == raw:
        return
    number = kept[-1].number + 1 if kept else 1
    stamp = time.strftime("%Y%m%dT%H%M%SZ", time.gmtime())
    folder = _folder(root, root / VERSIONS / file)
    target = folder / f"{number:06d}-{stamp}-{hashlib.sha256(raw).hexdigest()[:8]}"
    replace_file(target, raw, root / VERSIONS / "scratch")


def write_files(project: Project, changed: Mapping[str, str | None]) -> Project:
    """Write changed texts of a project, after checking the whole of it, and return it anew.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    changed : mapping - new texts by path inside the folder; None takes a file out. [-]

    Raises
    ------
    SaveRefused - a file changed on disk since it was read, or the project has no folder.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    root = project.root
    if root is None:
        raise SaveRefused("this project was not read from a folder; load it from one to save it")
    changed = {file: text for file, text in changed.items() if project.texts.get(file) != text}
    if not changed:
        return project
    with _locked(root):
        _clear_scratch(root / VERSIONS / "scratch")
        now, faults = read_files(root)
        for file in changed:
            _check_unchanged(project, file, now.get(file))
        after = {file: text for file, text in {**now, **changed}.items() if text is not None}
        read_project(after, root, faults)
        for file in changed:
            _folder(root, (root / file).parent)
        for file, text in changed.items():
            target = root / file
            if file in now:
                _keep(root, file, now[file].encode("utf-8"))
            if text is None:
                target.unlink(missing_ok=True)
                continue
            replace_file(target, text, root / VERSIONS / "scratch")
    return load(root)


def _check_unchanged(project: Project, file: str, present: str | None) -> None:
    read = project.hashes.get(file)
    if (None if present is None else digest(present)) == read:
        return
    what = "was removed" if present is None else "was changed by another program"
    raise SaveRefused(
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
    raw = _version(project.root, file, number).path.read_bytes()
    return write_files(project, {file: raw.decode("utf-8")})


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
    ProjectErrors - the project is sound and the old text would break it; nothing is written.
    """
    raw = _version(root, file, number).path.read_bytes()
    with _locked(root):
        _clear_scratch(root / VERSIONS / "scratch")
        texts, unread = read_files(root)
        rest = [fault for fault in unread if fault.file != file]
        after = faults_of({**texts, file: raw.decode("utf-8")}, root, rest)
        if after and not faults_of(texts, root, unread):
            raise ProjectErrors(after)
        target = root / file
        if target.is_file():
            _keep(root, file, target.read_bytes())
        _folder(root, target.parent)
        replace_file(target, raw, root / VERSIONS / "scratch")
    return after


def _version(root: Path, file: str, number: int) -> Version:
    inside = Path(file)
    kept = () if inside.is_absolute() or ".." in inside.parts else versions(root, file)
    for each in kept:
        if each.number == number:
            return each
    there = ", ".join(str(each.number) for each in kept) or "none"
    advice = "goodflight versions lists them"
    raise SaveRefused(f"{file} has no version {number}; there are: {there}", advice=advice)


def faults_of(texts: Mapping[str, str], root: Path, unread: list[Fault]) -> tuple[Fault, ...]:
    """Return every fault of a set of texts; empty when they make a project."""
    try:
        read_project(texts, root, unread)
    except ProjectErrors as error:
        return error.faults
    return ()


def write_project(folder: Path, files: Mapping[str, str]) -> None:
    """Write a new project into a folder that is new or empty, schemas for editors included.

    Parameters
    ----------
    folder : Path - made when it is not there. [-]
    files : mapping - texts by path inside the folder. [-]

    Raises
    ------
    SaveRefused - the folder holds something already.
    """
    from goodflight.project.schemas import packaged

    if folder.exists() and (not folder.is_dir() or any(_visible(folder))):
        raise SaveRefused(f"{folder} is not empty; name a new folder, nothing was written")
    schemas = {f".schema/{name}": text for name, text in packaged().items()}
    with _writing(folder):
        folder.mkdir(parents=True, exist_ok=True)
        for file, text in {**schemas, **files}.items():
            target = folder / file
            _folder(folder, target.parent)
            replace_file(target, text, _folder(folder, folder / VERSIONS / "scratch"))


def _visible(folder: Path) -> Iterable[Path]:
    return (path for path in folder.iterdir() if not path.name.startswith("."))


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
    with _locked(root), _writing(root):
        _keep(root, file, text.encode("utf-8"))
