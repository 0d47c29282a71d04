"""What was tried, or offered as a remedy, written into the files."""

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.page import forms, room
from goodflight.page.open_project import ChangedElsewhereError
from goodflight.page.view import address, plan_of, settings_of
from goodflight.project.part_forms import keep
from goodflight.project.todo import Item, tick_todos
from goodflight.studies.levers.whatif import Tried
from goodflight.studies.results import Ledger, Remedy

WHOLE_WAY = "way"  # all steps of the way, kept together


async def keep_trial(request: Request) -> Response:
    """Write what is tried into the project."""
    state, form = room.of(request), await forms.read(request)
    drawn = form.get("hash", "")
    trial = await tried(request, drawn)
    names = ", ".join(str(each) for each in trial.words)
    to_do = to_do_of(trial)
    state.store.change(
        f"what-if kept: {names}", drawn, lambda p: keep(p, trial.writes, to_do), trial.writes
    )
    plan = plan_of(request, state.store)
    return RedirectResponse(address(f"/{forms.page_of(form)}", plan, {}), 303)


async def tried(request: Request, drawn: str) -> Tried:
    """What the address tries on the files as they are; when that is gone, what changed it."""
    state = room.of(request)
    plan, settings = plan_of(request, state.store), settings_of(request)
    try:
        return await state.workers.in_thread(lambda: state.answers.tried(plan, settings))
    except ValueError:
        if state.store.look() is None or drawn == state.store.hash:
            raise
        changes = state.store.differing(drawn)
        raise ChangedElsewhereError("what-if kept", changes, again=False) from None


async def keep_remedy(request: Request) -> Response:
    """Write one remedy of the ledger into the project."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.store)
    ledger = await state.workers.in_thread(lambda: state.answers.full(plan, {}))
    wanted = form.get("remedy", "")
    found = kept_of(ledger, wanted)
    drawn = form.get("hash", "")
    if found is None and drawn != state.store.hash:
        changes = state.store.differing(drawn)
        raise ChangedElsewhereError("remedy kept", changes, again=False)
    if found is None:
        return room.refused(request, "This remedy is no longer in the ledger; look at it again.")
    words, change, to_do = found
    state.store.change(words, drawn, lambda p: keep(p, change, to_do), change)
    return RedirectResponse(address("/ledger", plan, {}), 303)


def to_do_of(trial: Tried) -> list[Item]:
    """What keeping a what-if leaves to be bought or done; the weather is not for the builder."""
    return [
        (str(each.chosen.title), each.chosen.cost or each.lever.cost)
        for each in trial.controls
        if each.changed and any(".day." not in path for path, _ in each.chosen.writes)
    ]


Kept = tuple[str, tuple[tuple[str, str], ...], list[Item]]


def kept_of(ledger: Ledger, wanted: str) -> Kept | None:
    """What keeping a remedy, a step of the way, or all of it would write; None: not there."""
    steps = ledger.way.steps if ledger.way else ()
    if wanted == WHOLE_WAY and ledger.way and ledger.way.change:
        titles = "; ".join(str(step.remedy.title) for step in steps)
        return titles, ledger.way.change, [_item(step.remedy) for step in steps]
    remedies = (*(step.remedy for step in steps), *(r for row in ledger.rows for r in row.remedies))
    remedy = next((each for each in remedies if each.key == wanted), None)
    return None if remedy is None else (str(remedy.title), remedy.change, [_item(remedy)])


def _item(remedy: Remedy) -> Item:
    return str(remedy.title), remedy.cost


async def tick(request: Request) -> Response:
    """Tick something of the list of what was kept, or take its tick back."""
    store, form = room.of(request).store, await forms.read(request)
    number, done = form.get("number", ""), form.get("done") != "no"
    if not number.isdigit():
        raise ValueError(f"there is no item {number[:20]!r} in the list; look at it again")
    store.change(
        f"{'done' if done else 'not done'}: item {number}",
        form.get("hash", ""),
        lambda p: tick_todos(p, {int(number): done}),
    )
    plan, settings = plan_of(request, store), settings_of(request)
    return RedirectResponse(address("/ledger", plan, settings) + "#to-do", 303)


ROUTES = (
    Route("/keep", keep_trial, methods=["POST"]),
    Route("/remedy", keep_remedy, methods=["POST"]),
    Route("/todo", tick, methods=["POST"]),
)
