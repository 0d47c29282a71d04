"""Labels for the finished rocket, 1:1: its name, CG and CP at their stations, where to arm.

The figures are those of the rocket as weighed, and the labels say of which day. The station line
of a CG or CP label goes round the body at the distance it names.
"""

from collections.abc import Sequence
from typing import Final

from goodflight.constants import INCH_M
from goodflight.physics.vehicle import combine
from goodflight.physics.vehicle import parts as p
from goodflight.project import Project
from goodflight.project.bench_files import WeighingTable
from goodflight.quantity.said import Said, either
from goodflight.quantity.units import OUNCE_KG
from goodflight.studies.bench.places import of_kind
from goodflight.studies.bench.shapes import Line, Shape, Template, TemplateSet, Words, rectangle
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.layout import Layout, Mark, balance, layout_of

Row = tuple[str | Said, float]  # words and how high their letters are
MM: Final = 1e-3
BIG, SMALL = 4.2 * MM, 2.1 * MM  # heights of letters
HIGH: Final = 18.0 * MM
EDGE: Final = 2.5 * MM
LINE_AT: Final = 7.0 * MM  # the station line, from the label's left edge
LETTER: Final = 0.72  # width of a letter at most, of its height
ARM: Final = (
    "last of all, upright on the rail, nobody in line",
    "after landing: disarm first, before anything is touched",
)


def label_set(project: Project, plan: str | None = None, case: Case | None = None) -> TemplateSet:
    """The labels of a project.

    Parameters
    ----------
    project : Project - as loaded. [-]
    plan : str or None - with whose motor it is ready to fly; None takes the first. [-]
    case : Case or None - the planned flight where it is resolved already. [SI]

    Returns
    -------
    labels : TemplateSet - name, CG ready to fly and without motor, CP, arm here. [m]

    Raises
    ------
    NoSuchPlan; StudyRefused - the rocket cannot be flown.
    """
    case = case_of(project, plan) if case is None else case
    laid, when = layout_of(case), weighed_words(project)
    bare = combine(case.items)
    empty = balance(case.items, case.uncertainty.joint)
    name = (
        either(
            f"{laid.length_m / MM:.0f} mm long, {1e3 * bare.mass_kg:.0f} g without motor",
            f"{laid.length_m / INCH_M:.1f} in long, {bare.mass_kg / OUNCE_KG:.1f} oz without motor",
        ),
        when,
        "name, phone:",
    )
    found = [
        _name(laid.rocket, name),
        *_both(
            "cg", f"CG with {laid.motor}", laid.cg_liftoff, f"ready to fly with {laid.motor}", when
        ),
        *_both("cg-empty", "CG without motor", empty, "without motor, packed to fly", when),
        *_both("cp", "CP", laid.cp, "slow flight, small angle", "worked out from its shape"),
    ]
    armed = any(bay.electronics for bay in of_kind(project.rocket(plan=plan), p.Bay))
    found += [_arm()] if armed else []
    return TemplateSet(
        project.name,
        "labels",
        tuple(found),
        project.invented,
        _notes(laid, bool(_weighed(project))),
    )


def _weighed(project: Project) -> list[WeighingTable]:
    """Weighings of the whole rocket."""
    return [row for row in project.weighings.weighing if row.whole]


def weighed_words(project: Project) -> str:
    """Of which day the figures are."""
    whole = _weighed(project)
    if not whole:
        return "from the design, not weighed"
    days = [row.date for row in whole if row.date]
    return f"as weighed {max(days)}" if days else "as weighed, day not noted"


def _notes(laid: Layout, weighed: bool) -> tuple[str, ...]:
    reach = (
        f"Stick the CG and CP labels so that their long line stands at the station they name, "
        f"measured from the nose tip; plan {laid.plan}, motor {laid.motor}."
    )
    if not weighed:
        return (reach, "These figures were not weighed. Weigh and balance the rocket, print again.")
    return (reach, "Weighed again, or ballast added: print again and stick the new ones over.")


def _both(key: str, title: str, mark: Mark, state: str, when: str) -> tuple[Template, Template]:
    """The same label twice, for both sides of the body."""
    kind, from_m, sigma_m = key[:2].upper(), mark.station_m, max(mark.sigma_m, 1.0 * MM)
    off, of = "from the nose tip, ±", f", {state}"
    rows = (
        (either(f"{kind}  {from_m / MM:.0f} mm", f"{kind}  {from_m / INCH_M:.2f} in"), BIG),
        (either(f"{off} {sigma_m / MM:.0f} mm{of}", f"{off} {sigma_m / INCH_M:.2f} in{of}"), SMALL),
        (when, SMALL),
    )
    shapes = _station_label(key[:2], rows)
    return (
        Template(key, title, shapes, flat=False),
        Template(f"{key}-again", f"{title}, other side", shapes, flat=False),
    )


def _width(rows: Sequence[Row], left: float) -> float:
    """Room for the longer of the two systems' words, so that a label is one size in both."""
    longest = max(
        LETTER * height * len(words if isinstance(words, str) else words.told(units))
        for words, height in rows
        for units in ("metric", "imperial")
    )
    return left + longest + EDGE


def _beside(left: float, rows: Sequence[Row]) -> tuple[float, list[Words]]:
    """Three rows of words beside a sign that ends at `left`, and how wide that makes the label."""
    width = _width(rows, left)
    middle = (left + width - EDGE) / 2
    levels = (HIGH - 5.6 * MM, HIGH - 11.2 * MM, HIGH - 15.2 * MM)
    return width, [
        Words(text, (middle, y), height) for (text, height), y in zip(rows, levels, strict=True)
    ]


def _station_label(kind: str, rows: Sequence[Row]) -> tuple[Shape, ...]:
    """A label with its station line: a plumb bob for the CG, a vane for the CP."""
    width, words = _beside(2 * LINE_AT, rows)
    x, y = LINE_AT, HIGH / 2
    line = Line(((x, 0.0), (x, HIGH)), "mark")
    half = 2.4 * MM
    if kind == "cg":
        sign = [
            Line(((x - half, y + half), (x + half, y + half), (x, y - 1.6 * half)), "mark", True)
        ]
    else:
        sign = [
            Line(((x, y + half), (x + 2 * half, y), (x, y - half)), "mark", True),
            Line(((x - 2 * half, y), (x, y)), "mark"),
        ]
    return (rectangle(0.0, 0.0, width, HIGH, "cut"), line, *sign, *words)


def _name(rocket: str, small: Sequence[str | Said]) -> Template:
    """The rocket's name, what it is, and room for the owner's."""
    rows = [(rocket, 2 * BIG), *((words, SMALL) for words in small)]
    width = max(_width(rows, EDGE), 90.0 * MM)
    high, middle = 32.0 * MM, width / 2
    words = [
        Words(rocket, (middle, high - 9.0 * MM), 2 * BIG),
        Words(small[0], (middle, high - 17.5 * MM), SMALL),
        Words(small[1], (middle, high - 21.5 * MM), SMALL),
        Words(small[2], (EDGE + 8.0 * MM, 4.0 * MM), SMALL),
    ]
    rule = Line(((EDGE + 18.0 * MM, 3.0 * MM), (width - EDGE, 3.0 * MM)), "mark")
    shapes: tuple[Shape, ...] = (rectangle(0.0, 0.0, width, high, "cut"), rule, *words)
    return Template("name", "name", shapes, flat=False)


def _arm() -> Template:
    """Where the switch is: the arrow's tip at the hole, how and when beside it."""
    rows = (("ARM HERE", BIG), *((words, SMALL) for words in ARM))
    width, words = _beside(16.0 * MM, rows)
    y = HIGH / 2
    points = (
        (0.8, 0.0),
        (6.0, 4.5),
        (6.0, 1.8),
        (14.0, 1.8),
        (14.0, -1.8),
        (6.0, -1.8),
        (6.0, -4.5),
    )
    arrow = Line(tuple((a * MM, y + b * MM) for a, b in points), "mark", True)
    shapes: tuple[Shape, ...] = (rectangle(0.0, 0.0, width, HIGH, "cut"), arrow, *words)
    return Template("arm", "arm here", shapes, flat=False, notes=("Arrow's tip at the switch.",))
