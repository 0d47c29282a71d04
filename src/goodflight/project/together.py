"""Change several files of a project at once: all of them, or none.

The new texts are written beside, then a journal that names them, then every file changes places
with its new text in one step each. A file that another program saved meanwhile stops the save
before that. What was taken out becomes the newest version as it lies there: whatever another
program put there in the very last moment, or is still writing into it, is kept, and is told.

A process that is killed leaves the journal behind. `recover` finishes such a save, or takes it
back where a file has been changed since; each step can be told from what lies there, so it may be
killed in turn.
"""

import contextlib
from collections.abc import Callable, Iterable, Mapping
from typing import Final

from goodflight.project.faults import Fault, PlaceRefused, SaveRefused, SaveUnfinished
from goodflight.project.folder import (
    JOURNAL,
    LARGEST_LOG,
    SCRATCH,
    SLOT_NAME,
    VERSIONS,
    Folder,
    digest_of,
    refuse,
)
from goodflight.project.journal import Entry, Journal, may_write, new_mark, pending, read_journal
from goodflight.project.kept import next_name, prune

TURNS: Final = 5  # how often a change back is tried while another program goes on saving


class MetAnotherError(Exception):
    """Another program changed a file since it was read; nothing was written."""

    def __init__(self, file: str) -> None:
        self.file = file
        super().__init__(file)


def change(
    folder: Folder, contents: Mapping[str, bytes | None], read: Mapping[str, bytes | None]
) -> tuple[Entry, ...]:
    """Write new contents, None to take a file out, if the files are still what was read.

    Under the lock, after `recover`. Returns the entries where another program saved in the moment
    between the last look and the change: all is written, and its text is that entry's version.

    Raises
    ------
    MetAnotherError - a file is not what was read; nothing was written.
    OSError, PlaceRefused - nothing was written.
    SaveUnfinished - some files may be changed; the next start finishes or takes back the save.
    """
    for file in contents:
        if not may_write(file):
            refuse(file[:80], "no file of a project", "a name such as motors/H-b.csv", "rename it")
    journal = _prepare(folder, contents, read)
    try:
        for entry in journal.entries:
            _check(folder, entry)
        for entry in journal.entries:
            _apply(folder, entry)
        met = tuple(entry for entry in journal.entries if _met(folder, entry))
        for place in {entry.file.rpartition("/")[0] for entry in journal.entries}:
            folder.sync(place)
    except (OSError, PlaceRefused, MetAnotherError) as error:
        _guarded(lambda place: _back(place, journal), folder, journal.entries, error)
        raise
    with contextlib.suppress(OSError, PlaceRefused):  # all is written; the rest is done next time
        _finish(folder, journal)
        for entry in journal.entries:
            prune(folder, entry.file)
    return met


def _prepare(
    folder: Folder, contents: Mapping[str, bytes | None], read: Mapping[str, bytes | None]
) -> Journal:
    """Write the new texts beside, and the journal: from then on the save can be finished."""
    draft, entries, noted = f"{SCRATCH}/{new_mark()}", list[Entry](), False
    try:
        for number, (file, content) in enumerate(contents.items()):
            old, kept, now = read.get(file), "", folder.stat(file)
            if old is not None:
                folder.make(f"{VERSIONS}/{file}")
                kept = next_name(folder, file, old)
            hashes = [None if text is None else digest_of(text) for text in (old, content)]
            entries.append(Entry(file, hashes[0], hashes[1], f"{draft}-{number}", kept))
            if content is not None:
                folder.write(entries[-1].slot, content, None if now is None else now.st_mode)
        journal = Journal(tuple(entries), tuple(_to_make(folder, contents)))
        folder.write(draft, journal.content)
        folder.sync(SCRATCH)
        noted = True
        folder.move(draft, JOURNAL)
        folder.sync(VERSIONS)
    except (OSError, PlaceRefused) as error:
        if noted:
            _guarded(_end, folder, entries, error)
        with contextlib.suppress(OSError, PlaceRefused):
            for name in (*(entry.slot for entry in entries), draft):
                _drop(folder, name)
        raise
    return journal


def _to_make(folder: Folder, files: Iterable[str]) -> Iterable[str]:
    """The folders that are not there yet, the outer ones first."""
    above = {"/".join(file.split("/")[:n]) for file in files for n in range(1, file.count("/") + 1)}
    return [place for place in sorted(above) if not folder.kind(place)]


def _hash(folder: Folder, name: str) -> str | None:
    """The content hash of a file; None when nothing is there, "" when it is no plain file."""
    try:
        return digest_of(folder.read(name, LARGEST_LOG))
    except FileNotFoundError:
        return None
    except PlaceRefused:
        return ""


def _apply(folder: Folder, entry: Entry) -> None:
    """Put one new text in place, by one step that also takes the old one out."""
    _check(folder, entry)
    if entry.old is None:
        above = entry.file.rpartition("/")[0]
        if above:
            folder.make(above)
        try:
            folder.put(entry.slot, entry.file)
        except FileExistsError as error:
            raise MetAnotherError(entry.file) from error
        return
    if entry.new is None:
        folder.move(entry.file, entry.slot)
    else:
        folder.swap(entry.slot, entry.file)


def _check(folder: Folder, entry: Entry) -> None:
    if _hash(folder, entry.file) != entry.old:
        raise MetAnotherError(entry.file)


def _met(folder: Folder, entry: Entry) -> bool:
    """Whether what was taken out is not what was read."""
    return entry.old is not None and _hash(folder, entry.slot) != entry.old


def _applied(folder: Folder, entry: Entry) -> bool:
    """Whether the new text of an entry has been put in place, told from what lies there."""
    slot = _hash(folder, entry.slot)
    if entry.old is None:
        return slot is None or _hash(folder, entry.file) == entry.new
    if entry.new is None:
        return slot is not None or _finished(folder, entry)
    return slot != entry.new


def _finished(folder: Folder, entry: Entry) -> bool:
    return entry.old is not None and folder.stat(entry.version) is not None


def _finish(folder: Folder, journal: Journal) -> None:
    """Make what was taken out the newest versions, and drop the journal."""
    for entry in journal.entries:
        if entry.old is None:
            _drop(folder, entry.slot)
        elif folder.stat(entry.slot) is not None:
            folder.make(f"{VERSIONS}/{entry.file}")
            folder.move(entry.slot, entry.version)
            folder.sync(f"{VERSIONS}/{entry.file}")
    _end(folder)


def _drop(folder: Folder, name: str) -> None:
    with contextlib.suppress(FileNotFoundError):
        folder.drop(name)


def _end(folder: Folder) -> None:
    _drop(folder, JOURNAL)
    folder.sync(VERSIONS)


def _guarded(
    act: Callable[[Folder], None], folder: Folder, entries: Iterable[Entry], why: Exception
) -> None:
    """Take a save back; SaveUnfinished when the disk refuses that, too."""
    try:
        act(folder)
    except (OSError, PlaceRefused) as error:
        raise SaveUnfinished(
            f"{why}; the files could not be put back either: {error}",
            "a disk that takes the change",
            "look at the disk; goodflight finishes this save, or takes it back, when the project "
            "is opened again. Until then some of these files may be new and some old: "
            + ", ".join(entry.file for entry in entries),
        ) from why


def _back(folder: Folder, journal: Journal) -> None:
    _settle(folder, journal)
    for entry in reversed(journal.entries):
        if entry.old is None:
            _back_created(folder, entry)
        elif entry.new is None:
            _back_deleted(folder, entry)
        else:
            _back_replaced(folder, entry)
    for place in {entry.file.rpartition("/")[0] for entry in journal.entries}:
        with contextlib.suppress(FileNotFoundError):
            folder.sync(place)
    for place in reversed(journal.folders):
        folder.drop_folder(place)
    _end(folder)
    with contextlib.suppress(OSError, PlaceRefused):
        for entry in journal.entries:
            _drop(folder, entry.slot)


def _back_replaced(folder: Folder, entry: Entry) -> None:
    for _ in range(TURNS):
        if _hash(folder, entry.slot) in (None, entry.new):
            return
        if _hash(folder, entry.file) != entry.new:  # saved once more from outside: that stands
            break
        folder.swap(entry.slot, entry.file)
    if _hash(folder, entry.slot) not in (None, entry.new):
        _keep_slot(folder, entry)


def _back_deleted(folder: Folder, entry: Entry) -> None:
    if _hash(folder, entry.slot) is None:
        return
    try:
        folder.put(entry.slot, entry.file)
    except FileExistsError:  # written anew from outside: that stands
        _keep_slot(folder, entry)


def _back_created(folder: Folder, entry: Entry) -> None:
    if _hash(folder, entry.file) == entry.new and _applied(folder, entry):
        _drop(folder, entry.slot)  # its second name, where it has one
        folder.move(entry.file, entry.slot)
    if _hash(folder, entry.slot) in (None, entry.new):
        return
    try:  # changed from outside in that moment
        folder.put(entry.slot, entry.file)
    except FileExistsError:
        _keep_slot(folder, entry)


def _keep_slot(folder: Folder, entry: Entry) -> None:
    """Keep a text that another program wrote and that has no place any more, as a version."""
    folder.make(f"{VERSIONS}/{entry.file}")
    try:
        content = folder.read(entry.slot, LARGEST_LOG)
    except PlaceRefused:  # no plain file: it stays where it is
        return
    name = next_name(folder, entry.file, content, more=1)
    folder.move(entry.slot, f"{VERSIONS}/{entry.file}/{name}")


def recover(folder: Folder) -> None:
    """Finish a save that was cut off, or take it back; then clear the scratch folder.

    Under the lock. There is nothing to do after a save that ended.

    Raises
    ------
    SaveUnfinished - the disk refuses; PlaceRefused - the journal is none of this program's.
    """
    journal = read_journal(folder)
    if journal is not None:
        words = SaveRefused("a save that was cut off earlier could not be finished")
        _guarded(lambda place: _resume(place, journal), folder, journal.entries, words)
    with contextlib.suppress(OSError, PlaceRefused):
        for name in folder.names(SCRATCH):
            inside = f"{SCRATCH}/{name}"
            if SLOT_NAME.fullmatch(name) and folder.kind(inside) == "a file":
                _drop(folder, inside)


def _resume(folder: Folder, journal: Journal) -> None:
    _settle(folder, journal)
    try:
        _forward(folder, journal)
    except MetAnotherError:
        _back(folder, journal)
    else:
        _finish(folder, journal)


def _forward(folder: Folder, journal: Journal) -> None:
    if any(_finished(folder, entry) for entry in journal.entries):
        return
    for entry in journal.entries:
        slot = _hash(folder, entry.slot)
        if entry.new is not None and entry.old is not None and slot is None:
            raise MetAnotherError(entry.file)  # the new text is gone: it cannot be finished
        if not _applied(folder, entry):
            _apply(folder, entry)


def _settle(folder: Folder, journal: Journal) -> None:
    """End what takes several steps, an exchange on some systems, a file put back, and was cut."""
    for entry in journal.entries:
        old, slot = f"{entry.slot}-old", folder.stat(entry.slot)
        if entry.new is None and slot is not None:
            file = folder.stat(entry.file)
            if file is not None and (file.st_dev, file.st_ino) == (slot.st_dev, slot.st_ino):
                _drop(folder, entry.slot)
        if folder.stat(old) is None:
            continue
        if slot is None and not _finished(folder, entry):
            folder.move(old, entry.slot)
        elif _hash(folder, old) in (entry.old, _hash(folder, entry.file)):
            _drop(folder, old)
        else:
            folder.make(f"{VERSIONS}/{entry.file}")
            name = next_name(folder, entry.file, folder.read(old), more=1)
            folder.move(old, f"{VERSIONS}/{entry.file}/{name}")


def end_earlier(folder: Folder) -> list[Fault]:
    """Finish a save that was cut off, or take it back; a fault when that cannot be done."""
    try:
        try:
            waiting = pending(folder)
        except PermissionError:  # of another user's: it can be read, and a save says why not
            return []
        if waiting:
            with folder.locked():
                recover(folder)
    except PlaceRefused as error:
        return [error.fault]
    except (OSError, SaveRefused) as error:
        found = f"a save that was cut off; it cannot be ended now ({error})"
        advice = "let your user write in the folder, make room, then open it again"
        return [
            Fault(
                JOURNAL,
                0,
                "",
                found=found,
                expected="a project whose saves have ended",
                advice=advice,
            )
        ]
    return []
