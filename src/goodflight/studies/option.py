"""What a control of a what-if is: a row of options, one of which the project has."""

from collections.abc import Iterator
from dataclasses import dataclass

from goodflight.studies.refusal import StudyRefused

Write = tuple[str, str]


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
        there = ", ".join(each.id for each in self.options)
        advice = "take one of them"
        raise StudyRefused(f"no setting {option_id!r}", f"one of {there}", advice, self.key)


def steps(low: float, high: float, step: float) -> Iterator[float]:
    """Values from low to high, both of them among the values."""
    for i in range(round((high - low) / step) + 1):
        yield round(low + i * step, 6)
