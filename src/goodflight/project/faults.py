"""What is wrong in a project folder: each fault with its file, line and key, and what to do."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass

from goodflight.quantity import Refused
from goodflight.quantity.refusal import Record


@dataclass(frozen=True, order=True)
class Fault:
    """One wrong entry. `line` is 1 for the first line, 0 when the file itself is the fault."""

    file: str
    line: int
    key: str
    found: str
    expected: str
    advice: str

    @property
    def sentence(self) -> str:
        """The fault in one paragraph: place, found, expected, advice."""
        place = f"{self.file}:{self.line}" if self.line else self.file
        key = f" {self.key}:" if self.key else ""
        advice = self.advice[:1].upper() + self.advice[1:]
        end = "" if advice.endswith("?") else "."
        return f"{place}:{key} found {self.found}; expected {self.expected}. {advice}{end}"


class ProjectErrors(Refused, ValueError):  # noqa: N818
    """Everything wrong in a project, all files at once, in the order of files and lines."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(set(faults)))
        count = len(self.faults)
        head = "1 fault in this project" if count == 1 else f"{count} faults in this project"
        super().__init__("\n".join([head, *(fault.sentence for fault in self.faults)]))

    @property
    def records(self) -> tuple[Record, ...]:
        """Every fault as data."""
        return tuple(asdict(fault) for fault in self.faults)


class NoSuchPlan(Refused, KeyError):  # noqa: N818
    """A plan of this name is not in the project."""


class SaveRefused(Refused, RuntimeError):  # noqa: N818
    """A change that was not written: nothing on disk has changed."""
