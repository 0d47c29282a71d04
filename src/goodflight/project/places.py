"""Places that the user named: where a project is or shall be, where an output goes."""

import errno
import os
from pathlib import Path

from goodflight.project.folder import SAFE, call, kind_in, refuse


def kind_of(path: Path) -> str:
    """What a place that the user named is, links followed: "a folder", "a file", "" if nothing."""
    try:
        return kind_in(os.stat(path))
    except (OSError, ValueError):
        return ""


def make_root(path: Path) -> None:
    """Make the folder of a new project, where the user named it."""
    call(os.makedirs, str(path), exist_ok=True)


def write_output(path: Path, content: bytes) -> None:
    """Write a file that was asked for, where the user named it; over a plain file only.

    A folder that came from a stranger may hold a link of the very name an output gets. What lies
    under /dev, e.g. /dev/stdout, is written to as it is.
    """
    flags = os.O_WRONLY | os.O_CREAT | getattr(os, "O_BINARY", 0)
    device = str(path).startswith("/dev/")
    handle = call(os.open, str(path), flags if device else flags | SAFE, 0o666)
    with os.fdopen(handle, "wb") as file:
        if not device:
            if kind_in(call(os.fstat, handle)) != "a file" or path.is_symlink():
                raise OSError(errno.EEXIST, "no plain file stands there", str(path))
            call(os.ftruncate, handle, 0)
        file.write(content)


def input_text(path: Path, most: int, advice: str) -> str:
    """Read a text that the user named; PlaceRefused as `read_input`, or if it is not UTF-8."""
    try:
        return read_input(path, most, advice).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"byte {error.start + 1} is no UTF-8"
        refuse(str(path), found, "a text in UTF-8", advice)


def read_input(path: Path, most: int, advice: str) -> bytes:
    """Read a file that the user named, links followed; PlaceRefused if it is none or too long.

    A pipe is not opened: it would wait.
    """
    kind = kind_of(path)
    if kind != "a file":
        refuse(str(path), kind or "no such file", "a file that can be read", advice)
    try:
        with open(path, "rb") as file:
            content = file.read(most + 1)
    except OSError as error:
        refuse(str(path), error.strerror or str(error), "a file that can be read", advice)
    if len(content) > most:
        refuse(str(path), f"more than {most} bytes", f"at most {most} bytes", advice)
    return content
