"""Answers kept by what they hang on: another project whose parts are equal has the same."""

import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final, Generic, TypeVar

T = TypeVar("T")
MOST: Final = 8  # questions asked last


@dataclass
class Alike(Generic[T]):
    """Answers to the questions asked last; an answer that fails is not kept."""

    found: deque[tuple[Any, T]] = field(default_factory=lambda: deque(maxlen=MOST))
    gate: threading.Lock = field(default_factory=threading.Lock)

    def of(self, asked: tuple[Any, ...], work: Callable[[], T]) -> T:
        """The answer to an equal question, or worked out; nobody may change it."""
        with self.gate:
            for question, answer in self.found:
                if question == asked:
                    return answer
        answer = work()
        with self.gate:
            self.found.append((asked, answer))
        return answer
