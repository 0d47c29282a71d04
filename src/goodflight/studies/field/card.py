"""The field card: what to do at every wind, worked out beforehand, and the lists to tick."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.quantity.said import Said
from goodflight.studies.bench.stamps import of_answer
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import cautions_of
from goodflight.studies.field.allowed import AllowedApogees, allowed_of
from goodflight.studies.field.card_limit import Edge, at_limit, refused_at, to_half_steps
from goodflight.studies.field.checks import Check, checks_of, limits_of, signed_of
from goodflight.studies.field.choices import TIE
from goodflight.studies.field.conditions import Conditions, under
from goodflight.studies.field.grid import FieldGrid, GridCell, Over, grid_of
from goodflight.studies.field.together import Judged
from goodflight.studies.finding.carried import Carried, carried_of
from goodflight.studies.judging.plan import Plan
from goodflight.studies.levers.motor import motor_key
from goodflight.studies.lists.checklists import Checklist, checklists_of
from goodflight.studies.questions.separation_window import separation_window_of
from goodflight.studies.rows import LIMIT_STATES

Progress = Callable[[str, float], None]

WINDS_M_S: Final = tuple(float(wind) for wind in range(1, 10))  # the usual code's limit is 9 m/s
TILTS_RAD: Final = tuple(math.radians(lean) for lean in (0.0, 3.0, 6.0))
FLIGHTS: Final = 150  # of a cell: 117 000 in all of the demonstration's 780
CARRIED: Final = 4  # motors and delays whose flights a file carries: 75 kB each
PULL_FLIGHTS: Final = 1000
CAUTIONS: Final = ("misfire", "landed", "motor", "delay", "switches")


@dataclass(frozen=True)
class CardMotor:
    """A motor at hand."""

    key: Annotated[str, "file name of the motor"]
    name: Annotated[str, "its name"]
    delay_s: Annotated[float | None, "delay as sold, from burnout [s]; null = none or not known"]


@dataclass(frozen=True)
class FieldCard:
    """Everything that is looked up on the field, worked out beforehand."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "plan whose field, day, rail and canopy hold"]
    stamp: Annotated[str, "mark of the figures: `goodflight stamp` tells whether they still hold"]
    planned: Annotated[GridCell, "the plan's own motor, delay and lean at the wind nearest to it"]
    motors: Annotated[tuple[CardMotor, ...], "motors that go in"]
    pull_min_n: Annotated[float | None, "least pull of the separation [N]; null = not known"]
    pull_max_n: Annotated[float | None, "most pull of the separation [N]; null = not known"]
    pull_advice: Annotated[tuple[str, ...], "what is missing to know the pull, or wrong with it"]
    best: Annotated[tuple[GridCell, ...], "for each wind, what fails least"]
    refuse_above_m_s: Annotated[
        float | None, "wind to refuse above [m/s]; null = refused already at the lowest"
    ]
    refused: Annotated[
        GridCell | None, "the best of the first wind that is refused; null = none of the card is"
    ]
    limits: Annotated[tuple[Said, ...], "own limits, as agreed in day.toml; empty = none"]
    signed: Annotated[str, "who signed them, and when; empty = nobody"]
    aim_rad: Annotated[float | None, "where the rail leans to [rad]; null = into the wind"]
    lists: Annotated[tuple[Checklist, ...], "what is read and ticked"]
    cautions: Annotated[tuple[str, ...], "always shown"]
    titles: Annotated[Mapping[str, str], "rows by key, in words"]
    allowed: Annotated[AllowedApogees, "highest apogee that the field allows in each wind"]
    grid: Annotated[FieldGrid, "every wind, lean, delay and motor"]


def card(
    project: Project,
    plan: str | None = None,
    *,
    winds: Sequence[float] | None = None,
    tilts: Sequence[float] | None = None,
    flights: int = FLIGHTS,
    seed: int = 1,
    units: str = "metric",
    progress: Progress | None = None,
) -> FieldCard:
    """What to do at every wind: motor, delay, lean; what to refuse; the lists to tick.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        winds : sequence or None - mean winds at the plan's height; None = 1 to 9 m/s, and the
            half step between the last one allowed and the first refused. [m/s]
        tilts : sequence or None - leans of the rail; None = 0, 3, 6 deg and the plan's. [rad]
        flights : int - of each cell. [-]
        seed : int - same seed, same answer on one machine. [-]
        units : str - "metric" or "imperial", of the figures in the lists. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        card : FieldCard - figures and lists. [SI]
    Raises
        NoSuchPlan - no such plan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the grid: the day's air, field, rail, canopy and wind direction are the plan's. Beside
        the wind to refuse above, cells that cannot tell are judged on 800 flights.
    Source
        Same rows as the ledger.
    Example
        >>> project = goodflight.load("fieldfare")
        >>> card = goodflight.card(project, winds=(1.0, 5.0), tilts=(0.0,), flights=20)
        >>> [cell.wind_m_s for cell in card.best]
        [1.0, 5.0]
    """
    case = case_of(project, plan)
    leans = {case.rail.tilt_rad, *(TILTS_RAD if tilts is None else tilts)}
    own = project.day.limits

    def checked(flown: Case, found: Judged) -> tuple[tuple[Check, ...], Plan]:
        return checks_of(flown, found, own, None)

    grid = grid_of(
        case,
        Over(winds or WINDS_M_S, tilts_rad=sorted(leans)),
        flights=flights,
        seed=seed,
        progress=progress,
        checked=checked,
    )
    edge = Edge(case, own, checked, best=lambda grid, wind: _best(grid, wind, case))
    grid = at_limit(grid, edge)[0] if winds else to_half_steps(grid, edge)
    pull = separation_window_of(case, PULL_FLIGHTS, seed)
    best = tuple(_best(grid, wind, case) for wind in grid.winds_m_s)
    motors = (case.motors[key] for key in grid.motors)
    refuse_above_m_s, refused = refuse_above(best)
    return FieldCard(
        rocket=case.rocket.name,
        plan=case.plan,
        stamp=of_answer(project, case.plan).stamp,
        planned=_planned(grid, case),
        motors=tuple(CardMotor(k, m.name, m.delay_s) for k, m in zip(grid.motors, motors)),
        pull_min_n=pull.min_n,
        pull_max_n=pull.max_n,
        pull_advice=pull.advice,
        best=best,
        refuse_above_m_s=refuse_above_m_s,
        refused=refused,
        limits=limits_of(own),
        signed=signed_of(own),
        aim_rad=case.rail.azimuth_rad,
        lists=checklists_of(case, (pull.min_n, pull.max_n), units),
        cautions=cautions_of(CAUTIONS),
        titles=_titles(grid),
        allowed=allowed_of(case, grid.winds_m_s, seed=seed),
        grid=grid,
    )


def carried_for(case: Case, card: FieldCard) -> tuple[tuple[str, Carried], ...]:
    """Flights that a file carries to search with: of the plan and of what is best most often."""
    chosen = [(each.motor, each.delay_out_s) for each in (card.planned, *card.best)]
    often = sorted(dict.fromkeys(chosen[1:]), key=lambda each: -chosen[1:].count(each))
    wanted = list(dict.fromkeys((chosen[0], *often)))[:CARRIED]
    return tuple(
        (motor, carried_of(under(case, Conditions(motor=motor, delay_out_s=out))))
        for motor, out in wanted
    )


def _titles(grid: FieldGrid) -> dict[str, str]:
    told = {key for c in grid.cells for key in (c.worst, *c.unmet, *c.unknown)}
    return {row.key: row.title for row in LIMIT_STATES if row.key in told}


def _far(cell: GridCell, case: Case) -> tuple[float, ...]:
    """How far a cell is from the plan's own choices: motor first, then delay, then lean."""
    away = float(cell.motor != motor_key(case))
    out, lean = case.deployment.delay_out_s, case.rail.tilt_rad
    return away, abs(cell.delay_out_s - out), abs(cell.tilt_rad - lean)


def _best(grid: FieldGrid, wind_m_s: float, case: Case) -> GridCell:
    """The best of a wind: least that is not ok, least unknown, then the least chance.

    What ties goes to where nobody is, opened or not, then to the plan's own setting.
    """
    here = [cell for cell in grid.cells if cell.wind_m_s == wind_m_s]
    fewest = min((len(cell.forbidden), len(cell.unknown)) for cell in here)
    allowed = [cell for cell in here if (len(cell.forbidden), len(cell.unknown)) == fewest]
    least = min(cell.chance for cell in allowed) + TIE
    close = [cell for cell in allowed if cell.chance <= least]
    return min(close, key=lambda cell: (_hazard(cell), *_far(cell, case)))


def _hazard(cell: GridCell) -> float:
    """Shares that come down where people may be, opened and unopened; what is not known: 1."""
    shares = cell.unopened_near, cell.off_field
    return round(sum(1.0 if share is None else share for share in shares), 2)


def _planned(grid: FieldGrid, case: Case) -> GridCell:
    """The plan's own choices at the wind of the card nearest to the plan's."""
    wind = min(grid.winds_m_s, key=lambda each: abs(each - case.day.wind_m_s))
    here = [cell for cell in grid.cells if cell.wind_m_s == wind]
    return min(here, key=lambda cell: _far(cell, case))


def refuse_above(best: Sequence[GridCell]) -> tuple[float | None, GridCell | None]:
    """The wind to refuse above, and the first one refused, as the day board walks away."""
    good: float | None = None
    for cell in sorted(best, key=lambda each: each.wind_m_s):
        if refused_at(cell):
            return good, cell
        good = cell.wind_m_s
    return good, None
