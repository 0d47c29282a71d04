"""What a newcomer may know already: questions that may stay empty, and what their answers write.

An empty answer leaves its rows unknown; nothing is assumed for it. Tests of strength, the place,
its code and the day are asked so, each as its key declares it. Answers are written as those of the
ledger's boxes are.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from goodflight.project.answering import Typed, answered_texts, home_of
from goodflight.project.codes import CONFIRM_KEYS, packaged_codes
from goodflight.project.faults import ProjectErrors
from goodflight.project.newcomer_asked import FIELD, MOTOR, PLAN, ROCKET, Known, in_form
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.outline_typed import WANTED, corners_of
from goodflight.project.part_apart import HeavierThanWholeError, taken_out
from goodflight.project.reading import read_project
from goodflight.quantity import QuantityError, parse

NOSE_MASS: Final = "nose_mass"
# What is no single key, or one whose answers are found among files, by its place
_BESIDE: Final = {
    10: Known(
        "code",
        "Safety code of the field",
        "choice",
        "ask whoever runs the launch",
        (FIELD + "code",),
        choices=tuple((key, each.title) for key, each in packaged_codes().items()),
    ),
    20: Known(
        "edges",
        "Edges of the field, from the pad",
        "outline",
        "west 140 m, east 500 m, south 110 m, north 450 m; or corners",
        (FIELD + "outline[field]",),
    ),
    80: Known("rules", "Rules of the code that are met", "rules", ", ".join(CONFIRM_KEYS), ()),
    170: Known(
        NOSE_MASS,
        "What the nose weighs alone",
        "mass",
        "on a scale, with all that is fixed in it; it comes out of the whole",
    ),
}
KNOWN: Final = in_form(_BESIDE, assumed=False)
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
