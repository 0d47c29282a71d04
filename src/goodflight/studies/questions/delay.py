"""Every allowed delay of a plan's motor, and the motor as sold, on the same ascents."""

from collections.abc import Callable

import numpy as np

from goodflight.project import Project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import caution
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.levers.motor import DEPLOYMENT_ROWS
from goodflight.studies.motor_results import DelayRow, DelayStudy
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_together
from goodflight.studies.sampling.trials import make_trials

Progress = Callable[[str, float], None]


def delay(
    project: Project,
    plan: str | None = None,
    flights: int = 2000,
    seed: int = 1,
    progress: Progress | None = None,
) -> DelayStudy:
    """Which delay gives this flight the least chance of failing, counting every row.

    Each delay flies the same flights, gusts included: the ascents are the same and only the
    moment of ejection moves. The delay's scatter and the drilling's error are in every delay.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        study : DelayStudy - least total chance first; equal chances: nearest to apogee first. [SI]
    Raises
        StudyRefused - the motor has no delay to shorten.
    Validity
        As the ledger.
    Source
        Same rows as the ledger.
    Example
        >>> study = goodflight.delay(goodflight.load("fieldfare"), flights=50)
        >>> study.rows[0].chance <= study.rows[-1].chance
        True
    """
    return delay_of(case_of(project, plan), flights, seed, progress)


def delay_of(
    case: Case, flights: int = 2000, seed: int = 1, progress: Progress | None = None
) -> DelayStudy:
    """The delays of a resolved case; see `delay`."""
    motor = case.motor
    if motor.delay_s is None:
        raise StudyRefused(
            f"motor {motor.name} is plugged: no delay to shorten",
            "a motor with a delay",
            "choose one for this plan, or leave the plan to its altimeter",
            "motor",
        )
    delays = sorted({0.0, case.deployment.delay_out_s, *motor.delay_out_allowed_s})
    cases = [case.with_delay_out(each) for each in delays]
    samples = [make_trials(each, flights, seed) for each in cases]
    views = fly_together(cases, samples, progress=progress)
    rows = [_row(view, motor.delay_s - each) for each, view in zip(delays, views)]
    rows.sort(key=lambda row: (row.chance, abs(row.after_apogee_s_5_50_95[1])))
    return DelayStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=motor.name,
        flights=flights,
        seed=seed,
        planned_delay_out_s=case.deployment.delay_out_s,
        rows=tuple(rows),
        warnings=_warnings(case, rows),
        invented=case.origin.invented,
    )


def _row(view: View, delay_s: float) -> DelayRow:
    rows = evaluate(view)
    plan = judged_alone(rows, view.count)
    total = plan.total
    after = view.outcome("ejection_s") - view.outcome("apogee_s")
    return DelayRow(
        delay_out_s=view.case.deployment.delay_out_s,
        delay_s=delay_s,
        chance=total.chance,
        low=total.low,
        high=total.high,
        chances={
            row.limit.key: float(row.failing.mean())
            for row in rows
            if row.known and row.limit.key in DEPLOYMENT_ROWS
        },
        ejection_m_s_5_50_95=_points(view.outcome("ejection_m_s")),
        ejection_m_5_50_95=_points(view.outcome("ejection_m")),
        after_apogee_s_5_50_95=_points(after),
        state=plan.state,
        unknown=len(plan.unknown),
    )


def _points(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> tuple[float, float, float]:
    found = values[np.isfinite(values)]
    if found.size == 0:
        return (float("nan"),) * 3
    low, middle, high = np.quantile(found, (0.05, 0.5, 0.95))
    return float(low), float(middle), float(high)


def _warnings(case: Case, rows: list[DelayRow]) -> tuple[str, ...]:
    allowed = case.motor.delay_out_allowed_s
    found = [caution("delay")]
    if case.deployment.delay_out_s not in allowed and case.deployment.delay_out_s != 0.0:
        found.append(
            f"the plan takes {case.deployment.delay_out_s:g} s out, which the motor does not allow"
        )
    if rows and len(rows) > 1 and rows[1].low <= rows[0].chance:
        found.append(
            f"{rows[1].delay_out_s:g} s does as well: the simulated flights cannot separate the two"
        )
    return tuple(found)
