"""What this rocket, field and flyer still lack for the next certificate level, by the code set.

Only what the code set and the project's files hold is told; what the code set says nothing about
is said to be not stated, and is the organisation's to answer. With a motor of that level in the
folder every row is worked out for it; without one, that is the first thing lacking.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from goodflight.physics.flight import registry
from goodflight.physics.motor import motor_class
from goodflight.physics.vehicle.parts import MotorTube
from goodflight.project.codes import CONFIRM_WORDS, CodeSet
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.case.planned import Case
from goodflight.studies.debriefing.book import BookLine
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.motor_results import MotorRow
from goodflight.studies.questions.motors import LEVELS, with_best_delay
from goodflight.studies.sampling.flights import fly_trials

State = Literal["met", "lacking", "not known", "not stated"]
FLIGHTS: Final = 600  # with the motor of the next level
NAMED_ABOVE: Final = 0.02  # chance of a row worth naming
ABOVE: Final = 1.001  # of a level's limit: in the next class
ASK: Final = "ask your organisation"
CERTIFICATE: Final = "motor_class"  # the row that the list itself is about
PERSONAL: Final = ("permission", "responsible")  # clauses that depend on the motor or the person


@dataclass(frozen=True)
class Gap:
    """One thing the next level asks for, or that the code set does not state."""

    what: Annotated[str, "what it is about"]
    state: Annotated[State, "met, lacking, not known, or not stated in the code set"]
    words: Annotated[Said, "how it stands"]


@dataclass(frozen=True)
class NextLevel:
    """The next certificate level, and everything between here and there."""

    now: Annotated[str, "certificate of the plan"]
    level: Annotated[str, "the next one of the code set; empty = none is stated"]
    code: Annotated[str, "title of the code set; empty = the field names none"]
    motor: Annotated[str, "motor of that level that was tried; empty = none in motors/ fits"]
    gaps: Annotated[tuple[Gap, ...], "in the order of the list"]


def next_level(
    case: Case, motors: Sequence[MotorRow], book: Sequence[BookLine], seed: int = 1
) -> NextLevel:
    """The list of what is lacking; see the module."""
    now, code = case.rules.level, case.rules.code
    if code is None or now not in LEVELS:
        words = said("name the field's code set (code in sites/) and the plan's level")
        return NextLevel(now, "", "", "", (Gap("the code set", "not known", words),))
    limits = code.level_impulse_ns
    level = next((each for each in LEVELS[LEVELS.index(now) + 1 :] if each in limits), "")
    if not level:
        words = said("this is the highest level of the code set") if limits else _silent()
        gap = Gap("the next level", "met" if limits else "not stated", words)
        return NextLevel(now, "", code.title, "", (gap, *_persons(code)))
    there = [row for row in motors if row.level == level]
    flies = [row for row in there if row.chance is not None]
    tried = min(flies, key=lambda row: row.impulse_ns, default=None)
    gaps = [_certificate(now, book), _motor(case, code, level, there)]
    if tried is None:
        gaps += [_ceiling(case, motors), _untried(level)]
    else:
        gaps += _with(case, tried, seed)
    gaps += [_electronics(case, level), _test(level), *_persons(code)]
    left = [each for each in code.not_stated() if each not in CONFIRM_WORDS.values()]
    if left:
        gaps.append(Gap("further limits", "not stated", _silent(", ".join(left))))
    return NextLevel(now, level, code.title, "" if tried is None else tried.name, tuple(gaps))


def _silent(what: str = "") -> Said:
    return said(literal(f"{what}: {ASK}" if what else ASK))


def _certificate(now: str, book: Sequence[BookLine]) -> Gap:
    what = "certificate"
    if now == "none":
        return Gap(what, "met", said("none is needed before the first level is attempted"))
    passed = [each for each in book if each.result == "passed" and each.level == now]
    if passed:
        one = passed[-1]
        when = f", {one.date}" if one.date else ""
        return Gap(what, "met", said(literal(f"{now}: flight {one.name}{when}, noted as passed")))
    words = f"no flight by a plan for {now} is noted as passed (result in flights/NAME/notes.toml)"
    return Gap(what, "lacking", said(words))


def _motor(case: Case, code: CodeSet, level: str, there: Sequence[MotorRow]) -> Gap:
    """Impulse of the level, and what of it lies in motors/."""
    limits = code.level_impulse_ns
    lower = [x.value for k, x in limits.items() if LEVELS.index(k) < LEVELS.index(level)]
    least, most = max(lower, default=0.0), limits[level]
    first, last = motor_class(ABOVE * least) if least else "A", motor_class(most.value)
    letters = first if first == last else f"{first} to {last}"
    figures = {"least": (least, "impulse"), "most": (most.value, "impulse")}
    tube = next(iter(case.rocket.of_kind(MotorTube)), None)
    room = ""
    if tube is not None:
        room = ". The motor tube is {wide} wide inside and {long} long"
        figures |= {"wide": (tube.inner_diameter_m, "length")}
        figures |= {"long": (tube.length_m, "length")}
    flies = [f"{row.name} ({row.motor_class})" for row in there if row.chance is not None]
    state: State = "met" if flies else "lacking"
    if flies:
        here, room = f"in motors/: {', '.join(flies)}", ""
    elif there:
        no = "; ".join(f"{row.name}: {row.why_not[0]}" for row in there)
        here = f"none in motors/ goes into this rocket: {no}"
    else:
        here = "none of that size in motors/: add one with its curve"
    size = f"{level} is {{least}} to {{most}}, {letters} ({literal(most.cited)}); "
    return Gap("motor", state, Said(size + literal(here) + room, figures))


def _ceiling(case: Case, motors: Sequence[MotorRow]) -> Gap:
    """What the largest motor here already says of the ceiling, without one of that level."""
    what, ceiling = "height", case.site.ceiling_m
    if ceiling is None:
        return Gap(what, "not known", said("no ceiling is agreed in the field's file: ask for it"))
    flown = [row for row in motors if row.apogee_m is not None]
    most = max(flown, key=lambda row: row.impulse_ns, default=None)
    agreed, figures = "the field's ceiling is {ceiling}", {"ceiling": (ceiling, "length")}
    if most is None or most.apogee_m is None:
        return Gap(what, "not known", Said(agreed, figures))
    to = f"{literal(most.name)}, smaller than that level, goes to {{height}}; {agreed}"
    figures["height"] = (most.apogee_m, "length")
    if most.apogee_m > ceiling:
        more = ": it takes a field with a higher ceiling, or a heavier rocket"
        return Gap(what, "lacking", Said(to + more, figures))
    return Gap(what, "not known", Said(to, figures))


def _untried(level: str) -> Gap:
    words = f"every row is worked out for a motor of {level} once one that fits is in motors/"
    return Gap("strength, field and distances", "not known", said(words))


def _with(case: Case, tried: MotorRow, seed: int) -> Iterable[Gap]:
    """Every row that stands against the smallest motor of that level, by what it is about."""
    flown = with_best_delay(case.with_motor(case.motors[tried.key], 0.0), seed)
    rows = [row for row in evaluate(fly_trials(flown, FLIGHTS, seed)) if not row.not_here]
    rows = [row for row in rows if row.limit.key != CERTIFICATE]
    for about in ("strength", "field and code", "flight"):
        known = [row for row in rows if _about(row) == about and row.known]
        often = sorted((r for r in known if _share(r) > NAMED_ABOVE), key=lambda r: -_share(r))
        told = "; ".join(f"{r.limit.title}, {100.0 * _share(r):.0f} in 100 flights" for r in often)
        held = f"{len(known) - len(often)} of {len(known)} ways to fail stay within their limits"
        if known:
            words = f"{told}. {held}" if often else held
            yield Gap(about, "lacking" if often else "met", said(literal(words)))
    unknown = [row.limit.title for row in rows if not row.known]
    if unknown:
        words = f"{'; '.join(unknown)}: the ledger asks for what each needs"
        yield Gap("figures", "not known", said(literal(words)))


def _share(row: Evaluated) -> float:
    return float(row.failing.mean())


def _about(row: Evaluated) -> str:
    if row.limit.look:
        return "strength"
    return "field and code" if row.limit.phase == "code" or row.limit.key == "ceiling" else "flight"


def _electronics(case: Case, level: str) -> Gap:
    by = "the motor's delay" if case.deployment.by == registry.BY_DELAY else "an altimeter"
    carried = [each.name for each in case.deployment.devices if each.on_board]
    board = f"on board: {', '.join(carried)}" if carried else "no device on board is written down"
    asked = f"this plan deploys by {by}; {board}; whether {level} asks for an altimeter"
    return Gap("electronics", "not stated", _silent(asked))


def _test(level: str) -> Gap:
    asked = f"whether {level} asks for one, and what else of the flyer"
    return Gap("written test", "not stated", _silent(asked))


def _persons(code: CodeSet) -> Iterable[Gap]:
    """Clauses of the set that may ask for more with a larger motor."""
    for key in PERSONAL:
        clause = (code.clauses or {}).get(key)
        if clause is None:
            yield Gap(CONFIRM_WORDS[key], "not stated", _silent())
            continue
        words = f"{clause.text} ({clause.cited}): look whether a larger motor changes it"
        yield Gap(CONFIRM_WORDS[key], "not known", said(literal(words)))
