"""A study that cannot be done for this rocket or plan, told as the builder would say it."""

from goodflight.project import Project
from goodflight.quantity import Refused
from goodflight.quantity.refusal import Record


class StudyRefused(Refused, ValueError):  # noqa: N818
    """The project is sound, but this question has no answer for it.

    `file` and `line` say where the figure stands that has to be changed, where that is known.
    """

    def __init__(
        self,
        found: str,
        expected: str = "",
        advice: str = "",
        key: str = "",
        file: str = "",
        line: int = 0,
    ) -> None:
        super().__init__(found, expected, advice, key)
        self.file, self.line = file, line
        if file:
            place = f"{file}:{line}" if line else file
            self.sentence = f"{place}: {key}: {self.sentence}" if key else self.sentence

    @property
    def records(self) -> tuple[Record, ...]:
        """The refusal as data, with its place."""
        return tuple({**each, "file": self.file, "line": self.line} for each in super().records)


class NoMotorChosen(StudyRefused):
    """A plan that names no motor: nothing can be flown, and no chance belongs to anything."""

    def __init__(self, plan: str) -> None:
        super().__init__(
            f'no motor for plan "{plan}": nothing is flown, every way to fail is not known, and '
            "there is no total",
            'motor = "NAME", of a file in motors/',
            "write it in plans.toml, or tell the motor on the page: goodflight serve",
            f"plan[{plan}].motor",
            "plans.toml",
        )


def refused_at(project: Project, path: str, found: str, wanted: str, advice: str) -> StudyRefused:
    """A refusal at a place of a file, `file:key`."""
    file, _, key = path.partition(":")
    return StudyRefused(
        found=found,
        expected=wanted,
        advice=advice,
        key=key,
        file=file,
        line=project.line(path) or 0,
    )
