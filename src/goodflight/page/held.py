"""Files that were sent and are not written yet: held until they are confirmed, the newest few."""

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Final

from goodflight.project.folder import digest_of

MOST: Final = 3  # of at most 32 MB each


@dataclass
class Held:
    """Name and bytes of each file, by a key of its content."""

    files: OrderedDict[str, tuple[str, bytes]] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def put(self, name: str, raw: bytes) -> str:
        """Hold a file; return its key."""
        key = digest_of(raw)[:32]
        with self.lock:
            self.files[key] = name, raw
            self.files.move_to_end(key)
            while len(self.files) > MOST:
                self.files.popitem(last=False)
        return key

    def get(self, key: str) -> tuple[str, bytes] | None:
        """The file of a key; None when it is held no more."""
        with self.lock:
            return self.files.get(key)
