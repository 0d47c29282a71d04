"""Every motor in the project's folder on this rocket and field: can it, how likely, why not."""

from collections.abc import Callable
from typing import Final

import numpy as np

from goodflight.physics.flight import registry
from goodflight.physics.motor import motor_class, total_impulse_ns
from goodflight.physics.motor.model import Motor
from goodflight.project import Project
from goodflight.project.fit_checks import not_fitting
from goodflight.quantity.said import Said, Words, literal, said
from goodflight.studies.case.doubts import motor_doubts
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.judging.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.levers.motor import nearest_delay_out_s
from goodflight.studies.motor_results import MotorRow, MotorStudy
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_trials

Progress = Callable[[str, float], None]

SCREENED: Final = 250  # flights for each delay tried
NEAR_DELAYS: Final = 5  # delays tried, nearest to the coast of the middle flight
MAX_REASONS: Final = 3
LEVELS: Final = ("none", "L1", "L2", "L3")
_NAMED_ABOVE: Final = 0.02  # chance of a row worth naming


def motors(
    project: Project,
    plan: str | None = None,
    flights: int = 2000,
    seed: int = 1,
    progress: Progress | None = None,
) -> MotorStudy:
    """Which motors this rocket may fly from this field on this day, and how likely each fails.

    Each motor that goes into the tube is flown at the delay of least total chance among the allowed
    ones nearest to its coast; all rows of the ledger count.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - plan whose field, day, rail and canopy hold; None = the first. [-]
        flights : int - flights simulated for each motor. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        study : MotorStudy - least chance first; what cannot be flown last. [SI]
    Raises
        NoSuchPlan - no such plan; StudyRefused - the rocket lacks what a flight needs.
    Validity
        As the ledger; the rocket's own figures stay as they are.
    Source
        Same rows as the ledger.
    Example
        >>> study = goodflight.motors(goodflight.load("fieldfare"), flights=50)
        >>> [row.name for row in study.rows if row.chance is not None and row.chance > 1]
        []
    """
    return motors_of(case_of(project, plan), flights, seed, progress)


def motors_of(
    case: Case, flights: int = 2000, seed: int = 1, progress: Progress | None = None
) -> MotorStudy:
    """The motors of a resolved case; see `motors`."""
    rows = []
    for number, (key, motor) in enumerate(sorted(case.motors.items())):
        if progress is not None:
            progress(f"motor {motor.name}", number / max(1, len(case.motors)))
        rows.append(_row(case, key, motor, flights, seed))
    rows.sort(key=lambda row: (row.chance is None, row.chance or 0.0, row.impulse_ns))
    return MotorStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        site=case.site.name,
        level=case.rules.level,
        flights=flights,
        seed=seed,
        rows=tuple(rows),
        growth=growth(case, rows),
        warnings=(f"Field, day, rail and canopy are those of the plan. {WHO_DECIDES}",),
        invented=case.origin.invented,
    )


def level_needed(case: Case, motor: Motor) -> str:
    """Lowest certificate whose limit holds the motor's impulse, "" when the code does not say."""
    limits = {} if case.rules.code is None else case.rules.code.level_impulse_ns
    impulse = total_impulse_ns(motor)
    return next((k for k in LEVELS if k in limits and impulse <= limits[k].value), "")


def _row(case: Case, key: str, motor: Motor, flights: int, seed: int) -> MotorRow:
    fault: Words | None = not_fitting(case.rocket, motor)
    if not fault and motor.delay_s is None and case.deployment.by == registry.BY_DELAY:
        fault = "plugged: no delay charge, and this plan deploys by delay"
    impulse, level = total_impulse_ns(motor), level_needed(case, motor)
    name = motor_class(impulse)
    if fault:
        return MotorRow(
            key=key,
            name=motor.name,
            motor_class=name,
            impulse_ns=impulse,
            level=level,
            can="fails",
            delay_out_s=None,
            chance=None,
            low=None,
            high=None,
            apogee_m=None,
            why_not=(fault,),
        )
    case = with_best_delay(case.with_motor(motor, 0.0), seed)
    view = fly_trials(case, flights, seed)
    rows = evaluate(view)
    worst = _worst(rows)
    plan = judged_alone(rows, flights)
    apogee = view.outcome("apogee_m")
    known = apogee[np.isfinite(apogee)]
    return MotorRow(
        key=key,
        name=motor.name,
        motor_class=name,
        impulse_ns=impulse,
        level=level,
        can=plan.state,
        delay_out_s=case.deployment.delay_out_s if motor.delay_s is not None else None,
        chance=plan.total.chance,
        low=plan.total.low,
        high=plan.total.high,
        apogee_m=float(np.median(known)) if known.size else None,
        why_not=_reasons(worst, motor, case),
        unknown=len(plan.unknown),
        chances={row.limit.key: float(row.failing.mean()) for row in worst},
    )


def with_best_delay(case: Case, seed: int) -> Case:
    """The case at its delay of least total chance, among those nearest to the coast."""
    if case.motor.delay_s is None or len(case.motor.delay_out_allowed_s) < 2:
        return case
    if case.deployment.by != registry.BY_DELAY:
        return case
    middle = nearest_delay_out_s(case)
    near = sorted(case.motor.delay_out_allowed_s, key=lambda out: abs(out - middle))[:NEAR_DELAYS]
    tried = [case.with_delay_out(out) for out in near]
    return min(tried, key=lambda each: _screened(fly_trials(each, SCREENED, seed)))


def _screened(view: View) -> float:
    """Chance of failing, rows left out that fail on every flight whatever the delay."""
    open_rows = [row for row in evaluate(view) if not row.failing.all()]
    return float(any_failing(open_rows).mean()) if open_rows else 1.0


def _worst(rows: tuple[Evaluated, ...]) -> list[Evaluated]:
    """The rows that fail most, those that are worth a name."""
    found = sorted(
        rows, key=lambda row: (row.limit.thumb, -row.failing.mean(), row.limit.kind != "rule")
    )
    return [row for row in found[:MAX_REASONS] if row.failing.mean() > _NAMED_ABOVE]


def _reasons(worst: list[Evaluated], motor: Motor, case: Case) -> tuple[Words, ...]:
    named = [f"{row.limit.title} ({100 * row.failing.mean():.0f} in 100)" for row in worst]
    return (*named, *motor_doubts(case, motor))


def growth(case: Case, rows: list[MotorRow]) -> tuple[Said, ...]:
    """What the next certificate levels would need of this rocket and field, in sentences."""
    if case.rules.code is None or case.rules.level not in LEVELS:
        return (
            said("Name the field's code set and the plan's level to see the way to the next one."),
        )
    if not case.rules.code.level_impulse_ns:
        return (
            said(
                "The field's code set states no certificate levels: ask your organisation what "
                "the next one asks for."
            ),
        )
    found = list[Said]()
    for level in LEVELS[LEVELS.index(case.rules.level) + 1 :]:
        limit = case.rules.code.level_impulse_ns.get(level)
        if limit is None:
            continue
        there = [row for row in rows if row.level == level]
        least = max(
            (
                x.value
                for k, x in case.rules.code.level_impulse_ns.items()
                if LEVELS.index(k) < LEVELS.index(level)
            ),
            default=0.0,
        )
        if not there:
            found.append(
                said(
                    f"{level} ({{least}} to {{most}}): no motor of that size in motors/; "
                    "add one with its curve to see whether this rocket and field carry it.",
                    least=(least, "impulse"),
                    most=(limit.value, "impulse"),
                )
            )
            break
        best = min(there, key=lambda row: 2.0 if row.chance is None else row.chance)
        if best.chance is None:
            words = f"{level}: {best.name} cannot be flown here: {best.why_not[0]}."
        else:
            words = (
                f"{level}: {best.name} would fail {100 * best.chance:.0f} in 100 flights but for "
                "the certificate."
            )
        found.append(said(literal(words)))
        break
    return tuple(found) or (said("This is the highest level of the code set."),)
