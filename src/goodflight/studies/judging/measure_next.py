"""What to measure next: what is not known at all, then what narrows the total most for the work.

A failure of the flight that is not known bounds the total: nothing else moves the answer more, so
the figures it waits for stand first. Then the spreads whose removal narrows the total.

Knowing a figure moves the total chance to E[fails | figure]; the standard deviation of that over
what the figure may turn out to be says how much there is to learn. It is read off the flights that
are flown already (projection of failing onto the figure's scores, to the third degree, noise
taken off) and checked by flying again with the figure set low, middle and high.
Left out: what measuring itself gets wrong.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.judging.evaluate import FAILURE, Evaluated, any_failing, evaluate
from goodflight.studies.results import Entry, Measurement
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.quantity import Factor, Quantity
from goodflight.studies.sampling.trials import assemble

Array = NDArray[np.float64]

MIN_MOVE: Final = 0.002  # of the total; less is not worth telling
NOISE_SIGMAS: Final = 4.0  # a coefficient must stand out this far: there are some hundreds
MOST: Final = 5
CHECKED: Final = 3


def open_rows(rows: Sequence[Evaluated]) -> list[Evaluated]:
    """Rows with figures that do not fail on every flight: those a measurement could change."""
    return [row for row in rows if row.known and not row.failing.all()]


def measure_next(
    view: View, rows: Sequence[Evaluated], most: int = MOST
) -> tuple[Measurement, ...]:
    """Figures worth measuring: those nobody knows, then those that move the total most.

    The second kind is read from flights that are flown already, most for the work first; what
    cannot be measured stands last and says why.

    Parameters
        view : View - flown flights. [-]
        rows : sequence of Evaluated - every row on them. [-]
        most : int - how many are named of those that are known at all. [-]
    Returns
        measurements : tuple of Measurement - may be empty. [-]
    Raises
        nothing
    Validity
        Effects to the third degree; a figure that acts only together with another is missed.
        About 2 sqrt(p (1 - p) / flights) of the total is lost in noise.
    Source
        First-order index of the failing indicator: [sudret2008] eq. for partial variances.
    """
    found = open_rows(rows)
    fails = any_failing(found).astype(np.float64) if found else np.zeros(view.count)
    total = float(fails.mean())
    unknown = _unknown(rows, total)
    if total in (0.0, 1.0):
        return unknown
    moves = _moves(view.trials.z, fails - total)
    groups: dict[str, list[int]] = {}
    for column, factor in enumerate(view.trials.factors):
        groups.setdefault(factor.group, []).append(column)
    listed = []
    for group, columns in groups.items():
        first, move = view.trials.factors[columns[0]], float(np.sqrt(moves[columns].sum()))
        if move >= MIN_MOVE:
            listed.append((move, _measured(view, first, group, move, total)))
    listed.sort(key=lambda each: -each[0] / (each[1].minutes or np.inf))
    return unknown + tuple(each for _, each in listed[:most])


def _measured(view: View, factor: Factor, group: str, move: float, total: float) -> Measurement:
    """A figure with a spread: how it is measured, or why it cannot be."""
    own = factor.of.home(view.case) if isinstance(factor.of, Quantity) else ""
    file, _, place = (own or factor.path).partition(":")  # a kind's figure stands at the kind
    way = factor.measured_by
    if way is None:
        return Measurement(
            key=group,
            label=factor.label,
            how="",
            minutes=None,
            moves=move,
            total=total,
            file=file,
            place=place,
            why_not=factor.why_not,
        )
    return Measurement(
        key=group,
        label=factor.label,
        how=way.how,
        minutes=way.minutes,
        moves=move,
        total=total,
        instrument=way.instrument,
        file=file,
        place=place,
    )


def _unknown(rows: Sequence[Evaluated], total: float) -> tuple[Measurement, ...]:
    """What the failures that are not known wait for, once each: what opens most rows first."""
    waiting: dict[str, Measurement] = {}
    for row in rows:
        if row.known or row.limit.kind not in FAILURE:
            continue
        for ask in _once(row):
            each = Measurement(
                key=ask.key,
                label=ask.label,
                how=ask.how,
                minutes=ask.minutes,
                moves=None,
                total=total,
                instrument=ask.instrument,
                file=ask.file,
                place=ask.place,
                part=ask.choices[0][0] if ask.kind == "weighing" else "",
            )
            key = ask.key if row.asks else ask.how  # rows that wait for one thing wait as one
            old = waiting.setdefault(key, each)
            waiting[key] = replace(old, rows=(*old.rows, row.limit.key))
    return tuple(sorted(waiting.values(), key=lambda each: (-len(each.rows), each.minutes or 0.0)))


def _once(row: Evaluated) -> list[Entry]:
    """What a row waits for; a new table of a file counts once, with what is done first for it."""
    tables = dict[str, Entry]()
    for ask in row.asks or (_in_words(row),):
        table, new, _ = ask.place.partition("[+")
        whole = bool(new) and ask.kind != "part"
        tables.setdefault(f"{ask.file}:{table}" if whole else ask.key, ask)
    return list(tables.values())


def _in_words(row: Evaluated) -> Entry:
    """What a row waits for that no entry answers: that any flight leaves the rail."""
    return Entry(
        row.limit.key,
        row.limit.title,
        dimension="",
        file="",
        place="",
        how=row.missing,
        instrument="",
        minutes=None,
    )


def _moves(z: Array, fails: Array) -> Array:
    """Variance of E[fails | score] for every score, (k,)."""
    count = fails.size
    noise = float(np.mean(fails**2)) / count
    out = np.zeros(z.shape[1])
    first = fails @ z
    powers = z * z
    second = (fails @ powers - fails.sum()) / np.sqrt(2.0)
    powers *= z
    third = (fails @ powers - 3.0 * first) / np.sqrt(6.0)
    for moment in (first, second, third):
        square = (moment / count) ** 2
        out += np.where(square > NOISE_SIGMAS**2 * noise, square - noise, 0.0)
    return out


def check(
    view: View, rows: Sequence[Evaluated], listed: Sequence[Measurement], most: int = CHECKED
) -> tuple[Measurement, ...]:
    """The same measurements, the first few flown again with the figure low, middle and high.

    Scores -sqrt 3, 0, sqrt 3 with weights 1/6, 2/3, 1/6 (Gauss-Hermite): exact to the fifth degree
    for one score; a figure of several scores is moved in each in turn.
    """
    keys = {row.limit.key for row in open_rows(rows)}
    known = [each.key for each in listed if each.moves is not None and not each.why_not][:most]
    return tuple(_checked(view, keys, each) if each.key in known else each for each in listed)


def _checked(view: View, keys: set[str], measurement: Measurement) -> Measurement:
    factors = view.trials.factors
    columns = [i for i, factor in enumerate(factors) if factor.group == measurement.key]
    reach = float(np.sqrt(3.0))
    middle = _total(view, keys, dict.fromkeys(columns, 0.0))
    variance = 0.0
    for column in columns:
        here = middle if len(columns) == 1 else _total(view, keys, {column: 0.0})
        low, high = (_total(view, keys, {column: sign * reach}) for sign in (-1.0, 1.0))
        mean = (low + high) / 6.0 + 2.0 * here / 3.0
        variance += ((low - mean) ** 2 + (high - mean) ** 2) / 6.0 + 2.0 * (here - mean) ** 2 / 3.0
    return replace(measurement, checked=float(np.sqrt(variance)), without=middle)


def _total(view: View, keys: set[str], scores: dict[int, float]) -> float:
    """Chance that any of these rows fails, some scores held at a value on every flight."""
    z = view.trials.z.copy()
    for column, value in scores.items():
        z[:, column] = value
    sample = assemble(view.case, view.trials.factors, z, view.trials.seeds)
    rows = [row for row in evaluate(fly_sample(view.case, sample)) if row.limit.key in keys]
    return float(any_failing(rows).mean())
