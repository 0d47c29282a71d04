"""What a newcomer may know already: questions that may stay empty, and what their answers write.

An empty answer leaves its rows unknown; nothing is assumed for it. Tests of strength, the place,
its code and the day are asked so. Answers are written as those of the ledger's boxes are.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final, get_args

from goodflight.physics.vehicle.parts import FinEdges
from goodflight.project.answering import Typed, answered_texts, home_of
from goodflight.project.codes import CONFIRM_KEYS, packaged_codes
from goodflight.project.faults import ProjectErrors
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.outline_typed import WANTED, corners_of
from goodflight.project.part_apart import HeavierThanWholeError, taken_out
from goodflight.project.rails import RailKind
from goodflight.project.reading import read_project
from goodflight.quantity import QuantityError, Units, parse

FIELD, PLAN = "sites/field.toml:", "plans.toml:plan[first flight]."
MOTOR = "motors/*.toml:"  # of the motor that is flown
ROCKET, BUILD = "rocket.toml:", "build.toml:"


@dataclass(frozen=True)
class Known:
    """One question that may stay empty. `choices` : what may be written, and in words.

    homes : where the answer is written, see `answering`. instead : a word that is taken in place of
    a figure, and what it writes.
    """

    id: str
    prompt: str
    dimension: str
    why: str
    homes: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    instead: tuple[str, str, str] | None = None
    default: str = ""
    imperial: str = ""  # the default of a project in inches, where it is another

    def usual(self, units: Units) -> str:
        """What is taken until another answer is given."""
        return (units == "imperial" and self.imperial) or self.default


NOSE_MASS: Final = "nose_mass"
_RAILS: Final = tuple((each, each) for each in get_args(RailKind))
KNOWN: Final = (
    Known("code", "Safety code of the field", "choice", "ask whoever runs the launch",
          (FIELD + "code",),
          choices=tuple((key, each.title) for key, each in packaged_codes().items())),
    Known("edges", "Edges of the field, from the pad", "outline",
          "west 140 m, east 500 m, south 110 m, north 450 m; or corners",
          (FIELD + "outline[field]",)),
    Known("avoid", "Nothing there that must not be hit", "choice",
          "no crop, ditch, road or buildings; else leave it empty and map them",
          (FIELD + "nothing_to_avoid",), choices=(("true", "nothing of the kind"),)),
    Known("ceiling", "Ceiling agreed, above the ground", "length", "of the permission",
          (FIELD + "ceiling",)),
    Known("people", "Pad to people and property with no part in it", "length", "from a map",
          (FIELD + "people",)),
    Known("spectators", "Pad to the flight line", "length", "where everybody stands",
          (FIELD + "spectators",)),
    Known("airport", "Pad to the nearest airport", "length", "from a map", (FIELD + "airport",)),
    Known("rules", "Rules of the code that are met", "rules", ", ".join(CONFIRM_KEYS), ()),
    Known("cloud_base", "Cloud base you count on", "length", "above the pad",
          (PLAN + "day.cloud_base",)),
    Known("cloud_cover", "Cloud cover you count on", "ratio", "share of the sky, from 0 to 1",
          (PLAN + "day.cloud_cover",)),
    Known("motor_charge", "Powder of the motor's ejection charge", "mass", "on the maker's sheet",
          (MOTOR + "charge",)),
    Known("motor_lifts", "Heaviest rocket for the motor", "mass", "on the maker's sheet",
          (MOTOR + "max_liftoff_mass",)),
    Known("pull", "Pull that separates it", "force", "luggage scale, mean of three",
          (ROCKET + "separation.pull",)),
    Known("anchors", "Pull each anchor of the cord stands", "force", "weights on a copy",
          (ROCKET + "separation.fore_anchor", ROCKET + "separation.aft_anchor")),
    Known("bulkhead", "Push the bulkhead ahead of the bay stands", "force", "scales and a copy",
          (ROCKET + "separation.bulkhead",)),
    Known("nose_joint", "Pull the nose's joint holds", "force", "bucket of water",
          (ROCKET + "separation.fixed_joint",)),
    Known(NOSE_MASS, "What the nose weighs alone", "mass",
          "on a scale, with all that is fixed in it; it comes out of the whole"),
    Known("retention", "What keeps the motor in", "choice", "at its tail",
          (ROCKET + "retention.kind",),
          choices=(("cap", "a cap or ring, screwed on"), ("clips", "clips"),
                   ("friction", "tape, friction"))),
    Known("retention_holds", "Push the motor's retention stands", "force", "the maker's, or a test",
          (ROCKET + "retention.holds",)),
    Known("shield", "Heat blanket of the canopy", "area", "0.09 m2 is 0.3 m square; or: wadding",
          (ROCKET + "charge.blanket",), instead=("wadding", ROCKET + "charge.wadding", "true")),
    Known("line_strength", "Strength of one of the canopy's lines", "force", "on the reel",
          (ROCKET + "part[canopy].line_strength",)),
    Known("cord_width", "Width of the cord", "length", "where it touches the tube's edge",
          (ROCKET + "part[cord].width",)),
    Known("fin_edges", "Edges of the fins", "choice", "look at them: they set much of the drag",
          (ROCKET + "part[fins].edges",),
          choices=tuple((each, each) for each in get_args(FinEdges))),
    Known("guide_strength", "Pull a rail guide stands", "force", "weights on a scrap of the tube",
          (ROCKET + "part[rail guides].strength",)),
    Known("rail_kind", "Kind of the field's rails", "choice", "ask who brings them",
          (FIELD + "rail_kind",), choices=_RAILS),
    Known("guide_kind", "Kind of rail the guides are made for", "choice", "on their label",
          (ROCKET + "part[rail guides].made_for",), choices=_RAILS),
    Known("battery", "Run time of the battery on board", "time", "or: none",
          (ROCKET + "device[+].run_time",), instead=("none", ROCKET + "device[+].kind", "none")),
    Known("pad_wait", "Wait at the pad, switched on", "time", "a queue included",
          (PLAN + "pad_wait",)),
    Known("fin_limit", "Limit you hold the fins to", "angle", "like 1 deg", (BUILD + "fin_limit",)),
    Known("paint", "Paint", "choice", "its coats are entered in the ledger", (BUILD + "painted",),
          choices=(("false", "not painted"),)),
)  # fmt: skip
_GIVES: Final = {"battery": {ROCKET + "device[+].name": "on board"}}  # comes with an answer


def check_known(question: Known, text: str) -> str:
    """Return an answer ready for use; empty stays empty.

    Raises
    ------
    QuantityError - it is none of the choices, or no figure of the wanted kind.
    """
    answer = " ".join(text.split())
    if not answer or (question.instead and answer == question.instead[0]):
        return answer
    if question.dimension == "choice":
        allowed = [key for key, _ in question.choices]
        _refuse_unless(answer in allowed, answer, f"one of: {', '.join(allowed)}")
    elif question.dimension == "rules":
        named = {each.strip() for each in answer.split(",")}
        _refuse_unless(named <= set(CONFIRM_KEYS), answer, f"some of: {', '.join(CONFIRM_KEYS)}")
    elif question.dimension == "outline":
        try:
            corners_of(answer)
        except ValueError as error:
            raise QuantityError(str(error), WANTED, "correct it") from None
    elif question.dimension != "words":
        parse(answer, question.dimension)
    return answer


def _refuse_unless(fine: bool, found: str, wanted: str) -> None:
    if not fine:
        raise QuantityError(f'"{found}"', wanted, "or leave it empty")


def with_known(
    files: Mapping[str, str], answers: Mapping[str, str], motor: str, more: Iterable[Known] = ()
) -> dict[str, str]:
    """Return a new project's files with what is known already written into them.

    Parameters
    ----------
    files : mapping - texts by path. [-]
    answers : mapping - answer texts by question id. [-]
    motor : str - name of the motor that is flown; empty while none is chosen. [-]
    more : iterable of Known - further questions; an answer as its default writes nothing. [-]

    Raises
    ------
    QuantityError - an answer does not fit its question.
    AnswersError - answers that cannot stand in their files, each with its question.
    """
    typed, asked = dict[str, str](), dict[str, str]()
    for each in (*KNOWN, *more):
        said = check_known(each, answers.get(each.id, ""))
        wrote = dict(_typed(each, said if said not in (each.default, each.imperial) else ""))
        if not motor and any(home.startswith(MOTOR) for home in wrote):
            raise AnswersError({each.id: "of which motor? tell it above, or leave this empty"})
        wrote = {home.replace("*", motor, 1): text for home, text in wrote.items()}
        typed |= wrote
        asked |= dict.fromkeys(wrote, each.id)
    if not typed:
        return dict(files)
    try:
        project = read_project(files)
        texts: Typed = typed
        found = {**files, **answered_texts(project, texts)}
        read_project(found)
    except ProjectErrors as errors:
        raise AnswersError(
            {
                asked[home_of(fault, tuple(typed)) or next(iter(typed))]: fault.in_form
                for fault in errors.faults
            }
        ) from None
    return found


def with_nose(files: Mapping[str, str], answers: Mapping[str, str]) -> dict[str, str]:
    """Return the files with what the nose weighs alone taken out of the whole.

    Parameters
    ----------
    files : mapping - texts of a new project by path. [-]
    answers : mapping - answer texts by question id. [-]

    Raises
    ------
    AnswersError - it is heavier than the whole, or weighs nothing.
    """
    said = answers.get(NOSE_MASS, "").strip()
    if not said:
        return dict(files)
    mass = parse(said, "mass")
    if mass.value <= 0.0:
        raise AnswersError({NOSE_MASS: "wanted: more than 0"})
    try:
        return {**files, **taken_out(read_project(files), None, "nose", mass)}
    except HeavierThanWholeError as error:
        raise AnswersError({NOSE_MASS: f"{error.words}; wanted: a part of the whole"}) from None


def _typed(question: Known, answer: str) -> Iterator[tuple[str, str]]:
    if not answer:
        return
    if question.dimension == "rules":
        for key in answer.split(","):
            yield f"{PLAN}confirmed[{key.strip()}]", "confirmed"
    elif question.instead and answer == question.instead[0]:
        yield question.instead[1:]
    else:
        yield from ((home, answer) for home in question.homes)
    yield from _GIVES.get(question.id, {}).items()
