"""The last designs of a search: flown as the projects they open as, and told in figures.

Every wind of the season is a plan of the project, flown with its share of the flights, so that
the ledger of the project says the same chance with as many flights.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.project import read_project
from goodflight.project.idea import weight_of
from goodflight.project.idea_design import SWEEP_SHARE, TIP_SHARE, Design, Laid
from goodflight.project.idea_texts import texts_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.chance import MARGINAL_ABOVE, TOTAL_FAILS_ABOVE, wilson
from goodflight.studies.judging.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.questions.layout import layout_of
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sizing.results import InTheWay, SizedDesign, ToFindOut, Verdict, WindChance
from goodflight.studies.sizing.trying import Tried, Trying, effort, paired_share_error

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
SHOWN: Final = 3
MOST_ROWS: Final = 5  # of a design that are told


@dataclass(frozen=True)
class Flown:
    """A design flown in every wind of the season."""

    tried: Tried
    views: tuple[View, ...]
    rows: tuple[tuple[Evaluated, ...], ...]
    failing: tuple[Mask, ...]
    margin_cal: float
    liftoff_kg: float


def counts(trying: Trying, flights: int) -> list[int]:
    """Flights in each wind."""
    return [max(20, round(flights * share)) if share > 0.0 else 0 for share in trying.shares]


def flown(trying: Trying, one: Tried, flights: int, seed: int) -> Flown:
    """A design flown as the project it opens as, every wind a plan of it."""
    project = read_project(texts_of(trying.idea, one.design, one.laid))
    views, rows, failing = list[View](), [], []
    for name, count in zip(trying.names, counts(trying, flights), strict=True):
        if not count:
            continue
        like = views[0].case.uncertainty.sensitivities if views else None  # the wind moves none
        view = fly_trials(case_of(project, name, like), count, seed)
        views.append(view)
        rows.append(evaluate(view))
        failing.append(any_failing(rows[-1]))
    laid = layout_of(views[0].case)
    return Flown(
        tried=one,
        views=tuple(views),
        rows=tuple(rows),
        failing=tuple(failing),
        margin_cal=min(laid.margin_liftoff_cal, laid.margin_burnout_cal),
        liftoff_kg=laid.liftoff_mass_kg,
    )


def least_effort(trying: Trying, like: Sequence[Flown]) -> Flown:
    """Of designs of one kind that of least effort that all these flights cannot tell from the best.

    Within one standard error of the difference on the same flights, and without a further rule
    broken.
    """

    def rank(one: Flown) -> tuple[int, float]:
        return len(broken(trying, one)), chance_of(trying, one)

    best = min(like, key=rank)
    rules, chance = rank(best)
    tied = [best]
    for one in like:
        apart = [a.astype(float) - b for a, b in zip(one.failing, best.failing, strict=True)]
        error = paired_share_error(_shares(trying), apart)
        if rank(one)[0] <= rules and rank(one)[1] - chance <= error:
            tied.append(one)
    return min(tied, key=lambda each: effort(each.tried, best.tried))


def _shares(trying: Trying) -> list[float]:
    return [share for share in trying.shares if share > 0.0]


def chance_of(trying: Trying, one: Flown) -> float:
    return sum(
        share * float(mask.mean()) for share, mask in zip(_shares(trying), one.failing, strict=True)
    )


def _season(trying: Trying, one: Flown, kind: str) -> list[InTheWay]:
    """Rows of a kind that fail, with their share over the season, worst first."""
    found = []
    for place, row in enumerate(one.rows[0]):
        each = [rows[place] for rows in one.rows]
        known = [(s, e) for s, e in zip(_shares(trying), each, strict=True) if e.known]
        if row.limit.kind != kind or row.limit.thumb or not known:
            continue
        chance = sum(share * float(e.failing.mean()) for share, e in known)
        if chance > 0.0:
            worst = max((e for _, e in known), key=lambda e: float(e.failing.mean()))
            found.append(
                InTheWay(
                    key=row.limit.key,
                    title=row.limit.title,
                    kind=kind,
                    chance=chance,
                    unit=row.limit.unit,
                    demand=_middle(worst.demand),
                    limit=_middle(worst.capacity),
                )
            )
    return sorted(found, key=lambda each: -each.chance)


def _middle(values: Array) -> float | None:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size else None


def broken(trying: Trying, one: Flown) -> list[InTheWay]:
    """Rules that a design does not keep."""
    return [each for each in _season(trying, one, "rule") if each.chance > MARGINAL_ABOVE]


def unlike(finals: Sequence[Flown]) -> list[Flown]:
    """The first, then the best of another motor, tube or canopy each; never three neighbours."""
    shown: list[Flown] = list(finals[:1])
    for more in (True, False):  # another motor first, then another tube or canopy
        for one in finals:
            taken = [each.tried.design for each in shown]
            new = one.tried.design.motor not in {each.motor for each in taken}
            if len(shown) < SHOWN and one not in shown and (new or not more):
                shown.append(one)
    return sorted(shown, key=finals.index)


def sized(trying: Trying, one: Flown, first: Flown, number: int) -> SizedDesign:
    design, laid, said = one.tried.design, one.tried.laid, trying.idea.said
    shares, chance = _shares(trying), chance_of(trying, one)
    sizes = [mask.size for mask in one.failing]
    counted = 1.0 / sum(share**2 / n for share, n in zip(shares, sizes, strict=True))
    interval = wilson(round(chance * counted), round(counted))
    apart = [a.astype(float) - b for a, b in zip(one.failing, first.failing, strict=True)]
    error = paired_share_error(shares, apart)
    head = trying.heads[design.motor]
    sheet = said.sheet[design.sheet]
    winds = [w for w in trying.idea.winds if weight_of(w) > 0.0]
    return SizedDesign(
        number=number,
        choice=design,
        delay_s=None if head.delay is None else head.delay.value - design.delay_out_s,
        tube=f"{laid.tube.outer_diameter.text} {laid.tube.material}",
        mount=laid.mount.inner_diameter.text,
        sheet=f"{sheet.thickness.text} {sheet.material}",
        canopy=f"{laid.canopy.name}, {laid.canopy.across.text}",
        cord=f"{laid.cord.name}, {laid.cord.length.text}",
        length_m=laid.length_m,
        body_m=laid.tubes_m,
        separates_m=laid.separates_m,
        mount_m=laid.mount_from_m,
        tip_m=TIP_SHARE * design.root_m,
        sweep_m=SWEEP_SHARE * design.root_m,
        painted=laid.painted,
        evenings=laid.evenings,
        liftoff_kg=one.liftoff_kg,
        margin_cal=one.margin_cal,
        exit_m_s=_outcome(one, "rail_exit_m_s"),
        apogee_m=_outcome(one, "apogee_m"),
        landing_m_s=_outcome(one, "landing_m_s"),
        chance=chance,
        low=min(interval.low, chance),
        high=max(interval.high, chance),
        costs=chance - chance_of(trying, first),
        costs_error=error,
        winds=tuple(
            WindChance(view.case.plan, wind.mean.value, share, mask.size, float(mask.mean()))
            for view, wind, share, mask in zip(one.views, winds, shares, one.failing, strict=True)
        ),
        rows=tuple(_season(trying, one, "failure")[:MOST_ROWS]),
        rules=tuple(broken(trying, one)),
        unlike=() if one is first else _unlike_words(design, laid, first),
    )


def _outcome(one: Flown, name: str) -> float | None:
    return _middle(np.concatenate([view.outcome(name) for view in one.views]))


def _unlike_words(design: Design, laid: Laid, first: Flown) -> tuple[str, ...]:
    other, there = first.tried.design, first.tried.laid
    pairs = (
        ("motor", design.motor != other.motor),
        ("body tube", design.tube != other.tube),
        ("parachute", design.canopy != other.canopy),
        ("cord", design.cord != other.cord),
        ("sheet", design.sheet != other.sheet),
        ("number of fins", design.fin_count != other.fin_count),
        ("length", abs(laid.length_m / there.length_m - 1.0) > 0.05),
        ("ballast", abs(design.ballast_kg - other.ballast_kg) > 0.03),
    )
    return tuple(name for name, so in pairs if so)


def verdict_of(designs: Sequence[SizedDesign]) -> Verdict:
    if not designs:
        return "nothing fits"
    best = designs[0]
    if best.chance > TOTAL_FAILS_ABOVE or best.rules:
        return "fails"
    return "marginal" if best.chance > MARGINAL_ABOVE else "ok"


def to_find_out(rows: Sequence[Evaluated]) -> tuple[ToFindOut, ...]:
    return tuple(
        ToFindOut(row.limit.key, row.limit.title, row.limit.kind, row.missing)
        for row in rows
        if not row.known and not row.not_here and not row.limit.thumb
    )
