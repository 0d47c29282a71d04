"""What a row asks for, answered where it stands: boxes of one row sent together."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import forms, room
from goodflight.page.ledger_page import show
from goodflight.page.view import address, plan_of, settings_of
from goodflight.project import Fault, ProjectErrors
from goodflight.project.answering import Typed, home_of
from goodflight.studies.questions.answered import answered
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Entry

BOX: Final = "a:"  # before the home of an entry, as the name of its box


@dataclass(frozen=True)
class Answered:
    """The boxes of one row as they were sent, and what is wrong with them.

    texts : by home; wrong : faults by home; elsewhere : faults of no box; words : of all.
    """

    row: str
    texts: dict[str, str]
    wrong: dict[str, Fault] = field(default_factory=dict)
    elsewhere: tuple[Fault, ...] = ()
    words: str = ""


def home(entry: Entry) -> str:
    """Where an entry is written, as its box is named."""
    return f"{entry.file}:{entry.place}"


def _table(entry: Entry) -> str:
    """The new table an entry stands in; empty when it stands in one that is there."""
    found = re.match(r"(.*?\[\+\d*\])", home(entry))
    return found[1] if found else ""


def typed_in(
    form: Mapping[str, list[str]], asks: tuple[Entry, ...]
) -> dict[str, str | tuple[str, ...]]:
    """What was typed, by home; of a new table nothing when only what stood there was sent."""
    found: dict[str, str | tuple[str, ...]] = {}
    new = set[str]()
    for each in asks:
        sent = form.get(BOX + home(each), [])
        if sent:
            found[home(each)] = tuple(sent) if each.kind == "names" else sent[0]
            if sent != [each.value]:
                new.add(_table(each))
    return {
        home(each): found[home(each)]
        for each in asks
        if home(each) in found and _table(each) in new
    }


async def save(request: Request) -> Response:
    """Write what was typed into the boxes of one row; a fault comes back at its box."""
    state, form = room.of(request), await forms.every(request)
    keys, plan = form.get("row", [""]), plan_of(request, state.store)
    settings = settings_of(request)
    ledger, _ = await state.workers.in_thread(lambda: state.answers.best_known(plan, settings))
    rows = [each for each in ledger.rows if each.key in keys and each.asks]
    if not rows:
        return room.refused(request, "This row asks for nothing any more; look at it again.")
    asks = tuple({ask.key: ask for row in rows for ask in row.asks}.values())
    key, typed = rows[0].key, typed_in(form, asks)
    if not typed:
        return await show(request, 422, Answered(key, {}, words="Nothing was entered."))
    words = f"entered: {', '.join(each.label for each in asks if home(each) in typed)}"
    try:
        state.store.change(
            words[:200], form.get("hash", [""])[0], lambda p: answered(p, plan, asks, typed)
        )
    except ProjectErrors as errors:
        return await show(request, 422, _refused(key, asks, typed, errors.faults))
    except StudyRefused as refusal:
        told = replace(_refused(key, asks, typed, ()), words=f"Nothing was written. {refusal}")
        return await show(request, 422, told)
    return RedirectResponse(address("/ledger", plan, settings) + f"#row-{key}", 303)


def _refused(
    key: str, asks: tuple[Entry, ...], typed: Typed, faults: tuple[Fault, ...]
) -> Answered:
    wrong, elsewhere = dict[str, Fault](), list[Fault]()
    for fault in faults:
        at = home_of(fault, tuple(home(each) for each in asks))
        if at is None:
            elsewhere.append(fault)
        else:
            wrong.setdefault(at, fault)
    texts = {at: text if isinstance(text, str) else "\n".join(text) for at, text in typed.items()}
    return Answered(key, texts, wrong, tuple(elsewhere), "Nothing was written.")


ROUTES = (Route("/answer", save, methods=["POST"]),)
