"""Long answers of the page, worked out once for all servers and workers of one run of the tests.

An answer belongs to the texts of the files, the plan, the settings and the number of flights. What
is about the working itself (progress, a stop) asks a server of its own process, which shares none.
"""

import hashlib
import os
import pickle
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from goodflight.page.answers import Answers
from goodflight.page.app import make_app
from goodflight.page.guard import Guard
from goodflight.page.room import Room
from run_place import place

LONG = ("full", "first", "bands", "landings", "delays", "designs")


@dataclass
class SharedAnswers(Answers):
    """Answers that look into the folder of the run before they work a long one out."""

    def _kept_or(self, key: tuple[Any, ...], act: Callable[[], Any]) -> Any:
        if key[0] not in LONG or not place:
            return super()._kept_or(key, act)
        name = hashlib.sha256(repr((self.flights, key)).encode()).hexdigest()
        return super()._kept_or(key, lambda: _once(place[0] / name, act))


def _once(file: Path, act: Callable[[], Any]) -> Any:
    if file.exists():
        return pickle.loads(file.read_bytes())
    answer = act()
    new = file.with_suffix(f".{os.getpid()}")
    new.write_bytes(pickle.dumps(answer))
    new.replace(file)
    return answer


def shared_app(folder: Path, port: int, flights: int) -> Guard:
    """The application of a folder as it is served, with long answers shared."""
    app = make_app(folder, port, flights=flights)
    state = app.app.state  # type: ignore[attr-defined]
    room = state.room
    answers = SharedAnswers(room.store, flights)
    state.room = Room(room.store, answers, room.workers, room.access)
    return app
