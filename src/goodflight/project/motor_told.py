"""A motor as its label tells it, perhaps with a thrust table: what is asked, what is written.

Asked in the first form, in `goodflight new`, and wherever a plan names no motor yet. Without a
table the curve is made up from impulse and burn time, as a guess.
"""

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Final

from goodflight.project.faults import Fault, ProjectErrors, SaveRefused
from goodflight.project.idea_rocket import toml_table
from goodflight.project.idea_texts import label_curve
from goodflight.project.motor_table import file_name, preview
from goodflight.project.newcomer_asked import Known
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.records import Project
from goodflight.project.saving import write_files
from goodflight.quantity import QuantityError, parse

NONE: Final = "none"
TOLD: Final = (
    Known("motor_name", "Motor, as its label names it", "text",
          "leave all of these empty while none is chosen: then nothing is flown"),
    Known("motor_impulse", "Total impulse", "impulse", "like 257 N s; not needed with a table"),
    Known("motor_burn", "Burn time, or mean thrust", "burn",
          "1.8 s or 141 N; not needed with a table"),
    Known("motor_propellant", "Mass of its propellant", "mass", "like 128 g"),
    Known("motor_loaded", "Mass ready to fly", "mass", "propellant and casing, like 305 g"),
    Known("motor_diameter", "Diameter of its casing", "length", "like 38 mm"),
    Known("motor_length", "Length of its casing", "length", "like 203 mm"),
    Known("motor_delay", "Delay as sold, from burnout", "time",
          "or: none, where an altimeter opens the parachute", choices=((NONE, "plugged"),)),
    Known("motor_delays", "What may be taken out of the delay", "times",
          "on the maker's sheet: 2 s, 4 s; or: none", choices=((NONE, "nothing"),)),
    Known("motor_table", "Thrust table, time in s and thrust in N", "table",
          "one point a line, from the maker; without it the curve is made up, as a guess"),
)  # fmt: skip
_NEEDED: Final = ("motor_name", "motor_propellant", "motor_loaded", "motor_diameter",
                  "motor_length", "motor_delay", "motor_delays")  # fmt: skip
_LABEL: Final = ("motor_impulse", "motor_burn")  # needed without a table
_HEAD: Final = {"motor_delays": "delay_out_allowed"}
_ASKED_BY: Final = {
    "delay_out_allowed": "motor_delays",
    "deployment": "motor_delay",
    "motor": "motor_diameter",
}  # keys of files that are called otherwise here


def check_told(question: Known, text: str) -> str:
    """Return an answer ready for use; empty stays empty.

    Raises
    ------
    QuantityError - it is no figure of the wanted kind, or a table that cannot be read.
    """
    if question.dimension == "table":
        faults = preview(text).faults if text.strip() else ()
        if faults:
            raise QuantityError(
                f"line {faults[0].line}: {faults[0].found}", faults[0].expected, faults[0].advice
            )
        return text.strip()
    answer = " ".join(text.split())
    if not answer or answer in dict(question.choices):
        return answer
    if answer in (words for _, words in question.choices):  # plugged, as a label says it
        return NONE
    if question.dimension == "text":
        return file_name(answer)
    if question.dimension == "burn":
        _burn_s(answer, 1.0)
    elif question.dimension == "times":
        for each in _several(answer):
            parse(each, "time")
    else:
        parse(answer, question.dimension)
    return answer


def _several(answer: str) -> list[str]:
    return [each.strip() for each in answer.replace(";", ",").split(",") if each.strip()]


def _burn_s(answer: str, impulse_ns: float) -> float:
    """Burn time, as typed or from the mean thrust."""
    wanted = "a time like 1.8 s or a thrust like 141 N, above 0"
    try:
        burn_s = parse(answer, "time").value
    except QuantityError as error:
        try:
            mean_n = parse(answer, "force").value
        except QuantityError:
            raise QuantityError(error.found, wanted, error.advice) from None
        burn_s = impulse_ns / mean_n if mean_n > 0.0 else 0.0
    if burn_s <= 0.0:
        raise QuantityError(f'"{answer}"', wanted, "see the label")
    return burn_s


def plugged(answers: Mapping[str, str]) -> bool:
    """Whether the motor that is told has no delay."""
    return " ".join(answers.get("motor_delay", "").split()) in (NONE, "plugged")


def _or_none(key: str) -> str:
    """The word that may stand for none of it, where a question has one."""
    question = next(each for each in TOLD if each.id == key)
    return f"; or: {NONE}, {question.choices[0][1]}" if question.choices else ""


def told_motor(answers: Mapping[str, str], taken: Collection[str] = ()) -> dict[str, str]:
    """Return the files of a motor that is told; none when nothing of one is.

    Parameters
    ----------
    answers : mapping - answer texts by question id; others are passed over. [-]
    taken : collection - names of motors there are. [-]

    Raises
    ------
    QuantityError - an answer is no figure of the wanted kind.
    AnswersError - something of the motor is told, but not enough.
    """
    said = {each.id: check_told(each, answers.get(each.id, "")) for each in TOLD}
    if not any(said.values()):
        return {}
    needed: tuple[str, ...] = _NEEDED if said["motor_table"] else (*_NEEDED, *_LABEL)
    if said["motor_delay"] == NONE:
        needed = tuple(key for key in needed if key != "motor_delays")
    words = "needed for a motor; or empty all of its boxes while none is chosen"
    offered = preview(said["motor_table"]).stated if said["motor_table"] else {}
    missing = {
        key: f"{words}; its table says {offered[head]}"
        if head in offered
        else f"{words}{_or_none(key)}"
        for key in needed
        if not said[key]
        for head in (_HEAD.get(key, key.removeprefix("motor_")),)
    }
    if missing:
        raise AnswersError(missing)
    stem = said["motor_name"]
    while stem in taken:
        stem += "-2"
    delays = [] if said["motor_delays"] == NONE else _several(said["motor_delays"])
    curve, made = preview(said["motor_table"]).text, "curve of its table"
    if not said["motor_table"]:
        impulse = parse(said["motor_impulse"], "impulse").value
        curve = label_curve(impulse, _burn_s(said["motor_burn"], impulse))
        made = "curve made up from impulse and burn time"
    head = toml_table(
        "",
        name=stem,
        source=f"label; {made}",
        diameter=said["motor_diameter"],
        length=said["motor_length"],
        propellant=said["motor_propellant"],
        loaded=said["motor_loaded"],
        impulse=said["motor_impulse"] or None,
        delay=None if said["motor_delay"] == NONE else said["motor_delay"],
        delay_out_allowed=delays or None,
    )
    return {
        f"motors/{stem}.toml": "#:schema ../.schema/motor.json\n" + head,
        f"motors/{stem}.csv": curve,
    }


def stems_of(files: Iterable[str]) -> tuple[str, ...]:
    """Return the names of the motors that some files are of."""
    return tuple(file[7:-5] for file in files if re.match(r"motors/.*\.toml$", file))


def told_faults(faults: Collection[Fault], stem: str) -> dict[str, str]:
    """Return what is wrong by question, of faults in a told motor or in the plan that flies it."""
    known = {each.id for each in TOLD}
    found = dict[str, str]()
    for fault in faults:
        key = re.sub(r".*\.|\[.*", "", fault.key)
        question = _ASKED_BY.get(key, f"motor_{key}")
        own = fault.file == f"motors/{stem}.toml" or key in ("motor", "deployment")
        if fault.file == f"motors/{stem}.csv":
            question, own = "motor_impulse", True  # a told table was read before
        if own and question in known:
            found.setdefault(question, fault.in_form)
    return found


def choose_motor(project: Project, plan: str, answers: Mapping[str, str]) -> Project:
    """Give a plan its motor: one that is there (`motor`), or one that is told.

    Raises
    ------
    SaveRefused - no such motor, or a file changed on disk.
    QuantityError, AnswersError - the answers make no motor.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    from goodflight.project.editing import with_entry

    stem, files = answers.get("motor", ""), dict[str, str]()
    if not stem:
        files = told_motor(answers, project.motor_files)
        if not files:
            raise AnswersError({"motor_name": "choose a motor, or tell one by its label"})
        (stem,) = stems_of(files)
    elif stem not in project.motor_files:
        raise SaveRefused(f"no motor {stem!r} in motors/; nothing was written")
    text = with_entry(project.texts["plans.toml"], f"plans.toml:plan[{plan}].motor", stem)
    if plugged(answers) and files:
        text = with_entry(text, f"plans.toml:plan[{plan}].deployment", "altimeter")
    try:
        return write_files(project, {**files, "plans.toml": text})
    except ProjectErrors as errors:
        found = told_faults(errors.faults, stem) if files else {}
        if len(found) < len(errors.faults):
            raise
        raise AnswersError(found) from None
