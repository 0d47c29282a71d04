"""The one way to the disk for everything inside a project folder.

A project may come from a stranger, its hidden folder included. So each operation walks from the
folder's own handle down, one name at a time, and follows no link at any of them; what is no plain
file or folder, or belongs to another user, gives one fault. Only names that the program itself
makes are ever deleted. Where a system has no such handles (`HANDLES`), every name on the way is
looked at before the call instead: safe against what lies there, not against a program that
changes it within that moment.
"""

import contextlib
import errno
import hashlib
import os
import re
import stat
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final, NoReturn, ParamSpec, Self, TypeVar

from goodflight.project.faults import Fault, PlaceRefused
from goodflight.project.swap import swap_names

P = ParamSpec("P")
T = TypeVar("T")

LARGEST: Final = 4_000_000  # bytes of one file; a year of daily log entries is a tenth of it
LARGEST_LOG: Final = 32_000_000  # bytes: an hour at 400 readings of 15 columns a second
LOCK_WAIT_S: Final = 10.0  # a save takes well under a second; who waits longer wants to be told
VERSIONS: Final = ".versions"
SCRATCH: Final = f"{VERSIONS}/scratch"
JOURNAL: Final = f"{VERSIONS}/journal"
LOCK: Final = f"{VERSIONS}/lock"
VERSION_NAME: Final = re.compile(r"(\d{6})-(\d{8}T\d{6}Z)-([0-9a-f]{8})(-kept)?")
SLOT_NAME: Final = re.compile(r"\d{1,10}-\d{1,20}(-\d{1,6})?(-old)?")
OWN: Final = re.compile(  # all that may be deleted
    rf"{re.escape(SCRATCH)}/{SLOT_NAME.pattern}|{re.escape(JOURNAL)}|"
    rf"{re.escape(VERSIONS)}/(?!scratch/).+/{VERSION_NAME.pattern}"
)
HANDLES = (
    {os.open, os.stat, os.unlink, os.mkdir, os.rename, os.link} <= os.supports_dir_fd
    and os.listdir in os.supports_fd
    and hasattr(os, "O_NOFOLLOW")
    and hasattr(os, "O_DIRECTORY")
)
SAFE: Final = (
    getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_NO_SWAP: Final = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}
_NO_LINK: Final = {*_NO_SWAP, errno.EPERM, errno.EMLINK}
_KINDS: Final = {
    stat.S_IFREG: "a file", stat.S_IFDIR: "a folder", stat.S_IFLNK: "a link",
    stat.S_IFIFO: "a pipe", stat.S_IFSOCK: "a socket",
}  # fmt: skip


def call(act: Callable[P, T], *args: P.args, **more: P.kwargs) -> T:
    """Make one system call; a test puts a stand-in here that lets the k-th one fail."""
    return act(*args, **more)


def user() -> int | None:
    """Who we are; None where files have no owner that is a number, or for root, who owns all."""
    return os.geteuid() or None if hasattr(os, "geteuid") else None


def digest_of(content: bytes) -> str:
    """Return the content hash of a file's bytes."""
    return hashlib.sha256(content).hexdigest()


def parts_of(name: str) -> list[str]:
    """Split a path inside the folder; one that could lead out of it is refused."""
    parts = name.split("/")
    odd = "\0" in name or (os.name == "nt" and any(sign in name for sign in "\\:"))
    if odd or any(part in ("", ".", "..") for part in parts):
        shown = name if len(name) <= 80 else name[:79] + "…"
        refuse(
            shown,
            "no path inside the project folder",
            "a path such as motors/H-b.csv",
            "name a file of the project",
        )
    return parts


def refuse(name: str, found: str, expected: str, advice: str) -> NoReturn:
    """Raise the one fault of a place that is not used."""
    raise PlaceRefused(Fault(name, 0, "", found=found, expected=expected, advice=advice))


def kind_in(found: os.stat_result) -> str:
    """What was found, in words."""
    junction = getattr(stat, "IO_REPARSE_TAG_MOUNT_POINT", -1)
    if getattr(found, "st_reparse_tag", 0) == junction:
        return "a link"
    return _KINDS.get(stat.S_IFMT(found.st_mode), "a device")


def _shut(handle: int) -> None:
    with contextlib.suppress(OSError):  # what was written has been synced before
        call(os.close, handle)


class _At:
    """A folder that was walked to: by its handle, or by its path where there are no handles."""

    def __init__(self, path: str, handle: int | None) -> None:
        self.path, self.handle = path, handle

    def of(self, name: str) -> str:
        return name if self.handle is not None else os.path.join(self.path, name)


class Folder:
    """A project folder, open; every name is a path inside it with `/` between the parts."""

    def __init__(self, root: Path) -> None:
        self.root, self._place = root, str(root)
        flags = os.O_RDONLY | getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_CLOEXEC", 0)
        self._handle = call(os.open, str(root), flags) if HANDLES else None
        if not HANDLES and not stat.S_ISDIR(call(os.stat, str(root)).st_mode):
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(root))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_raised: object) -> None:
        if self._handle is not None:
            _shut(self._handle)

    @contextlib.contextmanager
    def _walk(self, name: str) -> Iterator[tuple[_At, str]]:
        """Walk to the folder of a name; an error of the system carries the whole path."""
        *above, last = parts_of(name)
        at, opened = _At(self._place, self._handle), list[int]()
        try:
            for number, part in enumerate(above, 1):
                shown = "/".join(above[:number])
                self._check(at, part, shown, "a folder")
                if at.handle is None:
                    at = _At(os.path.join(at.path, part), None)
                    continue
                flags = os.O_RDONLY | os.O_DIRECTORY | SAFE
                opened.append(call(os.open, part, flags, dir_fd=at.handle))
                self._judge(call(os.fstat, opened[-1]), shown, "a folder")
                at = _At(os.path.join(at.path, part), opened[-1])
            yield at, last
        except OSError as error:
            if not isinstance(error.filename, str) or not os.path.isabs(error.filename):
                error.filename = str(self.root / name)
            raise
        finally:
            for handle in opened:
                _shut(handle)

    def _look(self, at: _At, name: str) -> os.stat_result:
        return call(os.stat, at.of(name), dir_fd=at.handle, follow_symlinks=False)

    def _check(self, at: _At, name: str, shown: str, wanted: str) -> os.stat_result:
        """Look at a name without opening it: a pipe would wait, a device might act."""
        return self._judge(self._look(at, name), shown, wanted)

    @staticmethod
    def _judge(found: os.stat_result, shown: str, wanted: str) -> os.stat_result:
        kind, me = kind_in(found), user()
        if kind != wanted:
            noun = "the folder" if wanted == "a folder" else "the file"
            words = f"{kind}, which is not followed" if kind == "a link" else kind
            refuse(
                shown,
                words,
                f"{wanted} of its own inside the project folder",
                f"put {noun} itself here, or take this away",
            )
        if me is not None and found.st_uid != me:
            refuse(
                shown,
                f"{kind} of another user (number {found.st_uid})",
                "one of your own",
                f"copy it so that it is yours, or run: chown {me} on it",
            )
        return found

    def stat(self, name: str) -> os.stat_result | None:
        """Look at a name, no link followed; None when nothing is there."""
        try:
            with self._walk(name) as (at, last):
                return self._look(at, last)
        except FileNotFoundError:
            return None

    def kind(self, name: str) -> str:
        """What is there: "a file", "a folder", "a link", "a pipe", ...; "" when nothing is."""
        found = self.stat(name)
        return "" if found is None else kind_in(found)

    def names(self, folder: str = "") -> list[str]:
        """Return the names in a folder, in order; none when it is not there."""
        if not folder:
            return self._list(_At(self._place, self._handle))
        try:
            with self._walk(f"{folder}/x") as (at, _):
                return self._list(at)
        except FileNotFoundError:
            return []

    @staticmethod
    def _list(at: _At) -> list[str]:
        if at.handle is None:
            return sorted(call(os.listdir, at.path))
        return sorted(call(os.listdir, at.handle))

    def read(self, name: str, most: int = LARGEST) -> bytes:
        """Return the bytes of a plain file; FileNotFoundError when it is not there."""
        with self._walk(name) as (at, last):
            before = self._check(at, last, name, "a file")
            handle = call(os.open, at.of(last), os.O_RDONLY | SAFE, dir_fd=at.handle)
            try:
                found = self._judge(call(os.fstat, handle), name, "a file")
                same = (before.st_dev, before.st_ino) == (found.st_dev, found.st_ino)
                if at.handle is None and not same:
                    refuse(name, "another file than a moment ago", "a file at rest", "try again")
                rows = list[bytes]()
                while sum(map(len, rows)) <= most and (row := call(os.read, handle, 1 << 20)):
                    rows.append(row)
            finally:
                _shut(handle)
        content = b"".join(rows)
        if len(content) > most:
            size = max(found.st_size, len(content))
            refuse(
                name, f"{size} bytes", f"at most {most} bytes", "check that this is the right file"
            )
        return content

    def write(self, name: str, content: bytes, mode: int | None = None) -> None:
        """Write a new file down to the disk; `mode` are its permissions."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | SAFE
        with self._walk(name) as (at, last):
            handle = call(os.open, at.of(last), flags, 0o666, dir_fd=at.handle)
            try:
                if mode is not None and hasattr(os, "fchmod"):
                    call(os.fchmod, handle, mode & 0o777)
                rest = memoryview(content)
                while rest:
                    rest = rest[call(os.write, handle, rest) :]
                call(os.fsync, handle)
            finally:
                _shut(handle)

    def make(self, folder: str) -> list[str]:
        """Make a folder and those above it; return the ones that were not there."""
        parts, made = parts_of(folder), list[str]()
        for number in range(1, len(parts) + 1):
            name = "/".join(parts[:number])
            with self._walk(name) as (at, last):
                try:
                    self._check(at, last, name, "a folder")
                except FileNotFoundError:
                    call(os.mkdir, at.of(last), dir_fd=at.handle)
                    made.append(name)
        return made

    def sync(self, folder: str) -> None:
        """Bring the names in a folder down to the disk; systems that cannot are left alone."""
        with self._walk(f"{folder}/x" if folder else "x") as (at, _):
            if at.handle is not None:
                call(os.fsync, at.handle)

    def move(self, old: str, new: str) -> None:
        """Give a file another name, in one step; what bears that name is replaced."""
        with self._walk(old) as (one, first), self._walk(new) as (two, second):
            places = {"src_dir_fd": one.handle, "dst_dir_fd": two.handle}
            call(os.replace, one.of(first), two.of(second), **places)

    def _link(self, old: str, new: str) -> None:
        with self._walk(old) as (one, first), self._walk(new) as (two, second):
            if one.handle is None:
                call(os.link, one.of(first), two.of(second))
            else:
                places = {"src_dir_fd": one.handle, "dst_dir_fd": two.handle}
                call(os.link, first, second, **places, follow_symlinks=False)

    def put(self, old: str, new: str) -> None:
        """Give a file a name that must be free; FileExistsError when it is not."""
        try:
            self._link(old, new)
        except OSError as error:
            if error.errno not in _NO_LINK:
                raise
            if self.stat(new) is not None:
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), new) from error
            self.move(old, new)
            return
        self.drop(old)

    def swap(self, slot: str, file: str) -> None:
        """Let the file in a slot of the scratch folder and a file of the project change places."""
        with self._walk(slot) as (one, first), self._walk(file) as (two, second):
            if one.handle is not None and two.handle is not None:
                try:
                    call(swap_names, one.handle, first, two.handle, second)
                    return
                except OSError as error:
                    if error.errno not in _NO_SWAP:
                        raise
        self._take_in_turn(slot, file)

    def _take_in_turn(self, slot: str, file: str) -> None:
        """Do the same in three steps; what stands there is held by a second name meanwhile."""
        old = f"{slot}-old"
        for _ in range(5):
            try:
                self._link(file, old)
            except OSError as error:
                if error.errno not in _NO_LINK:
                    raise
                self.write(old, self.read(file))
                break
            held, now = self.stat(old), self.stat(file)
            if held is not None and now is not None and held.st_ino == now.st_ino:
                break
            self.drop(old)
        else:
            raise OSError(errno.EBUSY, os.strerror(errno.EBUSY), file)
        self.move(slot, file)
        self.move(old, slot)

    def drop(self, name: str) -> None:
        """Delete a file that the program itself made, known by its name; no other."""
        if not OWN.fullmatch(name):
            refuse(name, "a file that is not the program's", "a name that it makes", "leave it")
        with self._walk(name) as (at, last):
            self._check(at, last, name, "a file")
            call(os.unlink, at.of(last), dir_fd=at.handle)

    def drop_folder(self, folder: str) -> None:
        """Take away a folder that was made here and is empty still."""
        with contextlib.suppress(OSError), self._walk(folder) as (at, last):
            call(os.rmdir, at.of(last), dir_fd=at.handle)

    @contextlib.contextmanager
    def locked(self) -> Iterator[None]:
        """Let one process at a time check and replace files; PlaceRefused after a wait."""
        self.make(SCRATCH)
        with self._walk(LOCK) as (at, last):
            with contextlib.suppress(FileNotFoundError):
                self._check(at, last, LOCK, "a file")
            flags = os.O_RDWR | os.O_CREAT | SAFE
            handle = call(os.open, at.of(last), flags, 0o666, dir_fd=at.handle)
        try:
            self._judge(call(os.fstat, handle), LOCK, "a file")
            end = time.monotonic() + LOCK_WAIT_S
            while not _held(handle):
                if time.monotonic() > end:
                    refuse(
                        LOCK,
                        f"held by another goodflight for more than {LOCK_WAIT_S:g} s",
                        "a lock that is let go after each save",
                        "let the other one finish or end it (a page, a command); the lock goes "
                        "with it, do not delete it; nothing was written",
                    )
                time.sleep(0.02)
            yield
        finally:
            _shut(handle)


def _held(handle: int) -> bool:
    """Try to take the lock; the system lets it go when the handle is closed."""
    try:
        if sys.platform == "win32":
            import msvcrt

            call(msvcrt.locking, handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            call(fcntl.flock, handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in (errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK) or (
            sys.platform == "win32" and error.errno == errno.EACCES
        ):
            return False
        raise
    return True
