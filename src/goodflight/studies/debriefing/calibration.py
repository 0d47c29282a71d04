"""Was the ledger right? What was predicted of flights before they were flown, beside what happened.

Only predictions made before the flight count. A row counts where the rocket was looked over.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from goodflight.constants import HALF_NORMAL, NINE_TENTHS
from goodflight.physics.recorded import Happened
from goodflight.physics.scoring import BrierScore, brier_score, exact_share, inside_band
from goodflight.project.bench_files import NotesFile
from goodflight.project.predictions import BANDS, POINTS, PredictionFile
from goodflight.studies.rows import LIMIT_STATES

EDGES: Final = (0.01, 0.05, 0.2, 0.5)  # of the groups of like chances; our choice
FAILURES: Final = frozenset(each.key for each in LIMIT_STATES if each.kind == "failure")
AFTERWARDS: Final = "its prediction was made afterwards"
MIDDLE: Final = POINTS.index(50.0)
SPREAD: Final = {50: HALF_NORMAL, 80: 1.2816, 90: NINE_TENTHS}  # of a normal, standard deviations
Flight = tuple[str, PredictionFile, NotesFile, Happened]


@dataclass(frozen=True)
class ChanceGroup:
    """Predictions of about the same chance, and how many of them happened."""

    least: Annotated[float, "chances from this one"]
    most: Annotated[float, "to below this one"]
    predicted: Annotated[int, "how many predictions"]
    said: Annotated[float, "their mean chance"]
    happened: Annotated[int, "how many happened"]
    low: Annotated[float, "lower end of the exact 95 % interval of the share that happened"]
    high: Annotated[float, "upper end"]


@dataclass(frozen=True)
class Scored:
    """Chances that were said, against what happened."""

    of: Annotated[str, "flights or rows"]
    predicted: Annotated[int, "how many predictions"]
    expected: Annotated[float, "sum of their chances"]
    happened: Annotated[int, "how many happened"]
    low: Annotated[float, "fewest that the exact 95 % binomial interval of what happened allows"]
    high: Annotated[float, "most"]
    brier: Annotated[BrierScore, "score of the chances"]
    groups: Annotated[tuple[ChanceGroup, ...], "by chance, smallest first"]

    @property
    def fits(self) -> bool:
        """Whether the sum of the chances lies within what the count allows."""
        return self.low <= self.expected <= self.high


@dataclass(frozen=True)
class BandScore:
    """How many measured figures fell into bands that were to hold a certain share of them."""

    share: Annotated[int, "that the band was to hold, in 100"]
    measured: Annotated[int, "figures measured"]
    inside: Annotated[int, "of them inside, their own error allowed for"]
    low: Annotated[float, "lower end of the exact 95 % interval of the share inside"]
    high: Annotated[float, "upper end"]


@dataclass(frozen=True)
class Calibration:
    """Were the predictions right?"""

    flights: Annotated[tuple[str, ...], "flights that count"]
    left_out: Annotated[tuple[str, ...], "flights that do not, and why"]
    scored: Annotated[tuple[Scored, ...], "whole flights, then single ways to fail"]
    bands: Annotated[tuple[BandScore, ...], "bands of 50, 80 and 90 in 100"]


def calibrated(flights: Sequence[Flight], without: Iterable[str] = ()) -> Calibration:
    """Lay predictions beside what happened.

    Parameters
        flights : sequence - name, prediction, notes and what was measured, of each flight. [SI]
        without : iterable of str - flights that have no prediction. [-]
    Returns
        found : Calibration - chances against counts, bands against figures. [-]
    Raises
        nothing
    Validity
        Figures and rows of one flight hang together, so the intervals are too narrow for them.
    Source
        [clopper1934], [murphy1973].
    Example
        >>> calibrated([]).flights
        ()
    """
    left = [f"{name}: no prediction kept" for name in without]
    counted = []
    for name, said, notes, seen in flights:
        why = _left_out(said, notes, seen)
        if why:
            left.append(f"{name}: {why}")
        else:
            counted.append((name, said, notes, seen))
    judged = [(said.chance, failed(notes)) for _, said, notes, _ in counted]
    whole = [(chance, did) for chance, did in judged if did is not None]
    rows = [
        (chance, any(each.row == key for each in notes.damage))
        for _, said, notes, _ in counted
        if notes.looked_over and (bool(notes.damage) or not failed(notes))
        for key, chance in said.rows.items()
    ]
    scored = [_scored(of, pairs) for of, pairs in (("flights", whole), ("rows", rows)) if pairs]
    return Calibration(
        tuple(each[0] for each in counted), tuple(left), tuple(scored), _bands(counted)
    )


def failed(notes: NotesFile) -> bool | None:
    """Whether the flight failed; None where nobody knows."""
    if notes.result == "failed" or any(each.row in FAILURES for each in notes.damage):
        return True
    return False if notes.result == "passed" or notes.looked_over else None


def _left_out(said: PredictionFile, notes: NotesFile, seen: Happened) -> str:
    if said.afterwards or (notes.date and said.day > notes.date):
        return AFTERWARDS
    if notes.plan is not None and notes.plan != said.plan:
        return f'predicted by plan "{said.plan}", flown by "{notes.plan}"'
    if notes.motor is not None and notes.motor != said.motor:
        return f'predicted with motor "{said.motor}", flown with "{notes.motor}"'
    if notes.delay_out is not None and abs(notes.delay_out.value - said.delay_out_s) > 0.05:
        return "predicted with another delay than was flown"
    nothing = not seen.given()
    return "nothing is noted of it yet" if nothing and failed(notes) is None else ""


def _scored(of: str, pairs: Sequence[tuple[float, bool]]) -> Scored:
    said = np.array([chance for chance, _ in pairs])
    did = np.array([float(each) for _, each in pairs])
    group = np.searchsorted(EDGES, said, side="right")
    ends = (0.0, *EDGES, 1.0)
    groups = []
    for number in np.unique(group):
        inside = group == number
        count, total = int(did[inside].sum()), int(inside.sum())
        groups.append(
            ChanceGroup(
                ends[number],
                ends[number + 1],
                total,
                float(said[inside].mean()),
                count,
                *exact_share(count, total),
            )
        )
    count, total = int(did.sum()), len(pairs)
    low, high = exact_share(count, total)
    return Scored(
        of=of,
        predicted=total,
        expected=float(said.sum()),
        happened=count,
        low=total * low,
        high=total * high,
        brier=brier_score(said, did, group.astype(np.float64)),
        groups=tuple(groups),
    )


def _bands(flights: Sequence[Flight]) -> tuple[BandScore, ...]:
    measured = [
        (said.bands[name], found)
        for _, said, _, seen in flights
        for name, found in seen.given().items()
        if name in said.bands
    ]
    scores = []
    for share, (low, high) in BANDS.items() if measured else ():
        inside = sum(
            inside_band((it.value, it.error), band[MIDDLE], (band[low], band[high]), SPREAD[share])
            for band, it in measured
        )
        scores.append(BandScore(share, len(measured), inside, *exact_share(inside, len(measured))))
    return tuple(scores)
