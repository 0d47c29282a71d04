"""The one base of every refusal: what was asked cannot be done as given, and nothing was done.

A shell shows a refusal as bad input, never with a trace. Anything else that is raised is a fault
of the program.
"""

from collections.abc import Mapping

from goodflight.quantity.said import Convertible

Record = Mapping[str, object]


class Refused(Exception):  # noqa: N818
    """Base of refusals: the sentence says what is wrong, what is allowed and what to do.

    `records` are the same as data, one a fault: file, line, key, found, expected, advice.
    """

    def __init__(self, found: str, expected: str = "", advice: str = "", key: str = "") -> None:
        self.found, self.expected, self.advice = map(Convertible, (found, expected, advice))
        self.key = key
        wanted = f"; expected {expected}" if expected else ""
        todo = f"; {advice}" if advice else ""
        self.sentence: str = Convertible(
            f"found {found}{wanted}{todo}" if expected else f"{found}{todo}"
        )
        super().__init__(self.sentence)

    def __str__(self) -> str:
        """The sentence as it is, whatever else the refusal also is."""
        return self.sentence

    @property
    def records(self) -> tuple[Record, ...]:
        """The refusal as data."""
        return (
            {
                "file": "",
                "line": 0,
                "key": self.key,
                "found": self.found,
                "expected": self.expected,
                "advice": self.advice,
            },
        )
