"""What every page shares: templates, the reader's choices, the title block, addresses."""

import re
import secrets
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlencode

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from goodflight import __version__
from goodflight.outputs import words
from goodflight.outputs.drawing.alone import plain
from goodflight.outputs.figures import figure
from goodflight.outputs.ledger import (
    basis_words,
    failing_words,
    first_look,
    input_words,
    row_words,
    side_words,
    way_words,
)
from goodflight.outputs.ledger.course import course_svg
from goodflight.outputs.ledger.strip_svg import histogram_svg, strip_svg
from goodflight.outputs.ledger.text import best_remedy, in_flight_order
from goodflight.page.navigation import pages
from goodflight.page.open_project import OpenProject
from goodflight.page.unparted import UNITS as SYMBOLS
from goodflight.project import Project, shown_in
from goodflight.project.flight_files import example_of
from goodflight.project.head_forms import PLAIN, TABLES
from goodflight.project.outline_typed import WANTED
from goodflight.quantity import brief, expected, parse, show, show_spread
from goodflight.quantity.said import Convertible, Said, Words, told
from goodflight.studies.cautions import caution
from goodflight.studies.levers.whatif import KEYS
from goodflight.studies.results import Entry, Ledger, Row

HOME: Final = Path(__file__).parent
UNITS: Final = ("metric", "imperial")
MODES: Final = {"auto": "as the system", "light": "paper", "dark": "blueprint", "sun": "full sun"}


@pass_context
def _in_units(context: Context, value: object) -> object:
    """What a template writes: figured words in the reader's units."""
    return value.told(context.get("units", "metric")) if isinstance(value, Convertible) else value


ENVIRONMENT: Final = Environment(
    finalize=_in_units,
    loader=FileSystemLoader(HOME / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,
)


def units_of(request: Request) -> str:
    """The units this reader chose, else those of the project."""
    chosen = request.cookies.get("goodflight-units", "")
    if chosen in UNITS:
        return chosen
    store = request.app.state.room.store
    project = store.look()
    return project.head.units if project else shown_in.units_of(store.root)


def mode_of(request: Request) -> str:
    """The light this reader chose."""
    mode = request.cookies.get("goodflight-mode", "auto")
    return mode if mode in MODES else "auto"


def settings_of(request: Request) -> dict[str, str]:
    """The what-if settings that an address carries."""
    return {key: request.query_params[key] for key in KEYS if key in request.query_params}


def plan_of(request: Request, store: OpenProject) -> str | None:
    """The plan an address names, or None for the first one; a name that is gone is the first."""
    project, plan = store.look(), request.query_params.get("plan")
    names = [table.name for table in project.plan_tables] if project else []
    return plan if plan in names else (names[0] if names else None)


def address(path: str, plan: str | None, settings: Mapping[str, str], **more: str) -> str:
    """An address on this server that keeps the plan and what is being tried."""
    query = {**({"plan": plan} if plan else {}), **settings, **more}
    return f"{path}?{urlencode(query)}" if query else path


def box_of(path: str, plan: str | None) -> str:
    """Address of the form that holds a figure of the project; empty where no form does."""
    file, _, place = path.partition(":")
    part = re.match(r"part\[(.+?)\]\.", place)
    if file == "rocket.toml" and part:
        return address("/drawing", plan, {}, part=part[1]) + "#partform"
    if file == "weighings.toml":
        return address("/scale", plan, {})
    if file == "rocket.toml" and place.partition(".")[0] in (*TABLES, *PLAIN):
        return address("/drawing", plan, {}, head="1") + "#headform"
    return address("/drawing", plan, {}) + "#plan-box" if file == "plans.toml" else ""


def change_it(words: Words, plan: str | None) -> Markup:
    """A link to the box of what a doubt speaks of; nothing where no form holds it."""
    box = box_of(words.home, plan) if isinstance(words, Said) and words.home else ""
    return Markup(' <a href="{}">change it</a>').format(box) if box else Markup("")


def without(settings: Mapping[str, str], lever: str) -> dict[str, str]:
    """The settings with one lever back where the project has it."""
    return {key: value for key, value in settings.items() if key != lever}


def here_of(request: Request, page: str, plan: str | None) -> str:
    """The address of this page; an answer to a form has none of its own and gives its page's."""
    if request.method != "GET":
        return address(f"/{page or 'ledger'}", plan, {})
    return request.url.path + (f"?{request.url.query}" if request.url.query else "")


def like(entry: Entry, units: str) -> str:
    """What an entry looks like: as its file says, else as any of its dimension."""
    own = example_of(entry.file, entry.place)
    metric, _, imperial = expected(entry.dimension).partition(" like ")[2].partition(" or ")
    if units != "imperial" or not imperial:
        return own or metric
    if not own:
        return imperial
    figure, _, symbol = show(parse(own, entry.dimension).value, entry.dimension, units).partition(
        " "
    )
    return f"{float(f'{float(figure):.1g}'):g} {symbol}"


def worse(row: Row, old: Row | None) -> str:
    """The chance a row had before, when it reads differently now; empty otherwise."""
    if old is None:
        return ""
    now, before = (row_words.answer(r) for r in (row, old))
    return before if now != before else ""


def course(ledger: Ledger, narrow: bool = False) -> Markup:
    """The flight in one line, the rows listed as worst numbered."""
    numbers = first_look.first_look(ledger).numbers
    return Markup(course_svg(in_flight_order(ledger), numbers, narrow))


def shared(project: Project | None, plan: str | None, units: str) -> dict[str, Any]:
    """The names that every template may use, of a page or of a file to send."""
    return {
        "version": __version__,
        "project": project,
        "plan": plan,
        "units": units,
        "address": address,
        "box_of": box_of,
        "read_only": False,
        "say": words,
        "told": row_words,
        "figure": lambda value, kind: figure(value, kind, units),
        "brief": brief,
        "words_of": lambda words: told(words, units),
        "change_it": lambda words: change_it(words, plan),
        "caution": caution,
        "show": lambda value, kind: show(value, kind, units),
        "spread": lambda value, sigma, kind: show_spread(value, sigma, kind, units),
        "strip": lambda row: Markup(strip_svg(row, units)),
        "histogram": lambda row: Markup(histogram_svg(row, units)),
        "best": best_remedy,
        "look": first_look,
        "ways": way_words,
        "sides": side_words,
        "fail": failing_words,
        "basis": basis_words,
        "entered": input_words,
        "like": lambda entry: like(entry, units),
        "corners": WANTED,
        "without": without,
        "course": course,
        "worse": worse,
        "symbols": SYMBOLS,
        "svg": lambda text: Markup(plain(text)),
    }


def common(request: Request, store: OpenProject, page: str) -> dict[str, Any]:
    """The names that every template of a page may use."""
    project = store.look()
    plan = plan_of(request, store)
    return {
        **shared(project, plan, units_of(request)),
        "page": page,
        "pages": [(each.key, each.title) for each in pages()],
        "folder": store.root.name,
        "plans": [table.name for table in project.plan_tables] if project else [],
        "settings": settings_of(request),
        "mode": mode_of(request),
        "modes": MODES,
        "hash": store.hash,
        "tab": secrets.token_urlsafe(9),
        "undoable": store.done[-1].words if store.done else "",
        "redoable": store.undone[-1].words if store.undone else "",
        "here": here_of(request, page, plan),
    }


def piece(name: str, context: Mapping[str, Any]) -> str:
    """Part of a page as HTML."""
    return ENVIRONMENT.get_template(name).render(context)


def page(
    request: Request, store: OpenProject, page: str, name: str, status: int = 200, **more: Any
) -> HTMLResponse:
    """A whole page."""
    return HTMLResponse(piece(name, {**common(request, store, page), **more}), status)
