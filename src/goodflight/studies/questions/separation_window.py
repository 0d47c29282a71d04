"""How hard should the rocket pull apart? Least and most on a luggage scale, and what sets them.

Least: what tries to open it too early (drag after burnout, trapped air, the weight that hangs from
it when carried). Most: what the charge can push. A ground test decides; the motor maker's sheet
and the rules for powder go first.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from goodflight.physics.recovery.separation import SAFE, pin_force_n
from goodflight.project import Project
from goodflight.quantity.said import Words
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import caution
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.packing import stack_of
from goodflight.studies.rows import separation as rows
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.model import Array, Missing, View
from goodflight.studies.rows.parting import gas_of, hold_n
from goodflight.studies.sampling.flights import fly_trials

SURE: Final = 95.0  # per cent of the flights for which each end is right
POWDER_CAUTION: Final = caution("powder")
_ROWS: Final = (
    "separation_handled", "drag_separation", "trapped_air", "separation_shut", "separation_window",
)  # fmt: skip


@dataclass(frozen=True)
class Pull:
    """One force that sets the window: 5, 50 and 95 % of the flights [N], and its factor."""

    key: Annotated[str, "drag, air, weight or charge"]
    label: Annotated[str, "the same in words"]
    low_n: float
    middle_n: float
    high_n: float
    factor: Annotated[float, "times this at the lower end; the charge is divided by it"]


@dataclass(frozen=True)
class SeparationStudy:
    """The window of the pull to separate; None where a figure is missing."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the planned flight"]
    motor: Annotated[str, "name of the motor"]
    flights: Annotated[int, "flights simulated"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    min_n: Annotated[
        float | None, "lowest pull to separate, for 95 in 100 flights; null = not known"
    ]
    max_n: Annotated[float | None, "highest pull, for 95 in 100 flights; null = not known"]
    pulls: Annotated[tuple[Pull, ...], "what sets the ends"]
    measured_n: Annotated[float | None, "pull and pins as entered; null = not measured"]
    measured_sigma_n: Annotated[float, "its spread, one standard deviation"]
    state: Annotated[
        str, "inside, outside, no window, or unknown: the measured pull against the window"
    ]
    advice: Annotated[tuple[str, ...], "what to measure or change"]
    chances: Annotated[dict[str, float], "chance of each row of the separation by key"]
    warnings: Annotated[tuple[Words, ...], "cautions about this answer"] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False


def separation_window(
    project: Project, plan: str | None = None, flights: int = 2000, seed: int = 1
) -> SeparationStudy:
    """Least and most pull of the separation that opens at ejection.

    Each end holds for 95 of 100 flights: least from 1.5 times the greater of drag and trapped air
    together and the hanging weight, most from the charge's push over 1.5.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        flights : int - size of the ensemble. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        study : SeparationStudy - window, what sets it, measured pull against it. [N]
    Raises
        KeyError - no such plan; ValueError - the rocket lacks what a flight needs.
    Validity
        As the rows of the separation; still pull, dry joint at the day's temperature.
    Source
        See `physics/recovery/separation` and `charge`.
    Example
        >>> study = goodflight.separation(goodflight.load("fieldfare"), flights=50)
        >>> study.state
        'inside'
    """
    return separation_window_of(case_of(project, plan), flights, seed)


def separation_window_of(case: Case, flights: int = 2000, seed: int = 1) -> SeparationStudy:
    """The window of a resolved case; see `separation_window`."""
    return window_of(fly_trials(case, flights, seed), seed)


def window_of(view: View, seed: int = 1) -> SeparationStudy:
    """The window of flights that are flown already; see `separation_window`."""
    case = view.case
    early, missing = _early(view)
    gas, held = gas_of(view), hold_n(view)
    charge: Array | None = None
    if isinstance(gas, Missing):
        missing.append(gas.advice)
    else:
        charge = np.where(
            np.isfinite(view.outcome("ejection_m_s")),
            np.minimum(gas.push_n, gas.mean_push_n),
            np.nan,
        )
    least, most = _ends(early, charge)
    pulls = [_pull(*each) for each in early]
    if charge is not None:
        pulls.append(_pull("charge", "push of the charge over the coupler", charge))
    if isinstance(held, Missing):
        missing.append(held.advice)
    measured = None if isinstance(held, Missing) else float(np.median(held))
    return SeparationStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        flights=view.count,
        seed=seed,
        min_n=least,
        max_n=most,
        pulls=tuple(pulls),
        measured_n=measured,
        measured_sigma_n=0.0 if isinstance(held, Missing) else float(np.std(held)),
        state=_state(least, most, measured),
        advice=tuple([*missing, *_advice(case, least, most, measured)]),
        chances=_chances(view),
        warnings=(POWDER_CAUTION, *case.origin.warnings),
        invented=case.origin.invented,
    )


def _early(view: View) -> tuple[list[tuple[str, str, Array]], list[str]]:
    """What tries to open the separation too early, and what is missing to know it."""
    stack = stack_of(view.case)
    if view.case.rocket.separation_station_m is None:
        return [], ["write the station where the rocket separates"]
    hanging = rows.hanging_kg(view) * view.parameter("gravity_m_s2")
    found = [
        ("drag", "drag just after burnout", np.nan_to_num(rows.drag_pull_n(view))),
        ("weight", "weight that hangs from it, motor in", hanging),
    ]
    if isinstance(stack, Missing):
        return found, [stack.advice]
    found.insert(1, ("air", "trapped air on the way up", rows.air_push_n(view, stack)))
    return found, []


def _pull(key: str, label: str, values: Array) -> Pull:
    return Pull(
        key=key,
        label=label,
        low_n=point(values, 5),
        middle_n=point(values, 50),
        high_n=point(values, 95),
        factor=SAFE,
    )


def _ends(
    early: Sequence[tuple[str, str, Array]], charge: Array | None
) -> tuple[float | None, float | None]:
    """Both ends of the window, each right for SURE per cent of the flights."""
    by = {key: values for key, _, values in early}
    least = None
    if by:
        flight = by["drag"] + by.get("air", np.zeros_like(by["drag"]))
        least = _known(point(SAFE * np.maximum(flight, by["weight"]), SURE))
    most = None if charge is None else _known(point(charge / SAFE, 100.0 - SURE))
    return least, most


def _known(value: float) -> float | None:
    return value if np.isfinite(value) else None


def _state(least: float | None, most: float | None, measured: float | None) -> str:
    if least is not None and most is not None and least >= most:
        return "no window"
    if measured is None or least is None or most is None:
        return "unknown"
    return "inside" if least <= measured <= most else "outside"


def _advice(
    case: Case, least: float | None, most: float | None, measured: float | None
) -> tuple[str, ...]:
    if least is not None and most is not None and least >= most:
        return (
            "no pull is right: vent the bay, pack a smaller bay or more powder within the rules, "
            "or carry the rocket by its aft part",
        )
    if measured is None or least is None or most is None:
        return ()
    if measured < least:
        return ("too loose: add tape to the coupler and pull again",)
    if measured > most:
        return (_too_tight(case, most, measured),)
    return ("pull again at the temperature and humidity of the day",)


def _too_tight(case: Case, most: float, measured: float) -> str:
    """What brings pull and pins under the highest: tape can take off no more than tape holds."""
    told = case.rocket.separation
    if not told.pins:
        return "too tight: remove tape or sand the coupler, and pull again"
    one = pin_force_n(told.pin_thread, 1)
    left = max(0, int((most - max(measured - told.pins * one, 0.0)) / one))
    fewer = f"put in at most {left} instead of {told.pins}" if left else "leave the pins out"
    if told.pins * one > most:
        return f"too tight by its pins alone, tape or not: {fewer}, and make the ground test again"
    return (
        f"too tight: remove tape or sand the coupler, or {fewer}; pull again without pins, and "
        "make the ground test again"
    )


def _chances(view: View) -> dict[str, float]:
    wanted = [row for row in rows.ROWS if row.key in _ROWS]
    found = evaluate(view, wanted)
    return {row.limit.key: float(row.failing.mean()) for row in found if row.known}
