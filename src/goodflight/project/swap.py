"""Two files change names in one step, where the system can do that.

Python's library lacks the call. With it, what another program saved in the very moment of a
replace is taken out by the same step that puts the new text in, so that nothing is ever lost.
Source: manual page rename(2), renameat2 with RENAME_EXCHANGE; macOS renameatx_np, RENAME_SWAP.
"""

import ctypes
import errno
import os
from typing import Any, Final

EXCHANGE: Final = 2  # both systems give the flag the same number


def _found() -> Any:
    try:
        library = ctypes.CDLL(None, use_errno=True)
    except (OSError, TypeError):
        return None
    act = getattr(library, "renameat2", None) or getattr(library, "renameatx_np", None)
    if act is not None:
        kinds = [ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint]
        act.argtypes, act.restype = kinds, ctypes.c_int
    return act


_ACT: Final = _found()


def swap_names(first: int, one: str, second: int, two: str) -> None:
    """Let two names change places, each inside a folder given by its handle.

    Raises
    ------
    OSError - ENOSYS, EINVAL or ENOTSUP where the system or the disk cannot do it.
    """
    if _ACT is None:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS))
    if _ACT(first, os.fsencode(one), second, os.fsencode(two), EXCHANGE):
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number), one)
