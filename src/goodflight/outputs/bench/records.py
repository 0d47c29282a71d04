"""What the workbench answers, as data: the order of assembly, a checked order, what is printed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Final

from goodflight.outputs.bench.mesh import Mesh, mesh_of
from goodflight.outputs.bench.order_text import care
from goodflight.outputs.ledger.json_ import MORE
from goodflight.outputs.record import More, Mores, record
from goodflight.quantity import parse
from goodflight.quantity.said import Words
from goodflight.quantity.said import placed as with_place
from goodflight.studies.bench.answers import Book
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.gluing import Glued
from goodflight.studies.bench.guide_print import PrintedGuide
from goodflight.studies.bench.nesting import CutSheet
from goodflight.studies.bench.order import Order, Placed, Refusal
from goodflight.studies.bench.shapes import Template, TemplateSet
from goodflight.studies.cautions import CAUTIONS
from goodflight.studies.results import Entry

SKETCH: Final = "guide-assembly"  # not to size: on paper only


@dataclass(frozen=True)
class WayIn:
    """A place that a step works at."""

    place: Annotated[str, "where it works"]
    ways_in: Annotated[tuple[str, ...], "of which any one must still be open"]


@dataclass(frozen=True)
class OrderStep:
    """A step at its place, with its glue and what was ticked."""

    number: Annotated[int, "its place, from 1"]
    key: Annotated[str, "name of the step, for --tick and --check"]
    title: Annotated[str, "what is done"]
    reaches: Annotated[tuple[WayIn, ...], "places it works at"]
    closes: Annotated[tuple[str, ...], "ways in that it closes for good"]
    after: Annotated[tuple[str, ...], "keys of the steps it builds on"]
    takes_s: Annotated[float, "hands-on time at the bench [s]"]
    takes_sigma_s: Annotated[float, "one standard deviation of it [s]"]
    takes_known: Annotated[str, "guess, label, measured or flight"]
    takes_because: Annotated[str, "what it stands on"]
    places_s: Annotated[float, "from mixing the glue until the last piece sits [s]; 0 = one piece"]
    place_needs: Annotated[
        tuple[str, ...], "what the place must stand: dust, fumes (fresh air), outdoors (paint)"
    ]
    waits_for: Annotated[
        str, "handling or cured: what the glue of the steps it builds on must have reached"
    ]
    glue: Annotated[str, "glue or paint it leaves to set; empty = none"]
    glue_because: Annotated[str, "why this glue"]
    place: Annotated[str, "workplace where it is left; empty = none entered"]
    temperature_k: Annotated[
        float | None, "of that place [K]; null = not entered, the sheet's temperature is taken"
    ]
    working_s: Annotated[
        float | None, "time to work before the glue sets, there [s]; null = not known"
    ]
    handling_s: Annotated[
        float | None, "time until it may be handled, there [s]; null = not known, or it never is"
    ]
    cure_s: Annotated[float | None, "time to cure, there [s]; null = not known, or it never does"]
    too_cold: Annotated[bool, "true: nothing cures at that temperature"]
    tools: Annotated[tuple[str, ...], "what is needed"]
    how: Annotated[str, "how it is done"]
    check: Annotated[str, "what to check after it"]
    warning: Annotated[str, "what is wrong with it; empty = nothing"]
    cautions: Annotated[
        tuple[str, ...], "titles of its cautions; their words stand in `care` of the order"
    ]
    why: Annotated[tuple[str, ...], "why it is at this place"]
    no_return: Annotated[bool, "true: it shuts something off for good"]
    shuts_off: Annotated[tuple[str, ...], "places that cannot be reached any more"]
    done: Annotated[bool, "true: ticked in build.toml"]
    mass: Annotated[str, "weight at this state as entered; empty = not weighed"]
    mass_kg: Annotated[float | None, "the same [kg]; null = not weighed"]
    photo: Annotated[str, "file name of its photo; empty = none"]


@dataclass(frozen=True)
class OwnStep:
    """A step of the builder's own."""

    name: Annotated[str, "as it stands in build.toml"]
    done: Annotated[bool, "true: ticked there"]
    note: Annotated[str, "what was noted of it"]


@dataclass(frozen=True)
class OrderFault:
    """Why an order cannot be built."""

    step: Annotated[str, "key of the step at fault"]
    number: Annotated[int, "its place in the order given, from 1; 0 = not in it"]
    reason: Annotated[str, "why it cannot be there"]
    locks_out: Annotated[str, "key of the later step that could not be done; empty = none"]


@dataclass(frozen=True)
class OrderChecked:
    """A hand-made order, checked."""

    can_be_built: Annotated[bool, "true: no step is locked out"]
    refusals: Annotated[tuple[OrderFault, ...], "what is wrong with it"]


@dataclass(frozen=True)
class Saved:
    """A file that was printed."""

    file: Annotated[str, "where it was saved"]
    what: Annotated[str, "what was asked for; the fields of each follow"]
    stamp: Annotated[str, "mark of the figures it shows; see `stamp`"]


def _steps(order: Order) -> tuple[OrderStep, ...]:
    return tuple(_step(placed, order) for placed in order.steps)


def _step(placed: Placed, order: Order) -> OrderStep:
    step, ticked = placed.step, order.done.get(placed.step.key)
    glued: Glued | None = step.glued
    return OrderStep(
        number=placed.number,
        key=step.key,
        title=step.title,
        reaches=tuple(WayIn(each.place, each.doors) for each in step.reaches),
        closes=step.closes,
        after=step.after,
        takes_s=step.takes_s,
        takes_sigma_s=step.takes_sigma_s,
        takes_known=step.takes_known,
        takes_because=step.takes_because,
        places_s=step.places_s,
        place_needs=step.place_needs,
        waits_for=step.waits_for,
        glue=glued.sheet.name if glued else "",
        glue_because=glued.because if glued else "",
        place=glued.place if glued else "",
        temperature_k=glued.temperature_k if glued else None,
        working_s=glued.working_s if glued else None,
        handling_s=glued.handling_s if glued else None,
        cure_s=glued.cure_s if glued else None,
        too_cold=bool(glued and glued.cold),
        tools=step.tools,
        how=str(step.how),
        check=str(step.check),
        warning=with_place(step.warning),
        cautions=tuple(CAUTIONS[key].title for key in step.cautions),
        why=placed.reasons,
        no_return=placed.no_return,
        shuts_off=placed.shut_off,
        done=bool(ticked and ticked.done),
        mass=ticked.mass if ticked else "",
        mass_kg=parse(ticked.mass, "mass").value if ticked and ticked.mass else None,
        photo=ticked.photo if ticked else "",
    )


def _ticked(order: Order) -> int:
    return sum(bool((d := order.done.get(placed.step.key)) and d.done) for placed in order.steps)


def _own(order: Order) -> tuple[OwnStep, ...]:
    return tuple(OwnStep(each.key, each.done, each.note) for each in order.own)


def notes_of(of: TemplateSet) -> tuple[Words, ...]:
    """Those of the set, then those of its sketch, which files to cut leave out."""
    return (*of.notes, *(note for t in of.templates if t.key == SKETCH for note in t.notes))


def mesh_of_guide(guide: PrintedGuide) -> Mesh:
    """The surface of a printed guide."""
    return mesh_of("fin guide", guide.prisms)


def size_m(mesh: Mesh) -> tuple[float, ...]:
    """Length, width, height."""
    size = mesh.vertices_mm.max(axis=0) - mesh.vertices_mm.min(axis=0)
    return tuple(float(each) / 1e3 for each in size)


ORDER: Final[Mores] = {
    Order: {
        "steps": More("every step in its order", _steps, OrderStep),
        "done": More("how many of them are done", _ticked),
        "own": More("steps of the builder's own in build.toml", _own, OwnStep),
        "care": More("every caution of the steps in full, once", care),
    }
}
PRINTED: Final[Mores] = {
    Entry: MORE[Entry],
    TemplateSet: {
        **dict.fromkeys(("subject", "invented", "kerf_m")),
        "notes": More("cautions about them", notes_of),
    },
    Template: {
        **dict.fromkeys(("shapes", "grain", "flat", "dims", "sizes")),
        "sizes_m": More("named lengths of the drawing [m]", lambda of: dict(of.sizes)),
    },
    CutList: dict.fromkeys(("invented", "money")),
    CutSheet: {
        **dict.fromkeys(("stock", "laid")),
        "used": More("share of its area that becomes parts, 0 to 1", lambda sheet: sheet.used),
        "pieces": More(
            "keys of the drawings on it",
            lambda sheet: tuple(laid.template.key for laid in sheet.laid),
        ),
    },
    Book: {
        **dict.fromkeys(
            ("layout", "parts", "cuts", "order", "packing", "templates", "guides", "invented")
        ),
        **dict.fromkeys(("notes", "cut_error_m", "workshop", "wiring")),
        "steps": More("how many steps it has", lambda book: len(book.order.steps)),
    },
    PrintedGuide: {
        **dict.fromkeys(("prisms", "slot_width_m", "held_m", "reach_m", "clearance_m", "rear_m")),
        "size_m": More("length, width, height [m]", lambda guide: size_m(mesh_of_guide(guide))),
        "triangles": More("of its surface", lambda guide: len(mesh_of_guide(guide).triangles)),
        "fin_bound_rad": More(
            "most that a fin can lean by the guide's clearance [rad]",
            lambda guide: guide.fin_bound_rad,
        ),
    },
}


def order_record(order: Order) -> dict[str, Any]:
    """The order as plain data, SI."""
    return record(order, ORDER)


def refusal_record(refusals: Sequence[Refusal]) -> dict[str, Any]:
    """A checked hand-made order as plain data."""
    found = tuple(OrderFault(r.key, r.number, r.reason, r.locked_out) for r in refusals)
    return record(OrderChecked(not refusals, found))
