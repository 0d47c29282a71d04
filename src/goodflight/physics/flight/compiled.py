"""Where the compiled kernel is kept, and how a function is marked for compilation.

The compiler's own cache does not notice an edit in a called function of another file, so the
folder carries a hash of every kernel source: a changed source means a new folder.
"""

import contextlib
import hashlib
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numba as _numba
from numba.core.caching import FunctionCache
from numba.core.runtime import rtsys

from goodflight.physics.flight.parts import PartCompiler

numba: Any = _numba  # its stubs know neither the cache folder nor the flag used below
_HERE = Path(__file__).parent
KERNEL_SOURCES = (
    "compiled",
    "parts",
    "registry",
    "record",
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
    "block",
    "inside",
    "history",
    "kernel",
    "alike",
    "loop",
    "../../constants",
    "../recovery/parting_lane",
    "../recovery/parting_moves",
    "../recovery/parting_slide",
)


def kernel_hash() -> str:
    """Short hash of every kernel source, its place and time, and of the compiler's version.

    Place and time, because the compiler takes a copy or a touched file for another one.
    """
    digest = hashlib.sha256(f"{numba.__version__} {sys.version_info} {_HERE}".encode())
    for name in KERNEL_SOURCES:
        source = _HERE / f"{name}.py"
        digest.update(f"{source.stat().st_mtime_ns}".encode() + source.read_bytes())
    return digest.hexdigest()[:16]


def cache_folder() -> Path:
    """First writable place for compiled code, named after the kernel's hash."""
    name = f"kernel-{kernel_hash()}"
    for place in _places():
        try:
            place.mkdir(mode=0o700, parents=True, exist_ok=True)
            (place / name).mkdir(exist_ok=True)
        except OSError:
            continue
        if _mine(place) and os.access(place / name, os.W_OK):
            return place / name
    return Path(tempfile.mkdtemp(prefix="goodflight-"))


def _places() -> Iterator[Path]:
    for variable in ("LOCALAPPDATA", "XDG_CACHE_HOME"):
        if place := os.environ.get(variable):
            yield Path(place) / "goodflight"
    with contextlib.suppress(RuntimeError):  # a user without a home
        yield Path.home() / ".cache" / "goodflight"
    user = os.getuid() if hasattr(os, "getuid") else ""
    yield Path(tempfile.gettempdir()) / f"goodflight-{user}"


def _mine(place: Path) -> bool:
    """Compiled code is run when it is loaded: nobody else may be able to put it there."""
    if not hasattr(os, "getuid"):
        return True
    held = place.stat()
    return held.st_uid == os.getuid() and not held.st_mode & 0o022


CACHE = cache_folder()
numba.config.CACHE_DIR = str(CACHE)

_COMMON: dict[str, Any] = {
    "error_model": "numpy",
    "fastmath": {"contract", "reassoc", "nsz", "arcp"},
}


def _kept(function: Callable[..., Any]) -> Any:
    """What is compiled of a function and kept on disk; finished code is loaded by itself.

    The compiler's own first takes in every function it could compile calls of (0.1 s of 0.2); when
    it does compile, it takes them in by itself.
    """
    kept: Any = FunctionCache(function)  # type: ignore[no-untyped-call]

    def load(types: Any, context: Any) -> Any:
        rtsys.initialize(context)  # what finished code calls to hold arrays
        with kept._guard_against_spurious_io_errors():
            return kept._load_overload(types, context)

    kept.load_overload = load
    return kept


def _compiled(function: Callable[..., Any], **how: Any) -> Any:
    """A function that is compiled when it is called, unless its code is on disk."""
    dispatcher = numba.njit(**how, **_COMMON)(function)
    dispatcher._cache = _kept(function)
    return dispatcher


def _part(function: Callable[..., Any], constants: bool = False, **how: Any) -> Any:
    """A function of the kernel: what its callers take in, and a door for a call from Python.

    The two are compiled apart, each when it is asked for: callers need no machine code of its own,
    no door and nothing on disk, which was half of the time of a first start.

    Unless `constants`, those of a call are plain numbers, so that all calls share one compilation.
    The compiler takes each constant for a type of its own: it compiled a right-hand side once for
    each place in the record.
    """
    door = _compiled(function, _nrt=False, **how)
    part = numba.njit(
        pipeline_class=PartCompiler,
        no_cpython_wrapper=True,
        no_cfunc_wrapper=True,
        _nrt=False,
        **how,
        **_COMMON,
    )(function)
    ask = part.get_call_template

    def asked(args: Any, kws: Any) -> Any:
        plain = args if constants else tuple(map(numba.types.unliteral, args))
        return ask(plain, kws)

    door.get_call_template, door.get_overload, door.part = asked, part.get_overload, part
    return door


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a function of the kernel for compilation.

    Without reference counting (`_nrt`): these functions only borrow arrays that their caller owns,
    and counting references on every call would cost more than the physics. They may not allocate.
    """
    result: Callable[..., Any] = _part(function)
    return result


def compiled_inside(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a function for compilation whose body shall stand in its callers.

    For what runs in every step: there the places in the record it works on are known numbers.
    """
    result: Callable[..., Any] = _part(function, forceinline=True)
    return result


def compiled_per_constant(function: Callable[..., Any]) -> Callable[..., Any]:
    """As `compiled_inside`, but once for each constant: for loops whose length is one."""
    result: Callable[..., Any] = _part(function, constants=True, forceinline=True)
    return result


def compiled_owner(function: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a function that allocates the arrays the others borrow; other threads run meanwhile.

    So a server answers and Ctrl-C is heard during a long call.
    """
    result: Callable[..., Any] = _compiled(function, nogil=True)
    return result
