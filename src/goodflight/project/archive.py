"""The whole project as one zip file, and from such a file into a folder of its own.

An archive may come from a stranger: every entry is looked at before anything is unpacked, all of
it is unpacked in memory and read as a project before anything is written, and it is written only
into a folder that is new or empty. What is no file of a project is refused, not left out.
"""

import io
import re
import stat
import struct
import unicodedata
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from goodflight.project.budgets import MAX_ARCHIVE_BYTES, MAX_ARCHIVED, MAX_PATH
from goodflight.project.disk import FLIGHTS, is_log, is_project_file, not_utf_8, read_in
from goodflight.project.faults import Fault, PlaceRefused, ProjectErrors
from goodflight.project.folder import LARGEST, LARGEST_LOG, Folder, refuse
from goodflight.project.places import read_input
from goodflight.project.reading import read_project
from goodflight.project.records import Project
from goodflight.project.saving import is_empty, not_empty, opened, write_project

SIGNATURE: Final = b"PK\x01\x02"  # before every entry of the list at the end of a zip file
DAY: Final = (1980, 1, 1, 0, 0, 0)  # the earliest a zip file can say: no clock in the archive
MODE: Final = (stat.S_IFREG | 0o644) << 16
UTF_8, LOCKED = 0x800, 0x1 | 0x40 | 0x2000  # marks of an entry
NOT_EVERYWHERE: Final = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?|.*[. ]", re.IGNORECASE)
MAKE: Final = "have it made again with `goodflight send DIR --project`"
DAMAGE: Final = (
    zipfile.BadZipFile, zlib.error, struct.error, EOFError, NotImplementedError, OSError,
    OverflowError, ValueError,
)  # fmt: skip


def archive(folder: str | Path) -> bytes:
    """Pack a whole project, with the logs of its flights, into one zip file.

    Parameters
    ----------
    folder : str or Path - the project's folder. [-]

    Returns
    -------
    archive : bytes - no day, user or place in it: same files, same bytes on one machine. [-]

    Raises
    ------
    ProjectErrors - something in the folder is wrong, or is no plain file.
    PlaceRefused - more than an archive may hold.

    Example
    -------
    >>> goodflight.archive("fieldfare")[:2]
    b'PK'
    """
    root = Path(folder)
    with opened(root) as held:
        texts, faults = read_in(held)
        logs = _logs(held, faults)
    read_project(texts, root, faults)
    contents = {**{name: text.encode() for name, text in texts.items()}, **logs}
    _few(len(contents), sum(map(len, contents.values())), str(root), "take logs out of flights/")
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        for name, content in sorted(contents.items()):
            entry = zipfile.ZipInfo(name, DAY)
            entry.create_system, entry.external_attr = 3, MODE
            packed.writestr(entry, content, zipfile.ZIP_DEFLATED, 9)
    return out.getvalue()


def _logs(folder: Folder, faults: list[Fault]) -> dict[str, bytes]:
    found = dict[str, bytes]()
    try:
        for flight in folder.names(FLIGHTS):
            at = f"{FLIGHTS}/{flight}"
            if not flight.startswith(".") and folder.kind(at) != "a file":
                names = [f"{at}/{name}" for name in folder.names(at)]
                found |= {name: folder.read(name, LARGEST_LOG) for name in names if is_log(name)}
    except PlaceRefused as error:
        faults.append(error.fault)
    return found


def open_archive(file: str | Path, folder: str | Path) -> Project:
    """Write the project of an archive into a folder that is new or empty, and load it.

    Parameters
    ----------
    file : str or Path - a zip file as `archive` makes it, perhaps a stranger's. [-]
    folder : str or Path - where the project goes: new or empty. [-]

    Returns
    -------
    project : Project - as it stands in the folder. [-]

    Raises
    ------
    PlaceRefused - the file is no such archive; nothing was written.
    ProjectErrors - what it holds is no sound project; nothing was written.
    SaveRefused - the folder holds something, or cannot be written.

    Example
    -------
    >>> from pathlib import Path
    >>> _ = Path("sent.zip").write_bytes(goodflight.archive("fieldfare"))
    >>> goodflight.open_archive("sent.zip", "theirs").name
    'Fieldfare'
    """
    root, raw = Path(folder), read_input(Path(file), MAX_ARCHIVE_BYTES, MAKE)
    if not is_empty(root):
        raise not_empty(root)
    contents, texts = contents_of(raw, Path(file).name), texts_in(raw, Path(file).name)
    read_project(texts, root)
    write_project(root, {**contents, **texts})
    return read_project(texts, root)


def texts_in(raw: bytes, shown: str) -> dict[str, str]:
    """Return the texts of an archive's project, unpacked in memory; nothing is written.

    Raises
    ------
    PlaceRefused - it is no such archive.
    ProjectErrors - a file is no text.
    """
    found = contents_of(raw, shown)
    return {name: _text(name, part) for name, part in found.items() if not is_log(name)}


def texts_sent(files: Mapping[str, bytes], shown: str) -> dict[str, str]:
    """Return the texts of a project among the files of a folder that was sent, by name in it.

    What is no file of a project is passed over, as it is on disk; nothing is written.

    Raises
    ------
    PlaceRefused - more or longer files than a project has.
    ProjectErrors - a file is no text.
    """
    found = {name: part for name, part in files.items() if is_project_file(name)}
    _few(len(found), sum(map(len, found.values())), shown, "send the folder of one project")
    for name, part in found.items():
        if len(part) > LARGEST:
            refuse(f"{shown}: {_printed(name)}", f"{len(part)} bytes", f"at most {LARGEST}", MAKE)
    return {name: _text(name, part) for name, part in found.items()}


def contents_of(raw: bytes, shown: str) -> dict[str, bytes]:
    """Return the files of an archive by name, every one looked at before any is unpacked.

    Raises
    ------
    PlaceRefused - it is no zip file, or one entry is not what an archive of a project holds.
    """
    if raw.count(SIGNATURE) > MAX_ARCHIVED:  # before the list is read, which takes its time
        _few(raw.count(SIGNATURE), 0, shown, MAKE)
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            entries = packed.infolist()
            _check(entries, shown)
            return {each.filename: _unpacked(packed, each, shown) for each in entries}
    except DAMAGE as error:
        words = str(error) if isinstance(error, zipfile.BadZipFile) else "damaged"
        refuse(shown, f"no sound zip file ({words})", "an archive of a project", MAKE)


def _check(entries: Sequence[zipfile.ZipInfo], shown: str) -> None:
    _few(len(entries), sum(each.file_size for each in entries), shown, MAKE)
    met: dict[str, str] = {}
    for each in entries:
        at = f"{shown}: {_printed(each.orig_filename)}"
        wrong = _wrong_name(each) or _wrong_kind(each)
        if wrong:
            refuse(at, wrong, "plain files of a project, each once", MAKE)
        most = _most(each.filename)
        if each.file_size > most:
            refuse(at, f"{each.file_size} bytes", f"at most {most} bytes", MAKE)
        same = unicodedata.normalize("NFC", each.filename).casefold()
        if same in met:
            refuse(at, f"the same name as {_printed(met[same])}", "each name once", MAKE)
        met[same] = each.filename


def _most(name: str) -> int:
    """Bytes that one file may have."""
    return LARGEST_LOG if is_log(name) else LARGEST


def _wrong_name(entry: zipfile.ZipInfo) -> str:
    name = entry.orig_filename
    if not name.isascii() and not entry.flag_bits & UTF_8:
        return "a name that is not in UTF-8"
    if name.startswith(("/", "\\")) or ":" in name or ".." in name.replace("\\", "/").split("/"):
        return "a name that leads out of the folder"
    if name != entry.filename or not name.isprintable() or len(name) > MAX_PATH:
        return "a name with control characters, or a long one"
    if any(NOT_EVERYWHERE.fullmatch(part) for part in name.split("/")):
        return "a name that not every machine can hold"
    if not is_project_file(name) and not is_log(name):
        return "no file of a project"
    return ""


def _wrong_kind(entry: zipfile.ZipInfo) -> str:
    kind = stat.S_IFMT(entry.external_attr >> 16)
    if kind not in (0, stat.S_IFREG):
        return "a link" if kind == stat.S_IFLNK else "something else than a plain file"
    if entry.flag_bits & LOCKED:
        return "an encrypted file"
    if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        return "a compression that is not read"
    return ""


def _unpacked(packed: zipfile.ZipFile, entry: zipfile.ZipInfo, shown: str) -> bytes:
    with packed.open(entry) as file:
        content = file.read(_most(entry.filename) + 1)
    if len(content) != entry.file_size:
        found = f"{len(content)} bytes where its list says {entry.file_size}"
        refuse(f"{shown}: {entry.filename}", found, "a sound zip file", MAKE)
    return content


def _few(count: int, size: int, shown: str, advice: str) -> None:
    if count > MAX_ARCHIVED:
        refuse(shown, f"{count} files", f"at most {MAX_ARCHIVED} in one archive", advice)
    if size > MAX_ARCHIVE_BYTES:
        refuse(shown, f"{size} bytes", f"at most {MAX_ARCHIVE_BYTES} bytes unpacked", advice)


def _text(name: str, raw: bytes) -> str:
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise ProjectErrors([not_utf_8(name, raw, error.start)]) from error


def _printed(name: str) -> str:
    shown = "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in name)
    return shown if len(shown) <= 80 else shown[:79] + "…"
