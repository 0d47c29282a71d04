"""Studies run beside the server: in threads that never hold it up, told to stop when superseded.

A stream gives the progress of one study as server-sent events, parts of the answer as soon as they
are there, and ends with the rest. When the same browser tab asks something newer, says stop, or
goes away, or the server stops, the study stops at its next step.
"""

import asyncio
import contextlib
import json
import queue
import threading
from collections.abc import AsyncIterator, Callable, Coroutine
from typing import Any, Final, TypeVar

from starlette.responses import Response

T = TypeVar("T")
Progress = Callable[[str, float], None]
Handler = Callable[..., Coroutine[Any, Any, Response]]
LOOK_EVERY_S: Final = 0.02
MAX_TABS: Final = 500  # that are remembered
GOES_ON: Final = ("progress", "part")  # events after which more come


class SupersededError(Exception):
    """Nobody waits for this answer any more."""


class Flag(threading.Event):
    """Raised when a study is to stop; `why` names the last event of its stream."""

    why = "superseded"


class Reporter:
    """What a study gets to say how far it is, and to hand over a part of its answer."""

    def __init__(self, flag: Flag, ends: threading.Event) -> None:
        self._flag, self._ends = flag, ends
        self.told: queue.SimpleQueue[tuple[str, Any]] = queue.SimpleQueue()

    def __call__(self, what: str, share: float) -> None:
        """Say what is done and how much of it; stops the study when nobody waits any more."""
        self.still_wanted()
        self.told.put(("progress", {"what": what, "share": round(share, 3)}))

    def part(self, record: dict[str, Any]) -> None:
        """Hand over a part of the answer."""
        self.still_wanted()
        self.told.put(("part", record))

    def still_wanted(self) -> None:
        """Stop the study here when nobody waits any more."""
        if self._flag.is_set() or self._ends.is_set():
            raise SupersededError


class Workers:
    """Where studies run; remembers which one each tab waits for."""

    def __init__(self) -> None:
        self.stopping = threading.Event()
        self._current: dict[str, Flag] = {}
        self._lock = threading.Lock()

    def take(self, tab: str) -> Flag:
        """Stop what a tab waited for, return the flag of its new work."""
        with self._lock:
            old = self._current.pop(tab, None)
            if old is not None:
                old.set()
            while len(self._current) >= MAX_TABS:
                self._current.pop(next(iter(self._current)))  # the one that asked longest ago
            self._current[tab] = Flag()
            return self._current[tab]

    def stop(self, tab: str) -> bool:
        """Stop what a tab waits for, because its reader said so; whether there was anything."""
        with self._lock:
            flag = self._current.pop(tab, None)
        if flag is None:
            return False
        flag.why = "stopped"
        flag.set()
        return True

    async def in_thread(self, act: Callable[[], T]) -> T:
        """Run a short study in a daemon thread and wait for it, or for the server's end."""
        loop = asyncio.get_running_loop()
        done = asyncio.Event()
        found: list[T] = []
        wrong: list[BaseException] = []

        def run() -> None:
            try:
                found.append(act())
            except BaseException as error:
                wrong.append(error)
            with contextlib.suppress(RuntimeError):  # the loop has ended, nobody waits
                loop.call_soon_threadsafe(done.set)

        threading.Thread(target=run, daemon=True).start()
        while not done.is_set():
            if self.stopping.is_set():
                raise SupersededError
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(done.wait(), 5.0 * LOOK_EVERY_S)
        if wrong:
            raise wrong[0]
        return found[0]

    def beside(self, handler: Handler) -> Handler:
        """A request's handler that runs in a thread of its own, on a loop of its own.

        Reading files and drawing pages take as long as they take; the server goes on answering.
        """

        async def run(*asked: Any) -> Response:
            return await self.in_thread(lambda: asyncio.run(handler(*asked)))

        return run

    async def stream(
        self, tab: str, act: Callable[[Reporter], dict[str, Any]], fault: Callable[[Exception], str]
    ) -> AsyncIterator[str]:
        """Run a long study; give its progress, its parts and its answer as events."""
        flag = self.take(tab)
        tell = Reporter(flag, self.stopping)

        def run() -> None:
            try:
                tell.told.put(("done", act(tell)))
            except SupersededError:
                tell.told.put((flag.why, {}))
            except Exception as error:
                tell.told.put(("fault", {"words": fault(error)}))

        threading.Thread(target=run, daemon=True).start()
        try:
            while not self.stopping.is_set():
                try:
                    name, data = tell.told.get_nowait()
                except queue.Empty:
                    await asyncio.sleep(LOOK_EVERY_S)
                    continue
                yield event(name, data)
                if name not in GOES_ON:
                    return
        finally:
            flag.set()


def event(name: str, data: Any) -> str:
    """One server-sent event."""
    return f"event: {name}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"
