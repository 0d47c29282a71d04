"""The answers to an inspector in words, the same on paper and wherever they are shown."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.words import STATES, speak
from goodflight.studies.questions.evidence import Against, Answered, Evidence, Number

NOT_KNOWN: Final = "not known: "


def answer_words(answer: Answered, units: str = "metric") -> str:
    """The answer itself: what is known, or that it is not known and what to do."""
    told = answer.said.told(units)
    if answer.how == "unknown":
        return NOT_KNOWN + answer.do + (f" ({told})" if told else "")
    if answer.how == "show" and not told:
        return f"not known here, show: {answer.show}"
    return told


def show_words(answer: Answered) -> str:
    """What to show by hand beside the answer; empty where the answer is just that, or nothing."""
    if answer.how == "unknown" or not answer.said.text:
        return ""
    return answer.show


def stands_words(answer: Answered) -> str:
    """How it is known; empty where nothing is."""
    return answer.stands_on if answer.said.text and answer.how != "unknown" else ""


def against_words(against: Sequence[Against]) -> str:
    """What of the ledger stands against it: "fails: Cord slits ..., about 11 in 100"."""
    return "; ".join(
        f"{STATES[each.state]}: {each.title[0].lower()}{each.title[1:]}, {speak(each.chance)}"
        for each in against
    )


def number_words(number: Number, units: str = "metric") -> tuple[str, str]:
    """A figure of the top row and the line under it."""
    told = number.said.told(units)
    if not told:
        return NOT_KNOWN.rstrip(": "), f"see answer {number.number}"
    return told, number.spread.told(units)


def counted(found: Evidence) -> str:
    """Say how much of it is known: "20 known, 0 not known, 15 to show by hand"."""
    return (
        f"{found.count('known')} known, {found.count('unknown')} not known, "
        f"{found.count('show')} to show by hand"
    )
