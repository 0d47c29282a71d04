"""The window of the pull to separate as data, SI."""

from typing import Any, Final

from goodflight.outputs.record import More, Mores, record
from goodflight.studies.questions.separation_window import Pull, SeparationStudy

MORE: Final[Mores] = {
    Pull: {
        "low_n": None,
        "middle_n": None,
        "high_n": None,
        "force_5_50_95": More(
            "5, 50 and 95 % points [N]", lambda pull: (pull.low_n, pull.middle_n, pull.high_n)
        ),
    },
}


def separation_record(study: SeparationStudy) -> dict[str, Any]:
    """Window, measured pull and what sets both ends."""
    return record(study, MORE)
