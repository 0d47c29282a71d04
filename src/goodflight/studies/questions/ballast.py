"""How much ballast a margin needs: grams, where, how it is fixed, and what else it changes.

The balance is that of the rocket as weighed. The mass follows from the lever law; what else it
does is seen on the same flights, flown without it and with it. Nothing is written.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

import numpy as np

from goodflight.physics.vehicle.ballast import ballast_kg
from goodflight.project import Project
from goodflight.quantity import show
from goodflight.quantity.said import Said, Words, either, said
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.levers.balance import MOST_KG, ballast_station_m
from goodflight.studies.levers.whatif import tried
from goodflight.studies.questions.layout import Layout, layout_of
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_trials

Verdict = Literal["none needed", "enough", "too much"]
USUAL_CAL: Final = 1.5  # asked for where nothing is said; common practice, no source: 1 to 2
MOST_CAL: Final = 10.0
_POURED: Final = (
    "Weigh it, then mix small steel or lead shot into slow epoxy and pour it into the tip, nose "
    "down, at most "
)
_THICK: Final = " at a time: a thick pour heats up and softens a printed nose."
FIXING: Final[tuple[Words, ...]] = (
    either(
        f"{_POURED}30 g{_THICK}",
        f"{_POURED}1 oz{_THICK}",
    ),
    "Let it grip: a screw or dowel across the nose through the pour, or a washer and nut on a "
    "threaded rod into the nose's plate. Never loose, never taped.",
    "Wear gloves with epoxy and lead, wash your hands, do not sand or heat lead.",
    "Then balance the rocket again and enter it.",
)  # common practice, no source


@dataclass(frozen=True)
class SideEffect:
    """One figure of the flight, without and with the ballast."""

    name: Annotated[str, "the figure; of flights the middle one"]
    dimension: Annotated[str, "what it is"]
    before: Annotated[float, "without it [SI]"]
    now: Annotated[float, "with it [SI]"]


@dataclass(frozen=True)
class RowMoved:
    """One row of the ledger whose failing flights the ballast changes."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    before: Annotated[int, "flights that fail without it"]
    now: Annotated[int, "flights that fail with it"]


@dataclass(frozen=True)
class BallastStudy:
    """Least ballast in the nose for a margin asked for, and its side effects."""

    rocket: Annotated[str, "its name"]
    plan: Annotated[str, "the planned flight"]
    motor: Annotated[str, "motor in it when it balances"]
    invented: Annotated[bool, "whether the project says it is made up"]
    weighed: Annotated[bool, "whether the balance is of a rocket weighed whole"]
    asked_cal: Annotated[float, "least margin asked for, ready to fly and at burnout [calibres]"]
    margin_cal: Annotated[float, "the lesser of both margins now [calibres]"]
    margin_then_cal: Annotated[float, "the same with the ballast [calibres]"]
    sigma_cal: Annotated[float, "one standard deviation of the margin, CG and CP [calibres]"]
    verdict: Annotated[Verdict, "none needed; enough: this ballast does; too much: none does"]
    exact_kg: Annotated[float | None, "least mass that does; null = no mass there does [kg]"]
    mass_kg: Annotated[float, "the same on the next step a builder weighs; 0 = none [kg]"]
    station_m: Annotated[float, "where, from the nose tip [m]"]
    push_n: Annotated[float, "what it pushes aft with under the greatest acceleration [N]"]
    words: Annotated[Said, "the answer in words"]
    fixing: Annotated[tuple[Words, ...], "how it is fixed, step by step"]
    effects: Annotated[tuple[SideEffect, ...], "margins and flight without and with it"]
    rows: Annotated[tuple[RowMoved, ...], "rows whose count of failing flights changes, most first"]
    flights: Annotated[int, "flights simulated, without and with it; 0 = nothing to fly"]
    chance_before: Annotated[float | None, "chance that a flight fails without it; null: not flown"]
    chance_now: Annotated[float | None, "chance that a flight fails with it; null: not flown"]


@dataclass(frozen=True)
class _Flown:
    effects: tuple[SideEffect, ...] = ()
    rows: tuple[RowMoved, ...] = ()
    chance_before: float | None = None
    chance_now: float | None = None
    acceleration_m_s2: float = 0.0


_NOT_FLOWN: Final = _Flown()


def ballast(
    project: Project,
    plan: str | None = None,
    margin: float = USUAL_CAL,
    flights: int = 1000,
    seed: int = 1,
) -> BallastStudy:
    """How much ballast in the nose does a margin need, and what else does it change?

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        margin : float - least static margin, ready to fly and at burnout. [calibres]
        flights : int - size of the ensemble, flown without and with it. [-]
        seed : int - same seed, same answer on one machine. [-]
    Returns
        study : BallastStudy - grams, where, how fixed, side effects. [SI]
    Raises
        StudyRefused - no such margin; NoSuchPlan.
    Validity
        Margin at small angle of attack and Mach 0.3, of the middle rocket; ballast is a point.
    Source
        `ballast_kg`; the same flights as the ledger.
    Example
        >>> study = goodflight.ballast(goodflight.load("fieldfare"), margin=2.4, flights=20)
        >>> study.verdict, round(study.mass_kg, 3)
        ('enough', 0.04)
    """
    if not 0.0 < margin <= MOST_CAL:
        raise StudyRefused(
            f"a margin of {margin:g} calibres",
            f"above 0, at most {MOST_CAL:g}",
            "1 to 2 is usual",
            "margin",
        )
    case = case_of(project, plan)
    laid, station = layout_of(case), ballast_station_m(case)
    exact = _least_kg(laid, station, margin)
    mass, now = _on_a_step(case, exact)
    then = laid if mass == 0.0 else layout_of(now)
    verdict: Verdict = "none needed" if exact == 0.0 else "enough" if mass > 0.0 else "too much"
    flown = _flown(case, now, flights, seed) if verdict == "enough" else _NOT_FLOWN
    return BallastStudy(
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        invented=case.origin.invented,
        weighed=any(row.whole for row in project.weighings.weighing),
        asked_cal=margin,
        margin_cal=_least(laid),
        margin_then_cal=_least(then),
        sigma_cal=math.hypot(then.cg_liftoff.sigma_m, then.cp.sigma_m) / then.diameter_m,
        verdict=verdict,
        exact_kg=exact if math.isfinite(exact) else None,
        mass_kg=mass,
        station_m=station,
        push_n=mass * flown.acceleration_m_s2,
        words=_answer(verdict, exact, mass, station, margin),
        fixing=FIXING if verdict == "enough" else (),
        effects=(*_both(laid, then), *flown.effects),
        rows=flown.rows,
        flights=flights if verdict == "enough" else 0,
        chance_before=flown.chance_before,
        chance_now=flown.chance_now,
    )


def setting_of(mass_kg: float) -> str:
    """The id of the what-if setting that adds this mass."""
    return f"{round(mass_kg, 6):g}"


def writes_of(project: Project, plan: str | None, mass_kg: float) -> tuple[tuple[str, str], ...]:
    """What keeping this ballast writes: project path and text of each entry.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
        mass_kg : float - `mass_kg` of the study. [kg]
    Returns
        writes : tuple of (path, text) - for `keep`. [-]
    Raises
        StudyRefused - no such setting.
    Validity
        Nothing is written.
    Source
        The what-if control "ballast added in the nose".
    """
    return tried(case_of(project, plan), {"ballast": setting_of(mass_kg)}).writes


def _least_kg(laid: Layout, station_m: float, margin_cal: float) -> float:
    """The greater of what lift-off and burnout need; without propellant the rocket is lighter."""
    wanted = laid.cp.station_m - margin_cal * laid.diameter_m
    states = (
        (laid.liftoff_mass_kg, laid.cg_liftoff.station_m),
        (laid.burnout_mass_kg, laid.cg_burnout.station_m),
    )
    return max(ballast_kg(mass, cg, station_m, wanted) for mass, cg in states)


def _on_a_step(case: Case, exact_kg: float) -> tuple[float, Case]:
    """The least setting of the control that is enough; 0 where none is or none is needed."""
    if exact_kg == 0.0 or exact_kg > MOST_KG:
        return 0.0, case
    control = next(each for each in tried(case, {}).controls if each.key == "ballast")
    enough = [
        each
        for each in control.offer.settings
        if each.value is not None and each.value >= exact_kg - 1e-9
    ]
    if not enough or enough[0].value is None:
        return 0.0, case
    return enough[0].value, enough[0].make(case)


def _least(laid: Layout) -> float:
    return min(laid.margin_liftoff_cal, laid.margin_burnout_cal)


def _both(before: Layout, now: Layout) -> tuple[SideEffect, ...]:
    return (
        SideEffect(
            "margin ready to fly", "calibre", before.margin_liftoff_cal, now.margin_liftoff_cal
        ),
        SideEffect(
            "margin at burnout", "calibre", before.margin_burnout_cal, now.margin_burnout_cal
        ),
        SideEffect(
            "balance ready to fly", "length", before.cg_liftoff.station_m, now.cg_liftoff.station_m
        ),
        SideEffect("mass ready to fly", "mass", before.liftoff_mass_kg, now.liftoff_mass_kg),
    )


def _flown(case: Case, with_it: Case, flights: int, seed: int) -> _Flown:
    """The same flights without it and with it."""
    before, now = (fly_trials(each, flights, seed) for each in (case, with_it))
    old, new = evaluate(before), evaluate(now)
    return _Flown(
        effects=_effects(before, now),
        rows=_moved(old, new),
        chance_before=judged_alone(old, flights).total.chance,
        chance_now=judged_alone(new, flights).total.chance,
        acceleration_m_s2=_middle(now, "max_acceleration_m_s2"),
    )


def _effects(before: View, now: View) -> tuple[SideEffect, ...]:
    listed = (
        ("thrust to weight", "ratio", "thrust_to_weight"),
        ("speed leaving the rail", "speed", "rail_exit_m_s"),
        ("apogee", "length", "apogee_m"),
        ("landing speed", "speed", "landing_m_s"),
        ("speed at ejection", "speed", "ejection_m_s"),
    )
    found = [
        SideEffect(n, kind, _middle(before, key), _middle(now, key)) for n, kind, key in listed
    ]
    wants = [_median(v.outcome("apogee_s") - v.outcome("burnout_s")) for v in (before, now)]
    found.insert(3, SideEffect("burnout to apogee: the delay it wants", "time", *wants))
    return tuple(each for each in found if math.isfinite(each.before) and math.isfinite(each.now))


def _middle(view: View, key: str) -> float:
    return _median(view.outcome(key))


def _median(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
    found = values[np.isfinite(values)]
    return float(np.median(found)) if found.size else math.nan


def _moved(before: Sequence[Evaluated], now: Sequence[Evaluated]) -> tuple[RowMoved, ...]:
    old = {row.limit.key: row for row in before if row.known}
    both = [
        (row.limit, int(old[row.limit.key].failing.sum()), int(row.failing.sum()))
        for row in now
        if row.known and row.limit.key in old
    ]
    moved = [RowMoved(limit.key, limit.title, was, now) for limit, was, now in both if was != now]
    return tuple(sorted(moved, key=lambda each: -abs(each.now - each.before)))


def _answer(verdict: Verdict, exact: float, mass: float, station: float, margin: float) -> Said:
    asked = show(margin, "calibre")
    if verdict == "none needed":
        return said(f"no ballast is needed for a margin of {asked}")
    if verdict == "enough":
        return said(
            f"{{mass}} in the nose, {{place}} from the tip, is enough for a margin of {asked}",
            mass=(mass, "mass"),
            place=(station, "length"),
        )
    others = "; larger fins, or less mass at the tail, do it better"
    if math.isfinite(exact):
        return said(
            f"a margin of {asked} would need {{mass}} in the nose, more than {{most}}" + others,
            mass=(exact, "mass"),
            most=(MOST_KG, "mass"),
        )
    return said(f"no ballast in the nose gives a margin of {asked}" + others)
