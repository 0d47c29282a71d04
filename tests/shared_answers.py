"""Long answers of the page, worked out once for all servers and workers of one run of the tests.

An answer belongs to the texts of the files, the plan, the settings and the number of flights. What
is about the working itself (progress, a stop) asks a server of its own process, which shares none.
"""

import hashlib
import os
import pickle
import time
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from goodflight.page.answers import Answers
from goodflight.page.app import make_app
from goodflight.page.guard import Guard
from goodflight.page.room import Room
from goodflight.page.work import LOOK_EVERY_S, Reporter, Workers
from run_place import place

LONG = ("full", "first", "bands", "landings", "delays", "designs", "debrief", "next")
FLIGHTS = 400  # of a full answer; the default would only take longer


@dataclass
class SharedAnswers(Answers):
    """Answers that look into the folder of the run before they work a long one out."""

    def _kept_or(self, key: tuple[Any, ...], act: Callable[[], Any]) -> Any:
        if key[0] not in LONG or not place:
            return super()._kept_or(key, act)
        what, files, plan, settings = key
        asked = {name: each for name, each in settings if name != "lie"}
        logs = self._logs() if len(asked) < len(settings) else ()
        whole = repr((self.flights, what, files, plan, asked, logs))
        name = hashlib.sha256(whole.encode()).hexdigest()
        return super()._kept_or(key, lambda: _once(place[0] / name, act))

    def _logs(self) -> tuple[tuple[str, str], ...]:
        """What lies beside the notes, by its bytes: the program tells it by its time of writing."""
        there = sorted(each for each in (self.store.root / "flights").rglob("*") if each.is_file())
        return tuple(
            (str(each.relative_to(self.store.root)), hashlib.sha256(each.read_bytes()).hexdigest())
            for each in there
        )


def _once(file: Path, act: Callable[[], Any]) -> Any:
    if file.exists():
        return pickle.loads(file.read_bytes())
    answer = act()
    new = file.with_suffix(f".{os.getpid()}")
    new.write_bytes(pickle.dumps(answer))
    new.replace(file)
    return answer


class AtWork(Workers):
    """Workers whose long studies are still at it whenever somebody looks, on any machine."""

    def stream(
        self, tab: str, _act: Callable[[Reporter], dict[str, Any]], fault: Callable[..., str]
    ) -> AsyncIterator[str]:
        """A study that ends when nobody waits for it any more."""
        return super().stream(tab, _goes_on, fault)


def _goes_on(tell: Reporter) -> dict[str, Any]:
    while True:
        tell.still_wanted()
        time.sleep(LOOK_EVERY_S)


def shared_app(folder: Path, port: int, flights: int = FLIGHTS, settles: bool = True) -> Guard:
    """The application of a folder as it is served, with long answers shared.

    `settles`: what a page asks for when it stands still is answered; else it is at work for good.
    """
    app = make_app(folder, port, flights=flights)
    state = app.app.state  # type: ignore[attr-defined]
    room = state.room
    answers = SharedAnswers(room.store, flights)
    workers = room.workers if settles else AtWork()
    workers.stopping = room.workers.stopping
    state.room = Room(room.store, answers, workers, room.access)
    return app
