"""How far the total moves as what is not known turns out one way or another."""

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from goodflight import load
from goodflight.outputs.words import guessed_share, headline, not_known, speak_total
from goodflight.project.demo import write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.knowledge import Split, corrected, knowledge_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.results import Entry, Knowledge
from goodflight.studies.sampling.flights import fly_sample, fly_trials
from goodflight.studies.sampling.trials import assemble
from sample_case import sample_case
from sample_results import ledger, row

FLIGHTS = 4000


def made_up(*reserves: Callable[[np.ndarray], np.ndarray]) -> tuple[Any, list[Any], np.ndarray]:
    """Rows of made-up reserves of four scores, the first two of them not known."""
    z = np.random.default_rng(1).standard_normal((FLIGHTS, 4))
    view = SimpleNamespace(trials=SimpleNamespace(z=z), count=FLIGHTS)
    rows = []
    for reserve in (each(z) for each in reserves):
        limit = SimpleNamespace(kind="failure", more_is_worse=True, key="made up")
        capacity = np.full(FLIGHTS, 10.0)
        rows.append(
            SimpleNamespace(
                limit=limit,
                demand=capacity - reserve,
                capacity=capacity,
                reserve=reserve,
                failing=reserve < 0.0,
            )
        )
    return view, rows, z


@pytest.mark.parametrize("known", [0.5, 1.0, 2.0])
def test_one_row_of_knowledge_and_chance_has_the_ends_of_the_normal_law(known: float) -> None:
    """Exact: reserve = 2 + a e + c fails with Phi(-(2 + a e)); its 10 and 90 % points over e.

    Three figures fitted to 4000 flights are uncertain by some 2 sqrt(3 p (1 - p) / 4000), 0.03 at
    most; the 90 % point of 4000 sets by sqrt(0.1 0.9 / 4000) over its density, 0.02.
    """
    view, rows, _ = made_up(lambda z: 2.0 + known * z[:, 0] + z[:, 2])
    split = Split(view, rows, np.array([True, True, False, False]))
    raw = split.totals(view.trials.z)
    found = corrected(raw, rows[0].failing)
    for share in (0.1, 0.5, 0.9):
        exact = ndtr(-(2.0 + known * ndtri(1.0 - share)))
        assert np.quantile(raw, share) == pytest.approx(exact, abs=0.03)
        assert np.quantile(found, share) == pytest.approx(exact, abs=0.05)
    assert found.mean() == pytest.approx(rows[0].failing.mean(), abs=1e-9)
    middles = np.where([True, True, False, False], 0.0, view.trials.z)
    assert split.failing(middles).mean() == pytest.approx(ndtr(-2.0), abs=0.006)  # 2.3 in 100


def test_rows_that_fail_together_by_chance_are_not_counted_twice() -> None:
    """Exact: two rows of one chance fail together: the total is that of one, not 1 - product.

    The median is counted on 250 flights: 0.029 of standard error.
    """
    view, rows, _ = made_up(*[lambda z: 0.5 + z[:, 0] + z[:, 2]] * 2)
    split = Split(view, rows, np.array([True, True, False, False]))
    median = np.quantile(split.totals(view.trials.z), 0.5)
    assert median == pytest.approx(ndtr(-0.5), abs=0.06)  # 0.31; twice on its own: 0.52


def test_what_is_chance_alone_has_no_interval_of_knowledge() -> None:
    view, rows, _ = made_up(lambda z: 1.5 + z[:, 2] + 0.5 * z[:, 3] ** 2)
    totals = Split(view, rows, np.array([True, True, False, False])).totals(view.trials.z)
    assert np.ptp(totals) < 1e-12
    assert np.ptp(corrected(totals, rows[0].failing)) < 1e-9


def test_the_correction_keeps_the_mean_and_rises() -> None:
    told = np.linspace(0.0, 0.4, 2000)  # far too low: the flights fail with twice that
    failing = np.random.default_rng(2).random(2000) < 2.0 * told
    found = corrected(told, failing)
    assert np.all(np.diff(found) >= 0.0)
    assert found.mean() == pytest.approx(failing.mean())
    assert found[1500] == pytest.approx(0.6, abs=0.05)  # some 2 sqrt(3 p (1 - p) / 2000), 0.04


def nested(case: Case, sets: int, chances: int) -> np.ndarray:
    """Totals by brute force: the figures of `sets` flights, each with the chance of others."""
    view = fly_trials(case, 2000, 1)
    factors = view.trials.factors
    unknown = np.array([factor.of.nature == "knowledge" for factor in factors])
    figures, chance = view.trials.z[:sets], view.trials.z[1000 : 1000 + chances]
    z = np.where(unknown, figures[:, None, :], chance[None, :, :]).reshape(sets * chances, -1)
    seeds = np.tile(view.trials.seeds[1000 : 1000 + chances], sets)
    flown = fly_sample(case, assemble(case, factors, z, seeds))
    return any_failing(evaluate(flown)).reshape(sets, chances).mean(axis=1)


@pytest.mark.slow
@pytest.mark.parametrize(("plan", "explained"), [("morning", 0.6), ("midday", 0.7)])
def test_it_agrees_with_flights_in_two_loops(tmp_path: Any, plan: str, explained: float) -> None:
    """Independent: 60 sets of figures times 100 flights, flown.

    Set by set the quick way explains most of what the loops show (morning 0.75, midday 0.88 on 48
    sets of 250 flights, docs/decisions/012; the binomial noise of 100 flights is taken off). Below
    and above its ends lie as many sets as one time in a thousand at the outside (binomial, 60 sets,
    10 in 100: up to 14).
    """
    write_demo(tmp_path / "demo")
    case = case_of(load(tmp_path / "demo"), plan)
    sets, chances = 60, 100
    loops = nested(case, sets, chances)
    view = fly_trials(case, 2000, 1)
    rows = evaluate(view)
    found = knowledge_of(view, rows)
    assert found is not None
    unknown = np.array([factor.of.nature == "knowledge" for factor in view.trials.factors])
    quick = corrected(Split(view, rows, unknown).totals(view.trials.z), any_failing(rows))[:sets]
    noise = float(np.mean(loops * (1.0 - loops))) / chances
    left = float(np.mean((quick - loops) ** 2)) - noise
    assert left < (1.0 - explained) * (float(np.var(loops)) - noise)
    assert np.sum(loops < found.low - 0.02) <= 14
    assert np.sum(loops > found.high + 0.02) <= 14
    guessed = np.array([factor.guessed for factor in view.trials.factors])
    z = np.where(guessed, 0.0, view.trials.z)
    flown = fly_sample(case, assemble(case, view.trials.factors, z, view.trials.seeds))
    assert found.frozen == pytest.approx(any_failing(evaluate(flown)).mean(), abs=0.04)


def test_the_ledger_carries_it_and_few_flights_do_not() -> None:
    few = ledger_of(sample_case(5.0), 60, 1, remedies=False)
    assert few.knowledge is None and "guess" not in speak_total(few)
    found = ledger_of(sample_case(5.0), 600, 1, remedies=False)
    told = found.knowledge
    assert told is not None
    assert 0.0 <= told.low <= found.chance <= told.high <= 1.0 and 0.0 <= told.share <= 1.0


def test_the_headline_says_how_far_the_guesses_go_and_what_is_not_known() -> None:
    told = replace(ledger(), unknown=(), chance=0.17, knowledge=Knowledge(0.06, 0.34, 0.09, 0.47))
    assert headline(told) == "about 17 in 100; 6 to 34 depending on the guesses"
    assert guessed_share(told) == (
        "47 % of it rests on guesses: with each at its middle, about 9 in 100"
    )
    even = replace(told, knowledge=Knowledge(0.06, 0.34, 0.2, 0.0))
    assert guessed_share(even) == "with each guess at its middle, about 20 in 100"
    rare = replace(told, chance=0.012, knowledge=Knowledge(0.0, 0.991, 0.0, 1.0))
    assert headline(rare) == "about 1 in 100; under 1 to 99 depending on the guesses"
    lost = replace(told, chance=1.0, knowledge=Knowledge(0.999, 1.0, 1.0, 0.0))
    assert headline(lost) == "every flight; wherever the guesses lie"
    ask = Entry(
        "given:retention_n",
        "retention of the motor",
        dimension="force",
        file="rocket.toml",
        place="retention.holds",
        how="push an empty case",
        instrument="bathroom scales",
        minutes=20.0,
    )
    waits = replace(row(), key="pushed", state="unknown", chance=None, asks=(ask,))
    open_ = replace(told, chance=0.12, rows=(waits,), unknown=("pushed",), knowledge=None)
    assert headline(open_) == "at least 12 in 100 (34–38); retention of the motor is not known"
    other = replace(waits, key="other", asks=(replace(ask, label="pull to separate"),))
    both = replace(
        open_,
        rows=(waits, other, replace(other, key="third")),
        unknown=("pushed", "other", "third"),
    )
    assert not_known(both) == "pull to separate and retention of the motor are not known"
    assert headline(replace(open_, chance=0.0)) == "retention of the motor is not known"
