"""Go, wait, change or walk away: the plan held against the weather of now and the coming hours.

A verdict is never better than what is known: what is not measured, not agreed or not answered is
named first, with what the verdict would be then. The range safety officer decides.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Final, Literal

from goodflight.physics.air.model import Day
from goodflight.project import Project
from goodflight.project.day_file import HourTable
from goodflight.quantity.said import Said, said
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import WHO_DECIDES, caution
from goodflight.studies.field.allowed import AllowedApogees, allowed_of
from goodflight.studies.field.aloft import Aloft, Seen, narrowed, seen_of
from goodflight.studies.field.checks import (
    OWN,
    Check,
    checks_of,
    forbids,
    in_100,
    mostly,
    numbered,
    signed_of,
    stated,
    told_of,
    wrong_of,
)
from goodflight.studies.field.choices import (
    Choice,
    Tried,
    contenders,
    least,
    settled,
    tried,
    tried_in_turn,
)
from goodflight.studies.field.conditions import Conditions, under, with_day
from goodflight.studies.field.grid import Checked
from goodflight.studies.field.surer import MORE_FLIGHTS, first_refused, surer
from goodflight.studies.field.together import Judged
from goodflight.studies.judging.plan import Plan
from goodflight.studies.questions.landings import Landings, landings_of
from goodflight.studies.refusal import StudyRefused

Verdict = Literal["go", "change", "wait", "no_go"]
FLIGHTS: Final = 100  # of each hour and each choice
WALK_STEP_M_S: Final = 0.5
MOST_WINDS: Final = 8  # tried above the present one, or below it


@dataclass(frozen=True)
class Asked:
    """What the board is asked: what is measured now, what is at hand, what others' flights showed.

    conditions : the weather as measured and the choices as they stand; measured : which of
    wind, gust, wind_from, cloud_base were. hour : row of the forecast that "now" starts from.
    told : a forecast in place of day.toml's. motors, rails : at hand; None = all there are.
    """

    conditions: Conditions = field(default_factory=Conditions)
    measured: frozenset[str] = frozenset()
    hour: str | None = None
    told: tuple[HourTable, ...] | None = None
    seen: tuple[Seen, ...] = ()
    motors: tuple[str, ...] | None = None
    rails: tuple[float, ...] | None = None


@dataclass(frozen=True)
class HourAnswer:
    """One hour: what to do, why, and what would turn it."""

    time: Annotated[str, 'time of day; "now" for what is measured now']
    verdict: Annotated[Verdict, "go, change, wait or no_go, if what is open proves ok"]
    open: Annotated[int, "things not measured, agreed or answered: until then nobody says go"]
    wind_m_s: Annotated[float, "mean wind [m/s]"]
    gust_m_s: Annotated[float, "gust [m/s]"]
    wind_height_m: Annotated[float, "height of both [m]"]
    wind_from_rad: Annotated[float, "where it comes from [rad]"]
    cloud_base_m: Annotated[float | None, "cloud base above the pad [m]; null = not known"]
    temperature_k: Annotated[float, "air temperature [K]"]
    planned: Annotated[Choice, "the plan as it is"]
    changed: Annotated[Choice | None, "the best choice at hand; null = none does better"]
    checks: Annotated[tuple[Check, ...], "everything the plan is held against"]
    reason: Annotated[Said, "why"]
    turns: Annotated[Said, "what would turn it"]


@dataclass(frozen=True)
class DayBoard:
    """The day: now, the coming hours, the best choice, the wind at which to walk away."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the plan"]
    site: Annotated[str, "name of the field"]
    flights: Annotated[int, "flights of each hour and choice"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    now: Annotated[HourAnswer, "now"]
    hours: Annotated[tuple[HourAnswer, ...], "the coming hours, as forecast"]
    mostly: Annotated[tuple[tuple[str, str, float], ...], "what fails most: key, title, share"]
    walk_m_s: Annotated[
        float | None, "mean wind above which to walk away [m/s]; null = at any wind tried"
    ]
    walk_more: Annotated[bool, "true: no wind tried was too much; walk_m_s is the highest"]
    walk_why: Annotated[Said, "what forbids it above that wind"]
    aloft: Annotated[Aloft | None, "the wind with height, from others' flights; null = none"]
    signed: Annotated[str, "who signed the own limits, and when; empty = nobody"]
    warnings: Annotated[tuple[str, ...], "what to mind about this answer"]
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False


def day(
    project: Project,
    plan: str | None = None,
    asked: Asked | None = None,
    flights: int = FLIGHTS,
    seed: int = 1,
) -> DayBoard:
    """Whether to fly now, to wait, to change something or to walk away.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        asked : Asked or None - what is measured and at hand; None = nothing measured. [SI]
        flights : int - of each hour and each choice: few, so that the board answers at once. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        board : DayBoard - now, the coming hours, what would turn each. [SI]
    Raises
        NoSuchPlan - no such plan; StudyRefused - no such hour, or nothing that can be flown.
    Validity
        As the ledger, on few flights: the counting interval is said. It advises; own limits, the
        code and the range safety officer decide.
    Source
        Same rows as the ledger; own limits of day.toml.
    Example
        >>> board = goodflight.day(goodflight.load("fieldfare"), flights=20)
        >>> board.now.open > 0
        True
    """
    return day_of(project, case_of(project, plan), asked or Asked(), flights, seed)


def day_of(
    project: Project, case: Case, asked: Asked, flights: int = FLIGHTS, seed: int = 1
) -> DayBoard:
    """The board of a resolved case; see `day`."""
    limits, hours = project.day.limits, project.hours(case.plan, asked.told)
    now_case, aloft = _now(project, case, asked)
    air = now_case.day

    def checked(flown: Case, found: Judged) -> tuple[tuple[Check, ...], Plan]:
        return checks_of(flown, found, limits, asked.measured)

    def told(flown: Case, found: Judged) -> tuple[tuple[Check, ...], Plan]:
        return checks_of(flown, found, limits, None)

    def sure(tries: Sequence[Tried]) -> list[Tried]:
        return surer([(now_case, tries)], limits, checked, seed)[0]

    (now,) = sure(tried(now_case, [Conditions()], checked, flights, seed))
    options = contenders(
        now_case,
        now=now,
        checked=checked,
        flights=flights,
        seed=seed,
        motors=asked.motors,
        rails=asked.rails,
    )
    found = settled(options, sure)
    later = [(time, day) for time, day in hours if asked.hour is None or time > asked.hour]
    coming = [_coming(case, asked, air, day) for _, day in later]
    both = [(each, [Conditions(), found.conditions]) for each in coming]
    few = list(zip(coming, tried_in_turn(both, told, flights, seed)))
    pairs = surer(few, limits, told, seed, against=wrong_of)
    answers: list[HourAnswer] = []
    for (time, _), pair in reversed(list(zip(later, pairs))):
        answers.append(_answer(time, pair[0], pair[1], [a.time for a in answers if _good(a)]))
    answers.reverse()
    walk, more, why = walk_away(now_case, found, checked, flights, seed=seed, sure=sure)
    return DayBoard(
        rocket=case.rocket.name,
        plan=case.plan,
        site=case.site.name,
        flights=flights,
        seed=seed,
        now=_answer(asked.hour or "now", now, found, [a.time for a in answers if _good(a)]),
        hours=tuple(answers),
        mostly=mostly(found.found),
        walk_m_s=walk,
        walk_more=more,
        walk_why=why,
        aloft=aloft,
        signed=signed_of(limits),
        warnings=_warnings(found, flights),
        invented=case.origin.invented,
    )


def ground_of(
    project: Project,
    case: Case,
    asked: Asked,
    choice: Choice,
    flights: int = FLIGHTS,
    seed: int = 1,
) -> Landings:
    """Where one set of choices comes down now, opened and unopened, on the board's own flights."""
    conditions = Conditions(
        motor=choice.motor or None,
        delay_out_s=choice.delay_out_s,
        canopy=choice.canopy or None,
        rail_m=choice.rail_m,
        tilt_rad=choice.tilt_rad,
        azimuth_rad=choice.azimuth_rad,
        into_wind=choice.azimuth_rad is None,
    )
    return landings_of(under(_now(project, case, asked)[0], conditions), flights, flights, seed)


def allowed_on(project: Project, case: Case, asked: Asked) -> AllowedApogees:
    """The apogee that the field allows in each wind, in the weather of now and as chosen there."""
    return allowed_of(_now(project, case, asked)[0])


def _now(project: Project, case: Case, asked: Asked) -> tuple[Case, Aloft | None]:
    """The plan in the weather of now, narrowed by what others' flights showed."""
    base = _based(case, project.hours(case.plan, asked.told), asked.hour)
    found = under(base, asked.conditions)
    others = (*map(seen_of, project.day.seen), *asked.seen)
    air, aloft = narrowed(found.day, others)
    return replace(found, day=air), aloft


def _based(case: Case, hours: Sequence[tuple[str, Day]], hour: str | None) -> Case:
    """The plan on the air of an hour of the forecast, or as it stands."""
    if hour is None:
        return case
    found = next((day for time, day in hours if time == hour), None)
    if found is None:
        names = ", ".join(time for time, _ in hours) or "no hours"
        raise StudyRefused(
            f"the forecast has no hour {hour}",
            names,
            "take one of these, or add it to day.toml",
            "hour",
        )
    return with_day(case, **vars(found))


def _coming(case: Case, asked: Asked, air: Day, forecast: Day) -> Case:
    """The plan on a coming hour; what others' flights showed of the wind's growth stays."""
    choices = replace(
        Conditions(),
        **{
            key: getattr(asked.conditions, key)
            for key in (
                "pad_wait_s",
                "rail_m",
                "tilt_rad",
                "azimuth_rad",
                "into_wind",
                "motor",
                "delay_out_s",
                "canopy",
                "confirmed",
            )
        },
    )
    day = with_day(
        case,
        **vars(forecast)
        | {
            "wind_exponent": air.wind_exponent,
            "wind_exponent_sigma": air.wind_exponent_sigma,
        },
    )
    return under(day, choices)


def _good(answer: HourAnswer) -> bool:
    return answer.verdict in ("go", "change")


def _answer(time: str, plan: Tried, changed: Tried, later: Sequence[str]) -> HourAnswer:
    """One hour's verdict, and what would turn it."""
    other = None if least((plan, changed)) is plan else changed
    wrong, still = wrong_of(plan.checks), wrong_of((other or plan).checks)
    verdict: Verdict = "wait" if later else "no_go"
    if not wrong:
        verdict = "go"
    elif other is not None and not still:
        verdict = "change"
    chosen = plan if verdict == "go" or other is None else other
    waiting = [each for each in chosen.checks if each.held == "unknown"]
    air = chosen.found.view.case.day
    return HourAnswer(
        time=time,
        verdict=verdict,
        open=len(waiting),
        wind_m_s=air.wind_m_s,
        gust_m_s=air.wind_m_s * air.gust_factor,
        wind_height_m=air.wind_height_m,
        wind_from_rad=air.wind_from_rad,
        cloud_base_m=air.cloud_base_m,
        temperature_k=air.temperature_k,
        planned=plan.choice,
        changed=None if other is None else other.choice,
        checks=chosen.checks,
        reason=_reason(verdict, plan, still, wrong),
        turns=_turns(verdict, chosen, still, later),
    )


def _reason(verdict: Verdict, plan: Tried, still: list[Check], wrong: list[Check]) -> Said:
    if verdict == "go":
        return said(f"nothing that is known forbids it; {in_100(plan.choice.chance)} fail")
    told = wrong if verdict == "change" or not still else still
    figures: dict[str, tuple[float, str]] = {}
    return Said("; ".join(stated(each, i, figures) for i, each in enumerate(told)), figures)


def _turns(verdict: Verdict, chosen: Tried, still: list[Check], later: Sequence[str]) -> Said:
    if verdict == "go":
        waiting = [each for each in chosen.checks if each.held == "unknown"]
        return (
            waiting[0].turns if waiting else said("the wind at which to walk away; a new reading")
        )
    if verdict == "change":
        return said("the changes named, made and checked by a second person")
    figures: dict[str, tuple[float, str]] = {}
    parts = list(
        dict.fromkeys(
            numbered(each.turns, i, "t", figures) for i, each in enumerate(still) if each.turns.text
        )
    )
    if later:
        parts.append(f"the forecast is better at {later[-1]}")
    return Said("; ".join(parts), figures)


def walk_away(
    case: Case,
    found: Tried,
    checked: Checked,
    flights: int,
    seed: int,
    sure: Callable[[Sequence[Tried]], list[Tried]] = list,
) -> tuple[float | None, bool, Said]:
    """Highest mean wind at which nothing known forbids the best choice, whatever the sky.

    From the present wind up to the first that is too much; from a present one that is too much
    down to the first that is not. `sure` flies those beside the limit on more flights. None: no
    wind tried was little enough.
    """
    present = found.found.view.case.day.wind_m_s
    fine = not forbids(found.checks)
    steps = range(1, MOST_WINDS + 1) if fine else range(-MOST_WINDS, 0)
    winds = [present + WALK_STEP_M_S * i for i in steps]
    tries = [replace(found.conditions, wind_m_s=wind) for wind in winds if wind > 0.0]
    others = tried(case, tries, checked, flights, seed)
    every = [found, *others] if fine else [*others, found]

    def refused(each: Tried) -> bool:
        return bool(forbids(each.checks))

    wrong = [i for i, each in enumerate(every) if refused(each)]
    right = [i for i, each in enumerate(every) if not refused(each)]
    start = min(wrong, default=len(every)) if fine else max(right, default=-1) + 1
    every, at = first_refused(every, start, refused, again=lambda each: sure((each,))[0])
    highest = every[at - 1].found.view.case.day.wind_m_s if at else None
    if at == len(every):
        return highest, True, said("")
    return highest, False, told_of(forbids(every[at].checks)[0])


def _warnings(found: Tried, flights: int) -> tuple[str, ...]:
    more = (
        f"; {MORE_FLIGHTS} of the plan and of the best choice, and beside the wind to walk away "
        "at, where so few cannot tell"
    )
    told = [
        f"{flights} flights of each hour and choice{more if flights < MORE_FLIGHTS else ''}. They "
        "take longer steps: enough to see what forbids a flight; the ledger counts on more.",
    ]
    if found.choice.delay_out_s:
        told.append(caution("delay"))
    told.append(
        f"This is advice. Own limits go first, and what is {OWN} is not moved on the day. "
        f"{WHO_DECIDES}"
    )
    return tuple(told)
