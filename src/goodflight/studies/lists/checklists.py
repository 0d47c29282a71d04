"""The checklists of one planned flight: only what it needs, with its figures filled in."""

from dataclasses import dataclass
from typing import Annotated

from goodflight.studies.case.planned import Case
from goodflight.studies.cautions import cautions_of
from goodflight.studies.lists.facts import Facts, Window, facts_of, fills_of
from goodflight.studies.lists.step import LISTS, Doer, ListKey, ListStep
from goodflight.studies.lists.steps import STEPS
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.unseen import UNSEEN


@dataclass(frozen=True)
class Line:
    """One line as it is printed."""

    key: Annotated[str, "name of the line, the same in every project"]
    call: Annotated[str, "what the reader reads aloud"]
    reply: Annotated[str, "what the doer answers once it is done and true"]
    does: Annotated[Doer, "who does it"]
    kill: Annotated[bool, "left out alone, it can lose the flight: a second person looks"]
    prevents: Annotated[tuple[str, ...], "what it prevents, in words"]
    keys: Annotated[tuple[str, ...], "the same by key: rows, or things that no figure shows"]
    fitted: Annotated[bool, "true: the project does not say that the rocket has it"]
    caution: Annotated[str, "key of the caution that goes with it; empty = none"]


@dataclass(frozen=True)
class Checklist:
    """One list, in the order in which it is read."""

    key: Annotated[ListKey, "home, prepare, motor, pad, misfire or landed"]
    title: Annotated[str, "its name"]
    when: Annotated[str, "when it is read"]
    lines: Annotated[tuple[Line, ...], "what is read, done and answered"]
    cautions: Annotated[tuple[str, ...], "what goes with its lines"]


def checklists_of(
    case: Case, window: Window = (None, None), units: str = "metric"
) -> tuple[Checklist, ...]:
    """Every checklist of a planned flight.

    Parameters
        case : Case - the planned flight. [SI]
        window : pair of float or None - least and most pull of the separation. [N]
        units : str - "metric" or "imperial". [-]
    Returns
        lists : tuple of Checklist - from home to the signature. [-]
    Raises
        nothing
    Validity
        Reminders in an order that keeps charges unarmed until the rail and the igniter last. The
        maker's sheets, the local code and the range safety officer go first.
    Source
        Practice, no source; what each line prevents stands with it.
    Example
        none
    """
    facts, fills = facts_of(case), fills_of(case, window, units)
    return tuple(_list(key, facts, fills) for key in LISTS)


def _list(key: ListKey, facts: Facts, fills: dict[str, str]) -> Checklist:
    steps = [step for step in STEPS if step.on == key and applies(step, facts) is not False]
    title, when = LISTS[key]
    lines = tuple(_line(step, applies(step, facts) is None, fills) for step in steps)
    return Checklist(key, title, when, lines, cautions_of(step.caution for step in steps))


def applies(step: ListStep, facts: Facts) -> bool | None:
    """Whether a flight needs a line; None where the project does not say whether it has that."""
    said = [facts[fact] for fact in step.when]
    if False in said:
        return False
    return None if None in said else True


def _line(step: ListStep, fitted: bool, fills: dict[str, str]) -> Line:
    return Line(
        key=step.key,
        call=step.call.format(**fills),
        reply=step.reply.format(**fills),
        does=step.does,
        kill=step.kill,
        prevents=tuple(prevented(key) for key in step.prevents),
        keys=step.prevents,
        fitted=fitted,
        caution=step.caution,
    )


_TITLES = {row.key: row.title for row in LIMIT_STATES} | {each.key: each.title for each in UNSEEN}


def prevented(key: str) -> str:
    """What a line prevents, in the words of the ledger."""
    title = _TITLES[key]
    return f"{title[0].lower()}{title[1:]}"
