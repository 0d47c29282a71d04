"""What an inspector asks of a planned flight, answered from the project as weighed and measured.

Eight figures stand first. They are those that an inspector can check within the minute with what
lies on the table (scale, edge, luggage scale, the motor's label, the rail), and each of them alone
can lose the flight; the wind is not among them because it is not known before the pad.
"""

from dataclasses import dataclass
from math import isfinite
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.quantity.said import Said, said
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.asked import ASKED, Asked
from goodflight.studies.evidence.reply import How, Reply
from goodflight.studies.evidence.seen import Band, Seen, see
from goodflight.studies.results import State

FLIGHTS: Final = 1000


@dataclass(frozen=True)
class Number:
    """One of the eight figures at the top of the sheet."""

    number: Annotated[int, "of the question it belongs to"]
    key: Annotated[str, "name of that question"]
    title: Annotated[str, "what it is"]
    said: Annotated[Said, "the figure; empty = not known"]
    spread: Annotated[Said, "how far it goes, or what stands beside it"]
    stands_on: Annotated[str, "how it is known"]
    do: Annotated[str, "what to do where it is not known; empty = known"]
    state: Annotated[State | None, "worst of the rows that judge it; null = none does"]


@dataclass(frozen=True)
class Against:
    """A row of the ledger that stands against an answer."""

    key: Annotated[str, "of the row"]
    title: Annotated[str, "what can fail"]
    state: Annotated[State, "marginal or fails"]
    chance: Annotated[float | None, "how likely, 0 to 1; null = a statement"]


@dataclass(frozen=True)
class Answered:
    """One question with its answer."""

    number: Annotated[int, "1 to 35"]
    key: Annotated[str, "name of the question"]
    subject: Annotated[str, "what it is about, in two words"]
    question: Annotated[str, "as it is asked"]
    how: Annotated[How, "known; unknown: then do; or show: by hand"]
    said: Annotated[Said, "the answer with its figures; empty = none"]
    stands_on: Annotated[str, "how it is known, by which method"]
    show: Annotated[str, "what to show by hand"]
    do: Annotated[str, "what to do where it is not known"]
    state: Annotated[State | None, "worst of the rows that judge it; null = none does"]
    against: Annotated[tuple[Against, ...], "rows that stand against it"]


@dataclass(frozen=True)
class Evidence:
    """The sheet of one planned flight."""

    rocket: Annotated[str, "its name"]
    plan: Annotated[str, "name of the plan"]
    motor: Annotated[str, "of the plan"]
    site: Annotated[str, "name of the field"]
    weighed: Annotated[str, "of which weighing the masses are"]
    flights: Annotated[int, "flights simulated"]
    seed: Annotated[int, "of their sample"]
    numbers: Annotated[tuple[Number, ...], "eight figures"]
    answers: Annotated[tuple[Answered, ...], "35 questions"]
    invented: Annotated[bool, "whether rocket and motor are made up"]

    def count(self, how: How) -> int:
        """How many answers are known, not known, or to be shown by hand."""
        return sum(each.how == how for each in self.answers)


def evidence(
    project: Project, plan: str | None = None, flights: int = FLIGHTS, seed: int = 1
) -> Evidence:
    """Answer what an inspector asks of a planned flight.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - simulated. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        evidence : Evidence - eight figures and 35 answers. [SI]
    Raises
        NoSuchPlan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the ledger. Figures of flight count as known only of a rocket that was weighed; what no
        file can know is to be shown by hand. The range safety officer decides.
    Source
        The questions are practice, no source; figures as the ledger's rows.
    Example
        none
    """
    case = case_of(project, plan)
    return evidence_of(project, case, flights, seed)


def evidence_of(project: Project, case: Case, flights: int = FLIGHTS, seed: int = 1) -> Evidence:
    """The answers of a resolved case; see `evidence`."""
    return evidence_seen(see(project, case, flights, seed))


def evidence_seen(seen: Seen) -> Evidence:
    """The answers from flights that are flown already."""
    case = seen.case
    answers = tuple(_answered(seen, asked) for asked in ASKED)
    return Evidence(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        site=case.site.name,
        weighed=seen.when,
        flights=seen.view.count,
        seed=seen.seed,
        numbers=_numbers(seen, {each.key: each for each in answers}),
        answers=answers,
        invented=case.origin.invented,
    )


def _answered(seen: Seen, asked: Asked) -> Answered:
    """A known answer that rests on a row that is not known is not known."""
    reply = asked.answer(seen)
    rows = [seen.rows[key] for key in reply.rows if key in seen.rows]
    waiting = [row for row in rows if row.state == "unknown"]
    how: How = "unknown" if waiting and reply.how == "known" else reply.how
    do = reply.do or next((row.advice for row in waiting if how == "unknown"), "")
    against = tuple(
        Against(row.key, row.title, row.state, row.chance)
        for row in rows
        if row.state in ("fails", "marginal")
    )
    state = None if how == "unknown" else seen.state_of(reply.rows)
    return Answered(
        number=asked.number,
        key=asked.key,
        subject=asked.subject,
        question=asked.question,
        how=how,
        said=_finite(reply),
        stands_on=reply.stands_on,
        show=reply.show,
        do=do,
        state=state,
        against=against,
    )


def _finite(reply: Reply) -> Said:
    """The answer, unless one of its figures is none."""
    whole = all(isfinite(value) for value, _ in reply.said.figures.values())
    return reply.said if whole else Said("")


def _numbers(seen: Seen, answers: dict[str, Answered]) -> tuple[Number, ...]:
    laid, pull = seen.layout, seen.window
    mass, speed = seen.band("liftoff_mass_kg"), seen.band("rail_exit_m_s")
    apogee, fired, down = seen.band("apogee_m"), seen.band("ejection_m_s"), seen.band("descent_m_s")
    ceiling, left = seen.case.site.ceiling_m, _left_s(seen.case)
    found = (
        ("mass", "Ready to fly", said("{m}", m=(mass.middle, "mass")), _ends(mass, "mass")),
        ("thrust", "Thrust / weight", _ratio(seen.band("thrust_to_weight")),
         said("first half second; 3 is the least")),
        ("rail_speed", "Leaves this rail", said("{v}", v=(speed.middle, "speed")),
         said("{rail} rail, wind {w}", rail=(seen.case.rail.length_m, "length"),
              w=(seen.case.day.wind_m_s, "wind"))),
        ("margin", "CG ahead of CP", said("{m}", m=(laid.margin_liftoff_cal, "calibre")),
         said("CG {cg}, CP {cp}; short form {s}", cg=(laid.cg_liftoff.station_m, "length"),
              cp=(laid.cp.station_m, "length"), s=(laid.margin_short_cal, "calibre"))),
        ("height", "Apogee", said("{a}", a=(apogee.middle, "length")),
         said("95 % below {h}", h=(apogee.high, "length")) if ceiling is None else
         said("95 % below {h}, ceiling {c}", h=(apogee.high, "length"), c=(ceiling, "length"))),
        ("delay", "Opens", left, said("at {v}, 95 % below {h}", v=(fired.middle, "speed"),
                                      h=(fired.high, "speed"))),
        ("pull", "Pull to open", said("{f}", f=(pull.measured_n or float("nan"), "force")),
         said("allowed {a} to {b}", a=(pull.min_n or float("nan"), "force"),
              b=(pull.max_n or float("nan"), "force"))),
        ("canopy", "Comes down at", said("{v}", v=(down.middle, "speed")), _ends(down, "speed")),
    )  # fmt: skip
    return tuple(_number(answers[key], title, told, beside) for key, title, told, beside in found)


def _number(answer: Answered, title: str, told: Said, beside: Said) -> Number:
    """A figure of the top row; one that its answer does not know is not told there either."""
    known = answer.how != "unknown"
    return Number(
        number=answer.number,
        key=answer.key,
        title=title,
        said=told if known and _whole(told) else Said(""),
        spread=beside if known and _whole(beside) else Said(""),
        stands_on=answer.stands_on,
        do="" if known else answer.do,
        state=answer.state,
    )


def _whole(told: Said) -> bool:
    return all(isfinite(value) for value, _ in told.figures.values())


def _ends(found: Band, dimension: str) -> Said:
    return said("90 % from {a} to {b}", a=(found.low, dimension), b=(found.high, dimension))


def _ratio(found: Band) -> Said:
    return said("{r}", r=(found.middle, "ratio"))


def _left_s(case: Case) -> Said:
    """When it opens, in few words."""
    lag, sold = case.deployment.apogee_lag_s, case.motor.delay_s
    if case.deployment.main_canopy is not None or sold is None:
        return said("{t} after the top", t=(lag, "time"))
    return said("{t} after burnout", t=(sold - case.deployment.delay_out_s, "time"))
