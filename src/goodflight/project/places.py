"""Places that the user named: where a project is or shall be, where an output goes."""

import errno
import os
from pathlib import Path

from goodflight.project.folder import SAFE, call, kind_in


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
