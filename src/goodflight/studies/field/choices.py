"""The choices at the pad: motor, delay, canopy, rail, lean and aim, the best of them together.

Searched one group after the other, each on the same few flights: motor with delay, canopy with
rail, then the aim of the rail. The first thing wanted is that nothing forbids the flight, then the
least chance of failing; what ties within three in a hundred goes to the choice whose rocket, opened
or not, comes down where nobody is, then to the plan's own setting.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any, Final

import numpy as np

from goodflight.physics.flight import registry
from goodflight.physics.polygon import signed_distance_m
from goodflight.project.fit_checks import not_fitting
from goodflight.studies.case.planned import Case, canopy_of
from goodflight.studies.field.checks import Check
from goodflight.studies.field.conditions import Conditions, canopies_of, delays_of, under
from goodflight.studies.field.grid import Checked, Point, middle_of, off_field_share
from goodflight.studies.field.together import Judged, flown_in_turn, unopened_of
from goodflight.studies.judging.plan import Plan
from goodflight.studies.levers.launch import ADVISED_TILT_RAD, MAX_TILT_RAD
from goodflight.studies.levers.motor import motor_key, nearest_delay_out_s

Changes = list[dict[str, Any]]

NEAR_DELAYS: Final = 3  # nearest to the coast of the middle flight, the planned one beside them
LEAN_SPREAD: Final = 2.0  # of the rail's own spread, kept from the code's limit
SPREAD_RAD: Final = math.radians(1.0)
TIE: Final = 0.03  # of the chance: what so few flights cannot tell apart
AIMS: Final = 8  # bearings tried
LEANS_RAD: Final = (math.radians(5.0),)


@dataclass(frozen=True)
class Choice:
    """One set of choices, and what it risks."""

    motor: Annotated[str, "file name of the motor"]
    motor_name: Annotated[str, "name of the motor"]
    delay_out_s: Annotated[float | None, "seconds taken out of the delay [s]; null = no delay"]
    canopy: Annotated[str, "canopy that opens first"]
    rail_m: Annotated[float, "length of the rail [m]"]
    tilt_rad: Annotated[float, "lean of the rail [rad]"]
    azimuth_rad: Annotated[float | None, "bearing its top leans to [rad]; null = into the wind"]
    chance: Annotated[float, "share of flights that fail, 0 to 1"]
    low: Annotated[float, "lower end of the 95 % Wilson interval"]
    high: Annotated[float, "upper end of the 95 % Wilson interval"]
    unknown: Annotated[int, "failures not known: the chance is a lower bound"]
    forbidden: Annotated[tuple[str, ...], "keys of the checks that are not ok"]
    apogee_m: Annotated[float | None, "median apogee [m]"]
    off_field: Annotated[float | None, "share that lands off the field or in a keep-out"]
    unopened_near: Annotated[float | None, "share that would reach people unopened"]
    unopened_off: Annotated[float | None, "share that would leave the field unopened"]
    landing_m: Annotated[Point | None, "median landing, east and north of the pad [m]"]
    unopened_m: Annotated[Point | None, "median unopened impact, east and north [m]"]


@dataclass(frozen=True, eq=False)
class Tried:
    """A choice with the conditions that make it, its flights and checks."""

    conditions: Conditions
    choice: Choice
    found: Judged
    checks: tuple[Check, ...]

    @property
    def hazard(self) -> float:
        """Shares that come down where people may be, opened and unopened; what is not known: 1."""
        shares = self.choice.unopened_near, self.choice.off_field, self.choice.unopened_off
        return round(sum(1.0 if share is None else share for share in shares), 2)


def tried(
    case: Case, all_of: Sequence[Conditions], checked: Checked, flights: int, seed: int
) -> list[Tried]:
    """Fly sets of choices on the same flights and hold each against everything."""
    (found,) = tried_in_turn([(case, all_of)], checked, flights, seed)
    return found


def tried_in_turn(
    asked: Iterable[tuple[Case, Sequence[Conditions]]], checked: Checked, flights: int, seed: int
) -> Iterator[list[Tried]]:
    """The same for one case after the other: the next flies while one is judged."""
    told = list(asked)
    lists = (_made(case, all_of) for case, all_of in told)
    for (_, all_of), judged in zip(told, flown_in_turn(lists, flights, seed)):
        yield [
            _tried(conditions, found, *checked(found.view.case, found))
            for conditions, found in zip(all_of, judged)
        ]


def _made(case: Case, all_of: Sequence[Conditions]) -> list[Case]:
    """The case under each of the conditions, its motor and canopy put in once."""
    made: dict[tuple[str | None, str | None, bool], Case] = {}
    cases = []
    for each in all_of:
        key = each.motor, each.canopy, each.delay_out_s is None
        if key not in made:
            only = Conditions(motor=each.motor, canopy=each.canopy, delay_out_s=each.delay_out_s)
            made[key] = under(case, only)
        cases.append(under(made[key], each))
    return cases


def _tried(conditions: Conditions, found: Judged, checks: tuple[Check, ...], plan: Plan) -> Tried:
    case, view = found.view.case, found.view
    bare = unopened_of(view)
    impact = bare.impact
    apogee = view.outcome("apogee_m")
    known = apogee[np.isfinite(apogee)]
    canopy = canopy_of(case)
    off = None
    if len(case.site.outline_m) > 2:
        gone = signed_distance_m(impact.east_m, impact.north_m, case.site.outline_m) > 0.0
        off = float(gone[np.isfinite(impact.east_m)].mean()) if known.size else None
    choice = Choice(
        motor=motor_key(case),
        motor_name=case.motor.name,
        delay_out_s=None if case.motor.delay_s is None else case.deployment.delay_out_s,
        canopy="" if canopy is None else canopy.name,
        rail_m=case.rail.length_m,
        tilt_rad=case.rail.tilt_rad,
        azimuth_rad=case.rail.azimuth_rad,
        chance=plan.total.chance,
        low=plan.total.low,
        high=plan.total.high,
        unknown=len(plan.unknown),
        forbidden=tuple(each.key for each in checks if each.held == "not ok"),
        apogee_m=float(np.median(known)) if known.size else None,
        off_field=off_field_share(found),
        unopened_near=bare.near,
        unopened_off=off,
        landing_m=middle_of(view.outcome("landing_east_m"), view.outcome("landing_north_m")),
        unopened_m=middle_of(impact.east_m, impact.north_m),
    )
    return Tried(conditions, choice, found, checks)


def contenders(
    case: Case,
    now: Tried,
    checked: Checked,
    flights: int,
    seed: int,
    motors: Sequence[str] | None = None,
    rails: Sequence[float] | None = None,
) -> tuple[Tried, ...]:
    """The plan and the sets of choices at hand among which the best is, for `settled`.

    Parameters
        case : Case - the plan on the hour's weather. [SI]
        now : Tried - the plan as it is, which stays where nothing does better. [-]
        checked : callable - holds a flown case against everything. [-]
        flights, seed : int - of each trial. [-]
        motors, rails : sequence or None - at hand; None = the folder's, the field's. [-, m]
    Returns
        tried : tuple - the plan, then those of the last group. [-]
    Raises
        StudyRefused - a motor that does not go in.
    Validity
        Few flights: what differs by less than their counting error is no better.
    Source
        Same rows as the ledger.
    """
    found = now
    stages: tuple[Callable[[], Changes], ...] = (
        lambda: _motors(case, motors),
        lambda: _canopies(case, rails),
        lambda: _aims(case),
    )
    results: tuple[Tried, ...] = (now,)
    for stage in stages:
        options = [replace(found.conditions, **each) for each in stage()]
        new = [each for each in options if each != found.conditions]
        results = (found, *tried(case, new, checked, flights, seed))
        found = least(results)
    return now, *(each for each in results if each is not now)


def settled(results: Sequence[Tried], sure: Callable[[Sequence[Tried]], list[Tried]]) -> Tried:
    """The best of them, looked at again by `sure`, until what is best then stays best."""
    options = list(results)
    while True:
        found = least(options)
        (again,) = sure((found,))
        if again is found:
            return found
        options = [again if each is found else each for each in options]


def least(results: Sequence[Tried]) -> Tried:
    """What nothing forbids, then the least chance, then what endangers nobody; ties: the first."""
    fewest = min(len(each.choice.forbidden) for each in results)
    allowed = [each for each in results if len(each.choice.forbidden) == fewest]
    chance = min(each.choice.chance for each in allowed) + TIE
    close = [each for each in allowed if each.choice.chance <= chance]
    return min(close, key=lambda each: each.hazard)


def _motors(case: Case, at_hand: Sequence[str] | None) -> Changes:
    """Motors at hand that go in, each with the delays nearest to its coast."""
    flown = motor_key(case)
    keys = sorted(case.motors) if at_hand is None else at_hand
    found: Changes = []
    for key in keys:
        motor = case.motors.get(key)
        if (
            motor is not None
            and key != flown
            and (
                not_fitting(case.rocket, motor)
                or (motor.delay_s is None and case.deployment.by == registry.BY_DELAY)
            )
        ):
            continue
        base = under(case, Conditions(motor=key))
        if base.motor.delay_s is None or case.deployment.by != registry.BY_DELAY:
            found.append({"motor": key})
            continue
        middle = nearest_delay_out_s(base) if key == flown else base.deployment.delay_out_s
        near = sorted(delays_of(base), key=lambda out: abs(out - middle))[:NEAR_DELAYS]
        found += [{"motor": key, "delay_out_s": out} for out in near]
    return found


def _canopies(case: Case, rails: Sequence[float] | None) -> Changes:
    """Canopies of the plan on the rails at hand."""
    lengths = sorted({*(case.site.rail_lengths_m if rails is None else rails)})
    return [
        {"canopy": canopy.name, "rail_m": length}
        for canopy in canopies_of(case)
        for length in lengths
    ]


def _aims(case: Case) -> Changes:
    """The rail upright, into the wind, and leaned every way within the code's limit."""
    code = case.rules.code
    told = None if code is None else code.rail_tilt_rad
    limit = MAX_TILT_RAD if told is None else told.value
    most = min(limit - LEAN_SPREAD * SPREAD_RAD, ADVISED_TILT_RAD)
    leans = [lean for lean in LEANS_RAD if lean <= most]
    aims: Changes = [{"tilt_rad": 0.0, "into_wind": True, "azimuth_rad": None}]
    for lean in leans:
        aims.append({"tilt_rad": lean, "into_wind": True, "azimuth_rad": None})
        aims += [
            {"tilt_rad": lean, "into_wind": False, "azimuth_rad": math.tau * i / AIMS}
            for i in range(AIMS)
        ]
    return aims
