"""Works done side by side: in copies of this process where it may be copied, else in threads.

Rows, samples and words are Python, of which one thread runs at a time; a copied process has its
own. It finds in memory all that stood there, hands back what it found, and ends. Only the command
line lets itself be copied: a copy of a server would lack the server's threads.
"""

import contextlib
import gc
import io
import os
import pickle
import signal
import struct
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain
from typing import Any, Final, Protocol, TypeVar

T = TypeVar("T")
Work = Callable[[], Any]
Told = Callable[[int], None]  # told the number of the work that begins
_NUMBER: Final = struct.Struct("=I")
_LEFT: Final = 65536 // _NUMBER.size  # works whose numbers fit into the system's buffer
_may_copy = threading.Event()


class Keeps(Protocol):
    """What is kept from one work to the next: a copy hands back what is new in it."""

    def mark(self) -> int:
        """Where it stands."""
        ...

    def since(self, mark: int) -> Any:
        """What came to it since then."""
        ...

    def take(self, found: Any) -> None:
        """Take over what came to a copy of it."""
        ...


def allow_copies() -> None:
    """Let this process be copied for work: to be said by a command in a process of its own."""
    if sys.platform == "linux":  # elsewhere libraries of the system may not survive it
        _may_copy.set()


def side_by_side(
    works: Sequence[Callable[[], T]],
    *,
    threads: int = 1,
    known: Iterable[object] = (),
    keeps: Sequence[Keeps] = (),
    told: Told | None = None,
) -> list[T]:
    """What each of some works finds, in their order; none may change what others read.

    What a copy does not hand back is worked out here, so an error is raised as without copies.

    Parameters
        works : sequence of callables - the first is done in this process. [-]
        threads : int - at once where the process may not be copied. [-]
        known : objects that stand in memory now and may be in what is found: handed back as they
            are, not as a copy. [-]
        keeps : sequence of Keeps - what a copy remembers is handed back, too. [-]
        told : callable or None - told the number of each work that begins here. [-]
    Returns
        found : list - one for each work. [-]
    Raises
        what a work raises.
    Validity
        What a copy finds must be data that `pickle` takes, or `known`.
    Source
        None: how work is shared out.
    """
    copies = min(os.cpu_count() or 1, len(works)) - 1
    main = threading.current_thread() is threading.main_thread()
    if copies < 1 or len(works) > _LEFT or not (_may_copy.is_set() and main):
        return _in_threads(works, threads, told)
    return _in_copies(works, copies, {id(each): each for each in known}, keeps, told)


def _in_threads(works: Sequence[Callable[[], T]], threads: int, told: Told | None) -> list[T]:
    from concurrent.futures import ThreadPoolExecutor  # slow to import

    found = list[T]()
    pool = ThreadPoolExecutor(threads) if threads > 1 else None
    try:
        begun = [pool.submit(work).result for work in works] if pool else works
        for number, result in enumerate(begun):
            if told is not None:
                told(number)
            found.append(result())
    finally:
        if pool:
            pool.shutdown(cancel_futures=True)
    return found


def _in_copies(
    works: Sequence[Work],
    copies: int,
    known: Mapping[int, object],
    keeps: Sequence[Keeps],
    told: Told | None,
) -> list[Any]:
    """Whoever is free takes the next number out of a pipe that all of them read."""
    numbers, filled = os.pipe()
    os.write(filled, b"".join(_NUMBER.pack(number) for number in range(1, len(works))))
    os.close(filled)
    gc.freeze()  # a copy that looked through all of it for garbage would copy all memory
    begun, found = list[tuple[int, int]](), dict[int, Any]()
    try:
        with contextlib.suppress(OSError):  # no more processes: with those there are
            for _ in range(copies):
                begun.append(_begin(works, numbers, known, keeps))
        for number in chain([0], _taken(numbers)):
            if told is not None:
                told(number)
            found[number] = works[number]()
        for _, back in begun:
            _take(back, known, keeps, found)
    finally:
        os.close(numbers)
        for process, back in begun:
            os.close(back)
            os.kill(process, signal.SIGKILL)  # nothing to one that has ended
            os.waitpid(process, 0)
        gc.unfreeze()
    return [found[i] if i in found else work() for i, work in enumerate(works)]


def _taken(numbers: int) -> Iterator[int]:
    while taken := os.read(numbers, _NUMBER.size):
        yield _NUMBER.unpack(taken)[0]


def _begin(
    works: Sequence[Work], numbers: int, known: Mapping[int, object], keeps: Sequence[Keeps]
) -> tuple[int, int]:
    """Copy this process; its id, and where what the copy finds can be read."""
    back, out = os.pipe()
    process = os.fork()
    if process:
        os.close(out)
        return process, back
    try:  # from here on the copy, which never leaves this function
        _may_copy.clear()
        marks = [each.mark() for each in keeps]
        found = {number: works[number]() for number in _taken(numbers)}
        packed = io.BytesIO()
        _Packer(packed, known).dump((found, [k.since(m) for k, m in zip(keeps, marks)]))
        with os.fdopen(out, "wb") as stream:
            stream.write(packed.getbuffer())
    finally:
        os._exit(0)  # whatever it met: who asked works it out itself


def _take(
    back: int, known: Mapping[int, object], keeps: Sequence[Keeps], found: dict[int, Any]
) -> None:
    """Take what a copy hands back; nothing, if it ended before its time."""
    with os.fdopen(back, "rb", closefd=False) as stream:
        packed = stream.read()
    with contextlib.suppress(EOFError):
        theirs, kept = _Unpacker(io.BytesIO(packed), known).load()
        found.update(theirs)
        for each, more in zip(keeps, kept):
            each.take(more)


class _Packer(pickle.Pickler):
    """Packs what stood in memory before a copy was made by its place there."""

    def __init__(self, stream: io.BytesIO, known: Mapping[int, object]) -> None:
        super().__init__(stream, pickle.HIGHEST_PROTOCOL)
        self._known = known

    def persistent_id(self, thing: object) -> int | None:
        """Its place, where it is known."""
        place = id(thing)
        return place if place in self._known else None


class _Unpacker(pickle.Unpickler):
    """Finds what stands in memory by its place there."""

    def __init__(self, stream: io.BytesIO, known: Mapping[int, object]) -> None:
        super().__init__(stream)
        self._known = known

    def persistent_load(self, place: int) -> object:
        """What stands there."""
        return self._known[place]
