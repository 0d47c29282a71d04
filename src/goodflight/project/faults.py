"""What is wrong in a project folder: each fault with its file, line and key, and what to do."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Final

from goodflight.quantity import Refused
from goodflight.quantity.refusal import Record
from goodflight.quantity.said import Convertible, marked

if TYPE_CHECKING:
    from goodflight.project.records import Project

ADD_LINE: Final = "add the line "  # how advice to someone who edits the file begins


@dataclass(frozen=True, order=True)
class Fault:
    """One wrong entry. `line` is 1 for the first line, 0 when the file itself is the fault."""

    file: str
    line: int
    key: str
    found: str
    expected: str
    advice: str

    def __post_init__(self) -> None:
        """What is said of figures is told in the reader's units."""
        for name in ("found", "expected", "advice"):
            object.__setattr__(self, name, Convertible(marked(getattr(self, name))))

    @property
    def sentence(self) -> str:
        """The fault in one paragraph: place, found, expected, advice."""
        found, expected, said = map(marked, (self.found, self.expected, self.advice))
        place = f"{self.file}:{self.line}" if self.line else self.file
        key = f" {self.key}:" if self.key else ""
        advice = said[:1].upper() + said[1:]
        end = "" if advice.endswith("?") else "."
        return Convertible(f"{place}:{key} found {found}; expected {expected}. {advice}{end}")

    @property
    def in_form(self) -> str:
        """The fault as a form says it beside its field: no file, no line to add."""
        wanted = f"expected {marked(self.expected).removesuffix(' in quotes')}"
        words = wanted if self.found == "nothing" else f"found {marked(self.found)}; {wanted}"
        more = "" if self.advice.startswith(ADD_LINE) else f"; {marked(self.advice)}"
        return Convertible(f"{words}{more}")


class ProjectErrors(Refused, ValueError):  # noqa: N818
    """Everything wrong in a project, all files at once, in the order of files and lines."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        from goodflight.project.budgets import shortened

        self.faults: tuple[Fault, ...] = tuple(shortened(sorted(set(faults))))
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
    """A change that was not written; only the two kinds named below say that the disk changed."""


class SaveUnfinished(SaveRefused):
    """A save that was begun and could be neither finished nor taken back; the next start does."""


class SavedTwice(SaveRefused):
    """All was written, and what another program saved in the same moment is kept as a version.

    `project` is what lies in the folder after it; None where that still holds faults.
    """

    project: "Project | None" = None


class PlaceRefused(SaveRefused):
    """A name in the project folder that is not used: a link, a pipe, another user's; `fault`."""

    def __init__(self, fault: Fault) -> None:
        self.fault = fault
        super().__init__(f"{fault.file}: {fault.found}", fault.expected, fault.advice)

    @property
    def records(self) -> tuple[Record, ...]:
        """The fault as data."""
        return (asdict(self.fault),)
