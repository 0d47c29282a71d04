"""Studies run beside the server: in threads that never hold it up, told to stop when superseded.

A stream gives the progress of one study as server-sent events and ends with the answer. When the
same browser tab asks something newer, or goes away, or the server stops, the study stops at its
next step.
"""

import asyncio
import contextlib
import json
import queue
import threading
from collections.abc import AsyncIterator, Callable
from typing import Any, Final, TypeVar

T = TypeVar("T")
Progress = Callable[[str, float], None]
LOOK_EVERY_S: Final = 0.02


class SupersededError(Exception):
    """Nobody waits for this answer any more."""


class Bench:
    """Where studies run; remembers which one each tab waits for."""

    def __init__(self) -> None:
        self.stopping = threading.Event()
        self._current: dict[str, threading.Event] = {}
        self._lock = threading.Lock()

    def take(self, tab: str) -> threading.Event:
        """Stop what a tab waited for, return the flag of its new work."""
        with self._lock:
            old = self._current.get(tab)
            if old is not None:
                old.set()
            if len(self._current) > 500:
                self._current.clear()
            self._current[tab] = threading.Event()
            return self._current[tab]

    async def away(self, act: Callable[[], T]) -> T:
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

    async def stream(
        self, tab: str, act: Callable[[Progress], dict[str, Any]], fault: Callable[[Exception], str]
    ) -> AsyncIterator[str]:
        """Run a long study; give its progress and its answer as events."""
        flag, told = self.take(tab), queue.SimpleQueue[tuple[str, Any]]()

        def progress(what: str, share: float) -> None:
            if flag.is_set() or self.stopping.is_set():
                raise SupersededError
            told.put(("progress", {"what": what, "share": round(share, 3)}))

        def run() -> None:
            try:
                told.put(("done", act(progress)))
            except SupersededError:
                told.put(("superseded", {}))
            except Exception as error:
                told.put(("fault", {"words": fault(error)}))

        threading.Thread(target=run, daemon=True).start()
        try:
            while not self.stopping.is_set():
                try:
                    name, data = told.get_nowait()
                except queue.Empty:
                    await asyncio.sleep(LOOK_EVERY_S)
                    continue
                yield event(name, data)
                if name != "progress":
                    return
        finally:
            flag.set()


def event(name: str, data: Any) -> str:
    """One server-sent event."""
    return f"event: {name}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"
