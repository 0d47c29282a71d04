"""The scale page: what was weighed, entered at the bench, and what that changed."""

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.bench.files import Request as Sheets
from goodflight.outputs.bench.files import make, papers_of
from goodflight.outputs.scale import ballast_text, text
from goodflight.outputs.scale.instruments import drawing_of, instrument_svg
from goodflight.outputs.scale.picture import state_svg
from goodflight.outputs.scale.stamp_text import answer_words
from goodflight.page import forms, room
from goodflight.page.navigation import Page
from goodflight.page.view import address, page, plan_of, units_of
from goodflight.project import Project, ProjectErrors, read_project, write_files
from goodflight.project.bench_files import WHOLE
from goodflight.project.parts import kind_of
from goodflight.project.parts.buttons import ButtonsTable
from goodflight.project.weighing_entry import FILE, with_instrument
from goodflight.quantity import QuantityError, parse
from goodflight.studies.bench.answers import answer
from goodflight.studies.bench.shapes import DoesNotFitError
from goodflight.studies.bench.stamps import stamp
from goodflight.studies.case.project_case import inputs_hash
from goodflight.studies.questions.ballast import USUAL_CAL, ballast, setting_of
from goodflight.studies.questions.measurable import measurable
from goodflight.studies.questions.scale import entered, weigh
from goodflight.studies.refusal import StudyRefused

PAPERS: Final = {
    "labels": "labels for the rocket", "templates": "templates", "book": "build book",
    "guides": "fin guide", "cutlist": "cut list", "packing": "packing",
    "tests": "ground tests",
}  # fmt: skip
FIELD_PAPERS: Final = {
    "evidence": "evidence for the inspector", "lists": "checklists",
    "cards": "flight, misfire, after, witness cards", "carry": "packing list",
}  # fmt: skip
KEYS: Final = (
    "motor", "mass", "balance", "swing.spacing", "swing.wires", "swing.period", "instrument",
    "date",
)  # fmt: skip
OF: Final = ("of", "error", "over", "hung", "height", "instrument", "date", "note")
READ: Final = "read"  # of a figure measured: its readings, a line each
ON: Final = "on:"  # before a part's name: it was on the scale


async def get(request: Request) -> Response:
    """What was weighed and what it changed, with a form for one more."""
    return await _show(request, 200, {}, ())


async def _show(
    request: Request, status: int, texts: dict[str, str], wrong: tuple[str, ...]
) -> Response:
    state = room.of(request)
    project, plan = state.store.sound(), plan_of(request, state.store)
    files = inputs_hash(project)
    more = await _worked_out(request, project, plan)
    status = 422 if more["words"] else status
    on = _ticked(project, plan, texts)
    pictures = await state.workers.in_thread(lambda: _pictures(request, project, on, texts))
    return page(
        request,
        state.store,
        "scale",
        "scale.html",
        status,
        **more,
        **pictures,
        wrong=wrong,
        hash=files,
        texts={} if "of" in texts else texts,
        on=ON,
        ticked=on,
        mine=texts if "of" in texts else {"of": request.query_params.get("of", "")},
        motors=sorted(project.motors),
        names=_on_a_scale(project),
        flown=_flown(project, plan),
        today=date.today().isoformat(),
        instruments=[each.name for each in project.weighings.instrument],
        told_next=text.worth_words,
        told_sheet=text.sheet_words,
        strips=text.STRIPS,
        papers=PAPERS,
        sizes=sizes_of(PAPERS),
        field_papers=FIELD_PAPERS,
        field_sizes=sizes_of(FIELD_PAPERS),
        sentence=text.sentence,
        told_ballast=ballast_text,
        setting=setting_of,
        usual=f"{USUAL_CAL:g} cal",
        instrument=lambda kind: Markup(instrument_svg(kind)),
        drawing=lambda name: Markup(drawing_of(name)),
    )


async def _worked_out(request: Request, project: Project, plan: str | None) -> dict[str, Any]:
    """What is worked out for the page; its words are a refusal."""
    state, files = room.of(request), inputs_hash(project)
    more: dict[str, Any] = {
        "study": None,
        "words": "",
        "asked": "",
        "unread": "",
        "ballast": None,
        "stamp": "",
        "stamp_told": "",
        "measurable": (),
    }
    try:
        more["study"] = await state.workers.in_thread(
            lambda: state.answers.of_project(
                files, "scale", plan, lambda: weigh(project, plan, state.answers.flights)
            )
        )
        more |= await state.workers.in_thread(lambda: _ballast(request, project, plan))
        more |= await state.workers.in_thread(lambda: _stamp(request, project))
        more["measurable"] = await state.workers.in_thread(
            lambda: state.answers.of_project(
                files, "measurable", plan, lambda: measurable(project, plan)
            )
        )
    except StudyRefused as refusal:  # what stands in the file contradicts itself
        more["words"] = str(refusal)
    return more


def _ballast(request: Request, project: Project, plan: str | None) -> dict[str, Any]:
    """Ballast for the margin that the address asks for, or why there is no answer."""
    asked = request.query_params.get("margin", "").strip()
    if not asked:
        return {}
    state, files = room.of(request), inputs_hash(project)
    try:
        margin = parse(asked, "calibre").value
        found = state.answers.of_project(
            files,
            "ballast",
            plan,
            lambda: ballast(project, plan, margin, state.answers.flights),
            margin=asked,
        )
    except (QuantityError, StudyRefused) as refusal:
        return {"asked": asked, "unread": str(refusal)}
    return {"asked": asked, "ballast": found}


def _stamp(request: Request, project: Project) -> dict[str, str]:
    """Whether a sheet still holds, from the stamp that the address asks about."""
    asked = request.query_params.get("stamp", "").strip()
    if not asked:
        return {}
    state = room.of(request)
    try:
        found = state.answers.of_project(
            inputs_hash(project), "stamp", None, lambda: stamp(project, None, asked), stamp=asked
        )
    except (StudyRefused, DoesNotFitError) as refusal:
        return {"stamp": asked, "stamp_told": str(refusal)}
    return {"stamp": asked, "stamp_told": answer_words(found)}


def sizes_of(sheets: Iterable[str]) -> tuple[str, ...]:
    """The papers that all of some sheets can be printed on."""
    first, *more = (papers_of(what) for what in sheets)
    return tuple(size for size in first if all(size in other for other in more))


async def paper(request: Request) -> Response:
    """One sheet as a PDF, made now, in the units of the page."""
    state, what = room.of(request), request.path_params["what"]
    if what not in PAPERS | FIELD_PAPERS:
        return room.refused(request, "There is no such sheet to print.", 404, "Not printed")
    size = request.query_params.get("paper", "a4")
    if size not in papers_of(what):
        words = f"There is no paper {size} for it; choose {', '.join(papers_of(what))}."
        return room.refused(request, words, 422, "Not printed")
    project, plan = state.store.sound(), plan_of(request, state.store)
    wanted = Sheets(paper=size, day=date.today().isoformat(), units=units_of(request))

    def made() -> bytes:
        return make(answer(project, what, plan=plan, units=wanted.units), wanted).content

    try:
        content = await state.workers.in_thread(made)
    except (StudyRefused, DoesNotFitError) as refusal:
        return room.refused(request, str(refusal), 422, "Not printed")
    head = {"content-disposition": f'inline; filename="{what}.pdf"'}
    return Response(content, media_type="application/pdf", headers=head)


def _pictures(
    request: Request, project: Project, on: set[str], texts: dict[str, str]
) -> dict[str, Any]:
    """The rocket with what is on the scale lit, lying and upright; none where it has no shape."""
    state = room.of(request)
    try:
        layout = state.answers.layout(plan_of(request, state.store), {})
    except (StudyRefused, ValueError):
        return {"lying": "", "upright": ""}
    guides = next((p.name for p in project.parts if isinstance(p, ButtonsTable)), "")
    motor = bool(texts.get("motor"))
    return {
        "lying": Markup(state_svg(layout, on, guides, motor)),
        "upright": Markup(state_svg(layout, on, guides, motor, upright=True)),
    }


async def enter(request: Request) -> Response:
    """Write one more weighing; one that contradicts the rest comes back with the reason."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.store)
    named = [key.removeprefix(ON) for key in form if key.startswith(ON)]

    def act(project: Project) -> Project:
        return write_files(project, _texts(project, plan, form, named))

    if not named:
        return await _show(request, 422, form, ("Tick what was on the scale.",))
    return await _entered(request, "weighing entered", form, act)


async def measure(request: Request) -> Response:
    """Write one more reading of a figure; one that contradicts comes back with the reason."""
    state, form = room.of(request), await forms.read(request)
    plan = plan_of(request, state.store)
    given: dict[str, str | list[str]] = {
        key: form[key].strip() for key in OF if form.get(key, "").strip()
    }
    read = [line.strip() for line in form.get(READ, "").splitlines() if line.strip()]
    if not read or "of" not in given:
        return await _show(request, 422, form, ("Choose what was measured, and what was read.",))
    given[READ] = read

    def act(project: Project) -> Project:
        return write_files(project, entered(project, plan, (), given))

    return await _entered(request, "reading entered", form, act)


async def _entered(
    request: Request, words: str, form: dict[str, str], act: Callable[[Project], Project]
) -> Response:
    """Keep what was entered, or show the form again with the reason."""
    state = room.of(request)
    try:
        state.store.change(words, form.get("hash", ""), act)
    except StudyRefused as refusal:
        return await _show(request, 422, form, (str(refusal),))
    except ProjectErrors as errors:
        return await _show(request, 422, form, tuple(f.sentence for f in errors.faults))
    return RedirectResponse(address("/scale", plan_of(request, state.store), {}), 303)


def _texts(
    project: Project, plan: str | None, form: dict[str, str], named: list[str]
) -> dict[str, str]:
    """The files with one more weighing, and with the instrument where it is a new one."""
    given = {key: form[key].strip() for key in KEYS if form.get(key, "").strip()}
    flown = set(_flown(project, None)) & set(_on_a_scale(project))  # "all" is of the first plan
    what, without = named, []
    if form.get("state") == "all":
        what = [WHOLE, *(name for name in named if name not in flown)]
        without = [name for name in _on_a_scale(project) if name in flown - set(named)]
    name, share = (form.get(key, "").strip() for key in ("new_instrument", "calibration"))
    if not name:
        return entered(project, plan, what, given, without)
    named_too = with_instrument(project.texts.get(FILE), name, share)
    known = read_project({**project.texts, FILE: named_too}, project.root)
    return entered(known, plan, what, {**given, "instrument": name}, without)


def _on_a_scale(project: Project) -> list[str]:
    """Parts that can lie on a scale: a bay is empty room."""
    return [part.name for part in project.parts if not kind_of(part).weightless]


def _flown(project: Project, plan: str | None) -> list[str]:
    return [item.name for item in project.rocket(plan=plan).parts]


def _ticked(project: Project, plan: str | None, texts: dict[str, str]) -> set[str]:
    """Parts on the scale: as the form says, else what the plan flies."""
    if texts and "of" not in texts:
        return {key.removeprefix(ON) for key in texts if key.startswith(ON)}
    return set(_flown(project, plan)) & set(_on_a_scale(project))


PAGE = Page("scale", "Scale", 25)
ROUTES = (
    Route("/scale", get),
    Route("/weigh", enter, methods=["POST"]),
    Route("/measure", measure, methods=["POST"]),
    Route("/paper/{what}.pdf", paper),
)
