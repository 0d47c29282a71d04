"""What single flights came to, kept by what went into them, so that none is worked out twice.

Changes to a plan leave many flights as they were: the part of the flights that a change was tried
on is among those flown again with it, and a row that asks for less leaves a flight alone. A flight
depends on its own figures only, so what is kept is bit for bit what it would come to again.
"""

import hashlib
import threading
from collections.abc import Callable
from itertools import islice
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
KEPT: Final = 30_000  # flights of one kind, some 30 MB; the oldest go first
MANY: Final = 4000  # no ledger asks for so many at once


class Remembered:
    """What flights of one kind came to, by the figures of each."""

    def __init__(self) -> None:
        self._found: dict[bytes, Array] = {}
        self._gate = threading.Lock()
        self._added = 0

    def of(
        self, rows: NDArray[Any], work: Callable[[NDArray[np.int64]], Array], besides: bytes = b""
    ) -> Array:
        """What each row comes to: as remembered, or worked out for those that are new.

        Of so many at once that they would push out what is kept none is looked up or kept.

        work : places among the rows -> what they come to, a row each; besides : what all of them
        share and depend on.
        """
        if len(rows) >= MANY:
            return work(np.arange(len(rows)))
        shared = hashlib.blake2b(besides, digest_size=16).digest()
        figures, wide = rows.tobytes(), rows.itemsize * rows.shape[1]
        keys = [shared + figures[at : at + wide] for at in range(0, len(figures), wide)]
        with self._gate:
            known = [self._found.get(key) for key in keys]
        new = np.array(
            [place for place, found in enumerate(known) if found is None], dtype=np.int64
        )
        if new.size == len(keys):
            out = work(new)
        else:
            worked = iter(work(new)) if new.size else iter(())
            out = np.array([next(worked) if found is None else found for found in known])
        kept = new[-KEPT:]
        with self._gate:  # rows of one array of their own
            self._keep(dict(zip([keys[place] for place in kept], out[kept])))
        return out

    def _keep(self, found: dict[bytes, Array]) -> None:
        self._found |= found
        self._added += len(found)
        for key in list(islice(self._found, max(0, len(self._found) - KEPT))):
            del self._found[key]

    def mark(self) -> int:
        """Where it stands."""
        return self._added

    def since(self, mark: int) -> tuple[list[bytes], Array]:
        """What came to it since then: what went in, and what each came to, a row each."""
        with self._gate:
            new = dict(islice(reversed(self._found.items()), self._added - mark))
        return list(new), np.array(list(new.values()))

    def take(self, found: tuple[list[bytes], Array]) -> None:
        """Take over what came to a copy of it in another process."""
        with self._gate:
            self._keep({key: each for key, each in zip(*found) if key not in self._found})

    def forget(self) -> None:
        """Forget all."""
        with self._gate:
            self._found.clear()
