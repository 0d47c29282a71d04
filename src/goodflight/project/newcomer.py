"""The questions that make a first project, and the project they make.

About thirty answers give a rocket that loads and flies on paper: what was not asked is worked
out from what was, and marked as a guess in the text. All figures may be changed afterwards.
"""

import tomllib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import accumulate
from math import sqrt
from types import MappingProxyType
from typing import Final

from pydantic_core import PydanticCustomError

from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.project.faults import ProjectErrors
from goodflight.project.idea_rocket import EDGES
from goodflight.project.materials import library
from goodflight.project.measures import AcrossField
from goodflight.project.motor_told import plugged, stems_of, told_faults, told_motor
from goodflight.project.newcomer_assumed import ABOUT, ASSUMED
from goodflight.project.newcomer_derived import MOTOR_LENGTH, derived, rings
from goodflight.project.newcomer_fit import AnswersError, check_fit
from goodflight.project.newcomer_follow import offered, shown_in
from goodflight.project.newcomer_known import with_known, with_nose
from goodflight.project.newcomer_texts import NO_MOTOR, PLANS, ROCKET, SITE
from goodflight.project.reading import read_project
from goodflight.project.sheets import nearest, one_of
from goodflight.quantity import Quantity, QuantityError, Units, parse


@dataclass(frozen=True)
class Question:
    """One question. `dimension` is a kind of quantity, or "text"; `default` is what Enter gives.

    choices : all that a text may be; empty: anything.
    """

    id: str
    prompt: str
    dimension: str
    default: str
    why: str
    choices: tuple[str, ...] = ()


QUESTIONS: Final = (
    Question("name", "Name of the rocket", "text", "First try", "shown on every page and print"),
    Question("diameter", "Outside diameter of the body", "length", "79 mm",
             "sets the drag, and the calibre in which the margin is counted"),
    Question("inner_diameter", "Inside diameter of the body", "length", "76 mm",
             "says what fits in"),
    Question("nose_length", "Length of the nose, without its shoulder", "length", "240 mm",
             "the nose's share of the lift"),
    Question("body_length", "Length of all body tubes together", "length", "980 mm",
             "with the nose it gives the length of the rocket"),
    Question("separation", "Separates at, from the nose tip", "length", "460 mm",
             "where the rocket separates at ejection; the tubes are cut there"),
    Question("wall", "Material of the body tubes", "text", "kraft_tube",
             "strength of the tube's edge, and what the tubes weigh", choices=tuple(library())),
    Question("nose_material", "Material of the nose", "text", "pla_printed",
             "what the nose weighs once it is weighed by itself", choices=tuple(library())),
    Question("fin_count", "Number of fins", "count", "3", "three or four"),
    Question("fin_root", "Length of a fin along the body", "length", "150 mm", "fin area"),
    Question("fin_tip", "Length of a fin at its outer edge", "length", "60 mm", "fin area"),
    Question("fin_span", "How far a fin stands out from the body", "length", "80 mm",
             "span moves the centre of pressure most"),
    Question("fin_sweep", "How far the fin's front slants back", "length", "70 mm",
             "place of the fin's lift"),
    Question("fin_thickness", "Thickness of the fins", "length", "4 mm", "flutter, drag"),
    Question("fin_gap", "Rear end of the fins ahead of the tail", "length", "10 mm",
             "so that the fins do not land first"),
    Question("fin_material", "Material of the fins", "text", "birch_plywood_4mm",
             "flutter, and what the fins' roots stand", choices=tuple(library())),
    Question("motor_tube", "Inside diameter of the motor tube", "length", "38.4 mm",
             "which motors fit"),
    Question("mass", "Mass of the whole rocket without motor", "mass", "1.4 kg",
             "thrust to weight, rail exit, height; weigh it when it is built"),
    Question("balance", "Balance point without motor, from the nose tip", "length", "700 mm",
             "the margin; find it on a string when it is built"),
    Question("canopy", "Width of the parachute, a flat hexagon, and the way it was measured",
             "across", "1.0 m across flats",
             "landing speed and drift: 0.87 m2 across flats, 0.65 m2 across corners"),
    Question("cord_strength", "Strength of the cord, new and straight", "force", "6500 N",
             "opening load; printed on the reel"),
    Question("cord_length", "Length of the cord, from anchor to anchor", "length", "4.88 m",
             "how hard both halves jerk; four lengths of the rocket is usual"),
    Question("guide_fore", "Forward rail guide, from the nose tip", "length", "900 mm",
             "how much rail is used"),
    Question("guide_aft", "Rear rail guide, from the nose tip", "length", "1190 mm",
             "the last to leave the rail"),
    Question("rail", "Length of the rail at the field", "length", "2.4 m", "speed at its end"),
    Question("elevation", "Height of the field above the sea", "length", "100 m", "air density"),
    Question("wind", "Wind you would still fly in, mean at 2 m", "wind", "4 m/s",
             "rail exit, drift"),
    Question("level", "Certificate you fly for", "text", "L1",
             "which motors the code lets you fly; L1 is the first",
             choices=("none", "L1", "L2", "L3")),
)  # fmt: skip

BEYOND_ANY: Final = 1e6  # of a figure in SI: no rocket has it, so nothing goes by it
WEIGHED: Final = ("mass", "balance")  # read off a finished rocket

# The questions as they belong together, in their order: key, words, how many
_PARTS: Final = (
    ("body", "Nose and body", 8),
    ("fins", "Fins", 8),
    ("whole", "Motor tube, mass and balance", 3),
    ("recovery", "Parachute and cord", 3),
    ("field", "Rail, field and day", 6),
)
GROUPS: Final = tuple(
    (key, words, QUESTIONS[first : first + count])
    for (key, words, count), first in zip(
        _PARTS, accumulate((count for _, _, count in _PARTS), initial=0), strict=False
    )
)


def defaults_of(answers: Mapping[str, str]) -> dict[str, str]:
    """Return what stands in for each question, those of other proportions once they are answered.

    Parameters
    ----------
    answers : mapping - answer texts by question id; one that is no figure is passed over. [-]

    Returns
    -------
    defaults : dict - an answer text for every question. [-]
    """
    return _said_and_offered(answers)[1]


def _said_and_offered(answers: Mapping[str, str]) -> tuple[dict[str, float], dict[str, str]]:
    """Figures by question, of the answer or what is offered for it; what is offered, as text."""
    asked = [each for each in QUESTIONS if each.dimension != "text"]
    usual = {each.id: figure_of(each, each.default).value for each in asked}
    said, found = dict(usual), {each.id: each.default for each in QUESTIONS}
    units: Units = "metric"
    for each in asked:
        found[each.id] = offered(each.id, each.default, usual, said, units)
        said[each.id] = figure_of(each, found[each.id]).value
        with suppress(QuantityError):
            answer = figure_of(each, answers.get(each.id) or found[each.id])
            if 0 < answer.value < BEYOND_ANY:
                said[each.id] = answer.value
            units = shown_in(answer) if each.id == "diameter" else units
    return said, found


def check_answer(
    question: Question, text: str, finished: bool = False, default: str | None = None
) -> str:
    """Return an answer ready for use, the default for an empty one.

    Parameters
    ----------
    question, text : what was asked, what was answered. [-]
    finished : bool - the rocket is: its mass and balance must be given, and count as measured. [-]
    default : str or None - what stands in for an empty one; None = the question's own. [-]

    Raises
    ------
    QuantityError - the answer is no quantity of the wanted kind, or must be given and is not.
    """
    answer = " ".join(text.split())
    if finished and question.id in WEIGHED:
        if not answer:
            raise QuantityError(
                "nothing",
                f"what was read off, like {question.default}",
                "weigh and balance it whole, without its motor",
            )
        stated = figure_of(question, answer).stated
        answer = answer if stated else f"{answer} measured"
    answer = answer or (question.default if default is None else default)
    if question.choices:
        return _chosen(question, answer)
    if question.dimension == "text":
        return "".join(sign for sign in answer if sign not in '[]:"\\')[:60] or question.default
    figure_of(question, answer)
    return answer


def _chosen(question: Question, answer: str) -> str:
    if answer not in question.choices:
        raise QuantityError(
            f'"{answer}"', one_of(list(question.choices)), nearest(answer, list(question.choices))
        )
    return answer


def figure_of(question: Question, text: str) -> Quantity:
    """Return an answer as a figure; of a canopy's width, its hexagon's width across the flats.

    Raises
    ------
    QuantityError - the answer is no quantity of the wanted kind.
    """
    if question.dimension != "across":
        return parse(text, question.dimension)
    try:
        across = AcrossField().read(text)
        ratio = canopy_kind("flat_hexagonal").area_over_square(across.way)
    except (PydanticCustomError, ValueError) as error:
        ctx = getattr(error, "context", None) or {}
        advice = ctx.get("advice", "measure a hexagon across flats or across corners")
        raise QuantityError(ctx.get("found", text), AcrossField().wanted, advice) from None
    flats = canopy_kind("flat_hexagonal").area_over_square()
    return replace(across, value=across.value * sqrt(ratio / flats))


def drawn_answers(answers: Mapping[str, str]) -> dict[str, float]:
    """Return the answers as figures for a drawing; the default stands in for one that is none.

    Parameters
    ----------
    answers : mapping - answer texts by question id. [-]

    Returns
    -------
    figures : dict - one positive value for each question that is no text. [SI]
    """
    return _said_and_offered(answers)[0]


def project_files(
    answers: Mapping[str, str],
    finished: bool = False,
    beside: Mapping[str, str] = MappingProxyType({}),
) -> dict[str, str]:
    """Return the texts of a new project, by path inside its folder.

    Parameters
    ----------
    answers : mapping - answer texts by question id; for questions left out `defaults_of` stands
        in, and `motor` may name one that lies beside. [-]
    finished : bool - the rocket is: its mass and balance must be given, and count as measured. [-]
    beside : mapping - texts of motors at hand, by path. [-]

    Returns
    -------
    files : dict - a project that loads; what was not asked is marked as a guess. [-]

    Raises
    ------
    QuantityError - an answer is no quantity of the wanted kind.
    AnswersError - the answers do not make a rocket (a separation behind the tail, for example).
    """
    defaults = defaults_of(answers)
    given = {
        each.id: check_answer(each, answers.get(each.id, ""), finished, defaults[each.id])
        for each in QUESTIONS
    }
    said = {
        each.id: figure_of(each, given[each.id]) for each in QUESTIONS if each.dimension != "text"
    }
    si = {key: quantity.value for key, quantity in said.items()}
    shown = shown_in(said["diameter"])
    check_fit(si, shown)
    stem, motor = _motor(answers, beside)
    si |= _length_of(stem, {**beside, **motor})
    fill: dict[str, object] = {**given, **derived(si, said, shown), "count": len(QUESTIONS)}
    fill["fin_count"] = int(si["fin_count"])
    edge = EDGES.get(given["wall"])
    fill["edge"] = f'edge = "{edge}"                 # of such a tube' if edge else ""
    units = f'units = "{shown}"\n' if shown != "metric" else ""
    taken = {each.id: each.usual(shown) for each in ASSUMED}
    fill |= {"about": ABOUT, "rings": rings(si, shown, taken), "units": units, **taken}
    fill["motor"] = f'motor = "{stem}"' if stem else NO_MOTOR
    fill["deployment"] = "altimeter" if motor and plugged(answers) else "delay"
    files = {
        "rocket.toml": ROCKET.format(**fill),
        "plans.toml": PLANS.format(**fill),
        "sites/field.toml": SITE.format(**fill),
        **motor,
    }
    _check_motor({**beside, **files}, stem)
    return with_nose(with_known(files, answers, stem, ASSUMED), answers)


def _length_of(stem: str, files: Mapping[str, str]) -> dict[str, float]:
    """The motor's length, which its tube has to hold; nothing where it cannot be read."""
    try:
        length = tomllib.loads(files.get(f"motors/{stem}.toml", "")).get("length", "")
        return {MOTOR_LENGTH: parse(str(length), "length").value}
    except (tomllib.TOMLDecodeError, QuantityError):
        return {}


def _check_motor(files: Mapping[str, str], stem: str) -> None:
    """Refuse a motor that cannot be, or that does not go into the rocket, at its question."""
    try:
        read_project(files)
    except ProjectErrors as errors:
        wrong = told_faults(errors.faults, stem)
        if wrong:
            raise AnswersError(wrong) from None


def _motor(answers: Mapping[str, str], beside: Mapping[str, str]) -> tuple[str, dict[str, str]]:
    """The motor that is flown, one at hand or one that is told, and its files; "" for none."""
    taken = stems_of(beside)
    stem = answers.get("motor", "")
    if not stem:
        told = told_motor(answers, taken)
        return next(iter(stems_of(told)), ""), told
    if stem not in taken:
        raise AnswersError({"motor": f"wanted: one of {', '.join(taken) or 'none; there is none'}"})
    return stem, {
        file: text for file, text in beside.items() if file[7:].rpartition(".")[0] == stem
    }
