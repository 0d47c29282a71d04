"""What was tried, or offered as a remedy, written into the files."""

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from goodflight.page import forms, room
from goodflight.page.desk import ChangedElsewhereError
from goodflight.page.view import address, plan_of, settings_of
from goodflight.project.part_forms import keep
from goodflight.studies.levers.whatif import Tried


async def keep_trial(request: Request) -> Response:
    """Write what is tried into the project."""
    state, form = room.of(request), await forms.read(request)
    drawn = form.get("hash", "")
    trial = await tried(request, drawn)
    names = ", ".join(str(each) for each in trial.words)
    state.desk.change(
        f"what-if kept: {names}", drawn, lambda p: keep(p, trial.writes), trial.writes
    )
    plan = plan_of(request, state.desk)
    return RedirectResponse(address(f"/{forms.page_of(form)}", plan, {}), 303)


async def tried(request: Request, drawn: str) -> Tried:
    """What the address tries on the files as they are; when that is gone, what changed it."""
    state = room.of(request)
    plan, settings = plan_of(request, state.desk), settings_of(request)
    try:
        return await state.bench.away(lambda: state.answers.tried(plan, settings))
    except ValueError:
        if state.desk.look() is None or drawn == state.desk.hash:
            raise
        changes = state.desk.differing(drawn)
        raise ChangedElsewhereError("what-if kept", changes, again=False) from None


async def keep_remedy(request: Request) -> Response:
    """Write one remedy of the ledger into the project."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.desk)
    ledger = await state.bench.away(lambda: state.answers.full(plan, {}))
    wanted = form.get("remedy", "")
    steps = (ledger.cheapest.remedy,) if ledger.cheapest else ()
    remedies = [*steps, *(r for row in ledger.rows for r in row.remedies)]
    remedy = next((each for each in remedies if each.key == wanted), None)
    drawn = form.get("hash", "")
    if remedy is None and drawn != state.desk.hash:
        changes = state.desk.differing(drawn)
        raise ChangedElsewhereError("remedy kept", changes, again=False)
    if remedy is None:
        return room.refused(request, "This remedy is no longer in the ledger; look at it again.")
    change = remedy.change
    state.desk.change(str(remedy.title), drawn, lambda p: keep(p, change), change)
    return RedirectResponse(address("/ledger", plan, {}), 303)
