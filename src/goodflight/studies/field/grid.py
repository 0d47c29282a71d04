"""The plan over winds, delays, leans of the rail and motors: what each cell risks, and where."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import registry
from goodflight.project import Project
from goodflight.project.fit_checks import not_fitting
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.checks import Check, wrong_of
from goodflight.studies.field.conditions import Conditions, delays_of, under
from goodflight.studies.field.together import Judged, Unopened, flown_in_turn, unopened_of
from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.judging.plan import Plan, judged_alone
from goodflight.studies.levers.motor import motor_key
from goodflight.studies.results import State

Array = NDArray[np.float64]
Point = tuple[float, float]
Progress = Callable[[str, float], None]
Checked = Callable[[Case, Judged], tuple[tuple[Check, ...], Plan]]

FLIGHTS: Final = 200  # of a cell
HIGH: Final = 0.95  # share of the flights that stay below the apogee told


@dataclass(frozen=True)
class GridCell:
    """One wind, delay, lean and motor."""

    motor: Annotated[str, "file name of the motor"]
    wind_m_s: Annotated[float, "mean wind [m/s]"]
    tilt_rad: Annotated[float, "lean of the rail [rad]"]
    delay_out_s: Annotated[float, "seconds taken out of the delay [s]"]
    chance: Annotated[float, "share of flights that fail in any known row, 0 to 1"]
    low: Annotated[float, "lower end of the 95 % Wilson interval"]
    high: Annotated[float, "upper end of the 95 % Wilson interval"]
    state: Annotated[State, "ok, marginal, fails, unknown: as the state of a ledger"]
    worst: Annotated[str, "failure row with the highest chance; empty = none failed"]
    worst_chance: Annotated[float, "its share of flights"]
    off_field: Annotated[
        float | None, "share that lands off the field or in a keep-out; null = not known"
    ]
    unopened_near: Annotated[
        float | None, "share that would reach people unopened; null = not known"
    ]
    apogee_m: Annotated[float | None, "median apogee [m]; null = none left the rail"]
    apogee_high_m: Annotated[float | None, "apogee that 19 of 20 flights stay below [m]"]
    landing_m: Annotated[Point | None, "median landing, east and north of the pad [m]"]
    unopened_m: Annotated[Point | None, "median impact if nothing opens, east and north [m]"]
    unmet: Annotated[tuple[str, ...], "keys of rules not met and statements denied"]
    unknown: Annotated[tuple[str, ...], "keys of failures not known: the chance is a lower bound"]
    flights: Annotated[int, "flights it was judged on"]
    forbidden: Annotated[
        tuple[Check, ...], "what is not ok of own limits, rules and chance; empty in a bare grid"
    ] = ()


@dataclass(frozen=True)
class FieldGrid:
    """Every cell, motor by motor, wind by wind, lean by lean, delay by delay."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "plan whose field, day, rail and canopy hold"]
    site: Annotated[str, "name of the field"]
    canopy: Annotated[str, "canopy that opens first"]
    rail_m: Annotated[float, "length of the rail [m]"]
    gust_factor: Annotated[float, "gust over mean wind"]
    wind_height_m: Annotated[float, "height of the wind [m]"]
    wind_from_rad: Annotated[float, "where the wind comes from [rad]"]
    winds_m_s: Annotated[tuple[float, ...], "mean winds [m/s]"]
    tilts_rad: Annotated[tuple[float, ...], "leans of the rail [rad]"]
    motors: Annotated[tuple[str, ...], "file names of the motors flown"]
    flights: Annotated[int, "flights of each cell"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    cells: Annotated[tuple[GridCell, ...], "every cell"]
    not_flown: Annotated[tuple[tuple[str, str], ...], "motors that cannot be flown, and why"] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False


@dataclass(frozen=True)
class Over:
    """What a grid runs over, with its defaults.

    winds_m_s, tilts_rad : None = the plan's. delays_s : out, where a motor allows them; None = all
    allowed. motors : file names; None = every motor that goes in.
    """

    winds_m_s: Sequence[float] | None = None
    delays_s: Sequence[float] | None = None
    tilts_rad: Sequence[float] | None = None
    motors: Sequence[str] | None = None


def field_grid(
    project: Project,
    plan: str | None = None,
    *,
    winds: Sequence[float] | None = None,
    delays: Sequence[float] | None = None,
    tilts: Sequence[float] | None = None,
    motors: Sequence[str] | None = None,
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
) -> FieldGrid:
    """What a plan risks over winds, delays, leans of the rail and motors, on the same flights.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        winds : sequence or None - mean winds at the plan's height; None = the plan's. [m/s]
        delays : sequence or None - seconds out, where a motor allows them; None = all allowed. [s]
        tilts : sequence or None - leans of the rail; None = the plan's. [rad]
        motors : sequence or None - file names; None = every motor that goes in. [-]
        flights : int - of each cell. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        grid : FieldGrid - chances, the worst row, landings, heights. [SI]
    Raises
        NoSuchPlan - no such plan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the ledger; a cell counts only its own flights, so its interval is wide. Every cell
        flies the same scores and gusts: differences between cells scatter less than the cells.
    Source
        Same rows as the ledger.
    Example
        >>> demo = goodflight.load("fieldfare")
        >>> grid = goodflight.field_grid(demo, winds=(1.0, 5.0), motors=("H-b",), flights=20)
        >>> grid.cells[0].wind_m_s
        1.0
    """
    return grid_of(
        case_of(project, plan), Over(winds, delays, tilts, motors), flights, seed, progress
    )


def grid_of(
    case: Case,
    over: Over,
    flights: int = FLIGHTS,
    seed: int = 1,
    progress: Progress | None = None,
    checked: Checked | None = None,
) -> FieldGrid:
    """The grid of a resolved case, perhaps held against everything; see `field_grid`."""
    winds = tuple(over.winds_m_s or (case.day.wind_m_s,))
    tilts = tuple(over.tilts_rad if over.tilts_rad is not None else (case.rail.tilt_rad,))
    wanted = sorted(case.motors) if over.motors is None else list(over.motors)
    refused = {key: why for key in wanted if (why := _not_here(case, key))}
    flown = [key for key in wanted if key not in refused]
    cells: list[GridCell] = []
    asked = [(key, wind) for key in flown for wind in winds]
    lists = (_cases(case, key, wind, tilts, over.delays_s) for key, wind in asked)
    found = flown_in_turn(lists, flights, seed)
    for number, (key, wind) in enumerate(asked):
        if progress is not None:
            name = under(case, Conditions(motor=key)).motor.name
            progress(f"motor {name}, wind {wind:g} m/s", number / len(asked))
        judged = next(found)
        # of each lean the flights with the longest delay: most have their apogee before it
        flown_at = {each.view.case.rail.tilt_rad: each.view for each in reversed(judged)}
        bare = {tilt: unopened_of(view) for tilt, view in flown_at.items()}
        for each in judged:
            cell = _cell(key, wind, each, bare[each.view.case.rail.tilt_rad])
            if checked is not None:
                wrong = wrong_of(checked(each.view.case, each)[0])
                cell = replace(cell, forbidden=tuple(wrong))
            cells.append(cell)
    return FieldGrid(
        rocket=case.rocket.name,
        plan=case.plan,
        site=case.site.name,
        canopy=_name(case),
        rail_m=case.rail.length_m,
        gust_factor=case.day.gust_factor,
        wind_height_m=case.day.wind_height_m,
        wind_from_rad=case.day.wind_from_rad,
        winds_m_s=winds,
        tilts_rad=tilts,
        motors=tuple(flown),
        flights=flights,
        seed=seed,
        cells=tuple(cells),
        not_flown=tuple(refused.items()),
        invented=case.origin.invented,
    )


def _cases(
    case: Case,
    motor: str,
    wind_m_s: float,
    tilts: Sequence[float],
    delays: Sequence[float] | None,
) -> list[Case]:
    """Every lean with every delay of a motor in a wind."""
    base = under(case, Conditions(motor=motor))
    allowed = delays_of(base) if delays is None else set(delays) & set(delays_of(base))
    return [
        under(base, Conditions(wind_m_s=wind_m_s, tilt_rad=tilt, delay_out_s=out))
        for tilt in tilts
        for out in sorted(allowed)
    ]


def _name(case: Case) -> str:
    canopy = canopy_of(case)
    return "" if canopy is None else canopy.name


def _not_here(case: Case, key: str) -> str:
    """Why a motor cannot be flown; empty when it can. Raises StudyRefused: there is no such."""
    motor = case.motors.get(key)
    if motor is None:
        under(case, Conditions(motor=key))
        return ""
    if motor.delay_s is None and case.deployment.by == registry.BY_DELAY:
        return "plugged: no delay charge, and this plan deploys by delay"
    why = None if key == motor_key(case) else not_fitting(case.rocket, motor)
    return "" if why is None else why.told()


def _cell(motor: str, wind_m_s: float, found: Judged, bare: Unopened) -> GridCell:
    view, case = found.view, found.view.case
    plan = judged_alone(found.rows, view.count, margins=False)
    if plan.state in ("ok", "marginal"):
        plan = judged_alone(found.rows, view.count)
    shares = {row.limit.key: share_of(row) for row in found.rows}
    kinds = {row.limit.key: row.limit.kind for row in found.rows}
    failing = {k: s for k, s in shares.items() if s and kinds[k] == "failure"}
    worst = max(failing, key=lambda key: failing[key], default="")
    return GridCell(
        motor=motor,
        wind_m_s=wind_m_s,
        tilt_rad=case.rail.tilt_rad,
        delay_out_s=case.deployment.delay_out_s,
        chance=plan.total.chance,
        low=plan.total.low,
        high=plan.total.high,
        state=plan.state,
        worst=worst,
        worst_chance=failing.get(worst, 0.0),
        off_field=off_field_share(found),
        unopened_near=bare.near,
        apogee_m=_quantile(view.outcome("apogee_m"), 0.5),
        apogee_high_m=_quantile(view.outcome("apogee_m"), HIGH),
        landing_m=middle_of(view.outcome("landing_east_m"), view.outcome("landing_north_m")),
        unopened_m=middle_of(bare.impact.east_m, bare.impact.north_m),
        unmet=plan.unmet,
        unknown=plan.unknown,
        flights=view.count,
    )


def share_of(row: Evaluated) -> float | None:
    """Share of the flights that fail in a row; None where it is not known."""
    return float(row.failing.mean()) if row.known else None


def off_field_share(found: Judged) -> float | None:
    """Share that lands outside the field or in a keep-out; None where either is not known."""
    rows = [row for row in found.rows if row.limit.key in ("off_field", "keep_out")]
    if not all(row.known for row in rows):
        return None
    return float(np.any([row.failing for row in rows], axis=0).mean())


def _quantile(values: Array, level: float) -> float | None:
    known = values[np.isfinite(values)]
    return float(np.quantile(known, level)) if known.size else None


def middle_of(east: Array, north: Array) -> Point | None:
    """Median place; None where nothing came down."""
    known = np.isfinite(east) & np.isfinite(north)
    if not known.any():
        return None
    return float(np.median(east[known])), float(np.median(north[known]))
