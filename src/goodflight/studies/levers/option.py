"""What a control of a what-if is: a row of options, one of which the project has."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from goodflight.studies.refusal import StudyRefused

Write = tuple[str, str]
MOST_NAMED: Final = 8  # settings that a refusal names one by one


@dataclass(frozen=True)
class Option:
    """One setting of a control: its id, its value in SI (None for a name), what is written."""

    id: str
    value: float | None
    writes: tuple[Write, ...]


@dataclass(frozen=True)
class Control:
    """One thing to change. `now` is the id of the option that the project has."""

    key: str
    label: str
    dimension: str  # of the values; "" when the options are names
    options: tuple[Option, ...]
    now: str

    def option(self, option_id: str) -> Option:
        """Return one option by its id; a StudyRefused lists what there is."""
        for each in self.options:
            if each.id == option_id:
                return each
        there = [each.id for each in self.options]
        wanted = f"one of {', '.join(there)}"
        if len(there) > MOST_NAMED:
            wanted = f"one of its {len(there)} settings, {there[0]} to {there[-1]}"
        found = f"no setting {option_id!r} of {self.label!r} here"
        raise StudyRefused(found, wanted, "open the ledger and move it there", self.key)


def steps(low: float, high: float, step: float) -> Iterator[float]:
    """Values from low to high, both of them among the values."""
    for i in range(round((high - low) / step) + 1):
        yield round(low + i * step, 6)
