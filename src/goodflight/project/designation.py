"""The class letter and mean thrust in a motor's designation: "H128"."""

import re
from dataclasses import dataclass
from typing import Annotated, Any, Final

from goodflight.physics.motor.curve import IMPULSE_CLASSES
from goodflight.project.text_fields import TextField, fault, show_found

_FORM: Final = re.compile(r"([A-Z]{1,2})([1-9][0-9]{0,4})")
_LETTERS: Final = frozenset(each.letter for each in IMPULSE_CLASSES)


@dataclass(frozen=True)
class Named:
    """What a designation says: class letter, and mean thrust [N]."""

    text: str
    letter: str
    mean_n: float


@dataclass(frozen=True)
class DesignationField(TextField):
    """A class letter and the mean thrust in newtons, as on the label."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return "the class letter and the mean thrust in newtons, like H128"

    @property
    def words(self) -> str:
        """The kind and its units."""
        return "letter and whole newtons"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return '"H128"'

    def read(self, value: Any) -> Named:
        """Turn a TOML value into letter and mean thrust, or refuse."""
        if isinstance(value, Named):
            return value
        match = _FORM.fullmatch(value.strip()) if isinstance(value, str) else None
        if match is None or match[1] not in _LETTERS:
            advice = "write letter and number only; delay and maker's letters stay out"
            raise fault(show_found(value), self.wanted, advice)
        return Named(value.strip(), match[1], float(match[2]))


Designation = Annotated[Named, DesignationField()]
