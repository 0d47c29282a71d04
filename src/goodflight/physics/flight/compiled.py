"""Where the compiled kernel is kept, and how a function is marked for compilation.

The compiler's own cache does not notice an edit in a called function of another file, so the
folder carries a hash of every kernel source: a changed source means a new folder.
"""

import hashlib
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba as _numba

numba: Any = _numba  # its stubs know neither the cache folder nor the flag used below
_HERE = Path(__file__).parent
KERNEL_SOURCES = (
    "compiled",
    "registry",
    "rigid",
    "column",
    "burn",
    "forces",
    "rail",
    "descent",
    "stepper",
    "monitor",
    "pad",
    "events",
    "kernel",
)


def kernel_hash() -> str:
    """Short hash of every kernel source and of the compiler's version."""
    digest = hashlib.sha256(f"{numba.__version__} {sys.version_info}".encode())
    for name in KERNEL_SOURCES:
        digest.update((_HERE / f"{name}.py").read_bytes())
    return digest.hexdigest()[:16]


def cache_folder() -> Path:
    """First writable place for compiled code, named after the kernel's hash."""
    stem = Path("goodflight") / f"kernel-{kernel_hash()}"
    places = [Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")]
    if local := os.environ.get("LOCALAPPDATA"):
        places.insert(0, Path(local))
    for place in (*places, Path(tempfile.gettempdir())):
        try:
            (place / stem).mkdir(parents=True, exist_ok=True)
        except OSError:
            continue
        if os.access(place / stem, os.W_OK):
            return place / stem
    return Path(tempfile.mkdtemp(prefix="goodflight-"))


CACHE = cache_folder()
numba.config.CACHE_DIR = str(CACHE)

_COMMON: dict[str, Any] = {
    "cache": True,
    "error_model": "numpy",
    "fastmath": {"contract", "reassoc", "nsz", "arcp"},
}


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a function of the kernel for compilation.

    Without reference counting (`_nrt`): these functions only borrow arrays that their caller owns,
    and counting references on every call would cost more than the physics. They may not allocate.
    """
    result: Callable[..., Any] = numba.njit(_nrt=False, **_COMMON)(function)
    return result


def compiled_owner(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a function that allocates the arrays the others borrow."""
    result: Callable[..., Any] = numba.njit(**_COMMON)(function)
    return result


def compiled_parallel(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark the loop over flights, which runs on every core."""
    result: Callable[..., Any] = numba.njit(parallel=True, **_COMMON)(function)
    return result
