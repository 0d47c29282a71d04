"""Every allowed delay of a plan's motor, and the motor as sold, on the same ascents."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import registry
from goodflight.project import Project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import caution
from goodflight.studies.judging.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.judging.flown import paired_error
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.judging.remedies import ERRORS
from goodflight.studies.levers.motor import EJECTION_ROWS
from goodflight.studies.motor_results import DelayRow, DelayStudy
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_together
from goodflight.studies.sampling.trials import make_trials

Progress = Callable[[str, float], None]
Mask = NDArray[np.bool_]


def delay(
    project: Project,
    plan: str | None = None,
    flights: int = 2000,
    seed: int = 1,
    progress: Progress | None = None,
) -> DelayStudy:
    """Which delay gives this flight the least chance of failing, counting every row.

    Each delay flies the same flights, gusts included: the ascents are the same and only the
    moment of ejection moves. The delay's scatter is in every delay, the drilling's error in each
    but the one as sold. What the same flights cannot tell from the lowest is tied: a difference
    within two standard errors, from the flights that change sides alone.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
    Returns
        study : DelayStudy - least total chance first; equal chances: nearest to apogee first. [SI]
    Raises
        StudyRefused - the motor has no delay to shorten, or an altimeter fires the charge.
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


def acts(case: Case) -> bool:
    """Whether a delay of the motor fires the charge of a flight."""
    return case.deployment.by == registry.BY_DELAY and case.motor.delay_s is not None


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
    if case.deployment.by != registry.BY_DELAY:
        raise StudyRefused(
            f"an altimeter fires the charge of plan {case.plan}: the motor's delay moves nothing",
            'a plan with deployment = "delay"',
            "ask for another plan; what to do about the motor's own charge, its maker's sheet says",
            f"{case.origin.plan_path.partition(':')[2]}.deployment",
            "plans.toml",
        )
    delays = sorted({0.0, case.deployment.delay_out_s, *motor.delay_out_allowed_s})
    cases = [case.with_delay_out(each) for each in delays]
    samples = [make_trials(each, flights, seed) for each in cases]
    views = fly_together(cases, samples, progress=progress)
    found = [(view, evaluate(view)) for view in views]
    rows = [_row(*each, motor.delay_s - out) for out, each in zip(delays, found)]
    fails = dict(zip(delays, (any_failing(each) for _, each in found)))
    rows.sort(key=lambda row: (row.chance, abs(row.after_apogee_s_5_50_95[1])))
    rows = [rows[0], *(replace(row, tied=_tied(row, rows[0], fails)) for row in rows[1:])]
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
        sold_s=motor.delay_s,
        sold_spread=motor.delay_sigma,
    )


def _tied(one: DelayRow, lowest: DelayRow, fails: Mapping[float, Mask]) -> bool:
    """Whether flights that fail with one delay and not with the other are too few to tell."""
    own, best = fails[one.delay_out_s], fails[lowest.delay_out_s]
    error = paired_error(best, own, np.full(own.size, 1.0 / own.size))
    return one.chance - lowest.chance <= ERRORS * error


def _row(view: View, rows: Sequence[Evaluated], delay_s: float) -> DelayRow:
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
            if row.known
            and not row.not_here
            and (row.limit.phase == "deployment" or row.limit.key in EJECTION_ROWS)
        },
        ejection_m_s_5_50_95=_points(view.outcome("ejection_m_s")),
        ejection_m_5_50_95=_points(view.outcome("ejection_m")),
        after_apogee_s_5_50_95=_points(after),
        state=plan.state,
        unknown=len(plan.unknown),
        spread_s=float(view.parameter("delay_s").std()),
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
    tied = [taken_out(row) for row in (rows[0], *(row for row in rows if row.tied))]
    if len(tied) > 1:
        found.append(f"{', '.join(tied)}: the same flights cannot tell them apart")
    return tuple(found)


def taken_out(row: DelayRow) -> str:
    """A delay by what is taken out of it."""
    return f"{row.delay_out_s:g} s out" if row.delay_out_s else "as sold"
