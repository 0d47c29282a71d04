"""The ledger on the invented sample case: dependence, repeatability, remedies, delay, drivers."""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from goodflight.outputs.ledger.input_words import value
from goodflight.physics.flight import registry
from goodflight.quantity.said import said
from goodflight.studies.judging.drivers import total_index_jansen
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.flown import Flown, chance_after, stratified
from goodflight.studies.levers.lever import Lever, Setting
from goodflight.studies.levers.whatif import Change, tried
from goodflight.studies.questions.delay import delay_of
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.questions.ledger import drivers_of, ledger_of
from goodflight.studies.results import Ledger
from goodflight.studies.sampling.flights import fly_sample, fly_trials
from goodflight.studies.sampling.scores import column_scores
from goodflight.studies.sampling.trials import assemble, make_trials, nominal
from sample_case import sample_case

FLIGHTS = 300


@cache
def windy() -> Ledger:
    return ledger_of(sample_case(5.0), FLIGHTS, 1)


def test_same_seed_same_answer() -> None:
    again = ledger_of(sample_case(5.0), FLIGHTS, 1)
    for one, two in zip(windy().rows, again.rows, strict=True):
        assert (one.chance, one.margin, one.state) == (two.chance, two.margin, two.state)
        assert np.array_equal(one.demand, two.demand, equal_nan=True)
        assert one.remedies == two.remedies
        assert one.drivers == two.drivers


def test_another_seed_another_sample() -> None:
    other = ledger_of(sample_case(5.0), FLIGHTS, 2, remedies=False)
    speeds = [
        next(row.demand for row in each.rows if row.key == "rail_exit") for each in (other, windy())
    ]
    assert not np.array_equal(speeds[0], speeds[1])


def test_total_keeps_the_dependence() -> None:
    known = [row.chance for row in windy().rows if row.chance is not None]
    assert max(known) <= windy().chance <= sum(known)
    assert windy().low <= windy().chance <= windy().high


def test_rows_carry_what_outputs_show() -> None:
    for row in windy().rows:
        if row.state == "unknown":
            continue
        assert row.demand.shape == row.capacity.shape == (FLIGHTS,)
        assert row.low is not None and row.high is not None and row.chance is not None
        assert row.low <= row.chance <= row.high
        assert all(item.label and value(item) for item in row.inputs)
        assert sum(driver.share for driver in row.drivers) <= 6.0
    assert windy().not_modelled
    assert dict(windy().stands_on)["code set"].startswith("United States")


def test_a_change_that_changes_nothing_makes_no_difference() -> None:
    case = sample_case(5.0)
    view = fly_trials(case, FLIGHTS, 1)
    rows = evaluate(view)
    part = Flown(view, rows, 1, 60)
    lever = Lever("same", "nothing", "", "free", lambda _base, _now: None)
    setting = Setting("same", None, said("change nothing"), (), lambda each: each)
    effect = part.effect(Change(lever, setting, case, {lever.key: setting.id}, case))
    assert effect.before == effect.after
    assert effect.total == effect.total_before
    assert effect.gain == 0.0


def test_flying_a_part_gives_the_same_flights() -> None:
    case = sample_case(5.0)
    chosen = np.array([3, 50, 299])
    whole, part = fly_trials(case, FLIGHTS, 1), fly_trials(case, FLIGHTS, 1, chosen)
    assert np.array_equal(whole.outcomes[chosen], part.outcomes, equal_nan=True)


def test_an_added_part_leaves_the_other_draws_alone() -> None:
    case = sample_case(3.0)
    ballast = next(c for c in tried(case, {}).changes if c.key == "ballast=0.04").case
    one, two = make_trials(case, 64, 1), make_trials(ballast, 64, 1)
    for name in ("wind_m_s", "thrust_factor", "delay_s", "cp_shift_m", "rail_tilt_rad"):
        assert np.array_equal(one.parameter(name), two.parameter(name))
    assert np.allclose(two.parameter("dry_mass_kg") - one.parameter("dry_mass_kg"), 0.04, atol=5e-3)


def test_a_remedy_starts_at_the_figure_its_row_shows() -> None:
    """The part that is flown again holds other shares of a row than all flights; they agree."""
    found = [(row, remedy) for row in windy().rows for remedy in row.remedies]
    assert found
    for row, remedy in found:
        assert remedy.chance_before == row.chance
        assert remedy.total_before == windy().chance


def test_the_chance_after_a_change_by_hand() -> None:
    """0.3 failed; of these a half is cured, of the others (weights 3 and 1) a quarter now fails.

    0.3 * 1/2 + 0.7 * 1/4 = 0.325.
    """
    was = np.array([True, True, False, False])
    now = np.array([True, False, False, True])
    weights = np.array([2.0, 2.0, 3.0, 1.0])
    assert chance_after(0.3, was, now, weights) == pytest.approx(0.325)
    none = np.zeros(4, bool)
    assert chance_after(0.01, none, none, weights) == 0.01  # no failing flight was flown again


def test_remedies_help_the_row_and_say_what_they_write() -> None:
    found = [(row, remedy) for row in windy().rows for remedy in row.remedies]
    assert found
    for row, remedy in found:
        assert remedy.chance < remedy.chance_before
        assert row.key not in remedy.worsens
        assert remedy.change
        assert all(path and text for path, text in remedy.change)


def test_stratified_weights_count_every_draw() -> None:
    failing = np.arange(1000) % 10 == 0
    sample = stratified(failing, 60)
    assert sample.weights.sum() == pytest.approx(1000)
    assert sample.weights[failing[sample.chosen]].sum() == pytest.approx(100)


def test_strata_without_members() -> None:
    sample = stratified(np.zeros(50, dtype=bool), 20)
    assert sample.chosen.size == 20
    assert sample.weights.sum() == pytest.approx(50)


def test_always_failing_rows_do_not_hide_what_helps() -> None:
    case = sample_case(5.0)
    long = replace(case.motor, length_m=case.motor.length_m + 0.3)  # has no room on any flight
    found = ledger_of(replace(case, motor=long), FLIGHTS, 1)
    assert found.chance == 1.0
    assert any(row.remedies for row in found.rows if row.key == "off_field")


def test_validity_trouble_is_never_ok() -> None:
    case = sample_case(1.0)
    motor = replace(case.motor, thrusts_n=tuple(4.5 * t for t in case.motor.thrusts_n))
    found = ledger_of(replace(case, motor=motor), 100, 1, remedies=False)
    row = next(row for row in found.rows if row.key == "model_range")
    assert row.warnings
    assert row.state != "ok"


def test_drivers_agree_with_a_brute_force_estimate() -> None:
    """Jansen's estimator on the real ensemble, one quantity drawn anew at a time.

    1500 flights: each index is uncertain by about 0.03, the polynomial by as much.
    """
    case, flights = sample_case(4.0), 1500
    view = fly_trials(case, flights, 1)
    rows = {row.limit.key: row for row in evaluate(view)}
    shares = {d.key: d.share for d in drivers_of(view, list(rows.values()))["margin_small"]}
    keys = [factor.key for factor in view.trials.factors]
    for key in ("model:cp", "model:fin_slope"):
        z = view.trials.z.copy()
        z[:, keys.index(key)] = column_scores(key, flights, 99)
        again = fly_sample(case, assemble(case, view.trials.factors, z, view.trials.seeds))
        changed = next(row for row in evaluate(again) if row.limit.key == "margin_small")
        brute = total_index_jansen(rows["margin_small"].reserve, changed.reserve)
        assert shares[key] == pytest.approx(brute, abs=0.06)


def test_gusts_are_what_the_fit_leaves_of_rail_exit() -> None:
    """With every gust redrawn and all else kept, Jansen gives the gusts' share of the row."""
    case, flights = sample_case(4.0), 1500
    view = fly_trials(case, flights, 1)
    rows = {row.limit.key: row for row in evaluate(view)}
    shares = {d.key: d.share for d in drivers_of(view, list(rows.values()))["rail_exit"]}
    fresh = replace(view.trials, seeds=view.trials.seeds + np.uint64(12345))
    changed = next(row for row in evaluate(fly_sample(case, fresh)) if row.limit.key == "rail_exit")
    brute = total_index_jansen(rows["rail_exit"].reserve, changed.reserve)
    assert shares["left_out"] == pytest.approx(brute, abs=0.08)


def test_delay_flies_the_same_ascents() -> None:
    study = delay_of(sample_case(2.0), 200, 1)
    chances = [row.chance for row in study.rows]
    assert chances == sorted(chances)
    by_out = {row.delay_out_s: row for row in study.rows}
    assert {0.0, 2.0, 6.0} <= set(by_out)
    # a second out of the delay is a second earlier, less what the grain burns faster or slower
    moved = by_out[0.0].after_apogee_s_5_50_95[1] - by_out[1.0].after_apogee_s_5_50_95[1]
    assert moved == pytest.approx(1.0, abs=0.15)


def test_the_table_of_delays_has_its_scatter_its_rows_and_its_ties() -> None:
    case, count = sample_case(3.0), 400
    study = delay_of(case, count, 1)
    assert (study.sold_s, study.sold_spread) == (case.motor.delay_s, case.motor.delay_sigma)
    fails = {}
    for row in study.rows:
        # by hand: the grain's share of what is left, and 0.12 s of the drill where there is a hole
        drilled = 0.12 if row.delay_out_s else 0.0
        spread = math.hypot(study.sold_spread * row.delay_s, drilled)
        assert row.spread_s == pytest.approx(spread, rel=0.05)  # 400 drawn: 3.5 % one sd
        found = evaluate(fly_trials(case.with_delay_out(row.delay_out_s), count, 1))
        counts = [each for each in found if each.known and each.limit.kind == "failure"]
        fails[row.delay_out_s] = np.any([each.failing for each in counts], axis=0)
        deployment = {each.limit.key for each in found if each.limit.phase == "deployment"}
        known = {each.limit.key for each in found if each.known and not each.not_here}
        assert deployment & known <= set(row.chances) and "off_field" in row.chances
    best = fails[study.rows[0].delay_out_s]
    for row in study.rows[1:]:
        # McNemar 1947: only the flights that change sides tell; two standard errors
        one, other = (
            int(np.sum(a & ~b))
            for a, b in ((fails[row.delay_out_s], best), (best, fails[row.delay_out_s]))
        )
        assert row.tied == (one - other <= 2.0 * math.sqrt(one + other)), row.delay_out_s
    assert not study.rows[0].tied and not study.rows[-1].tied
    assert any(row.tied for row in study.rows) == any("apart" in each for each in study.warnings)


def test_where_an_altimeter_fires_the_charge_no_delay_is_compared() -> None:
    case = sample_case(2.0)
    flown = replace(case, deployment=replace(case.deployment, by=registry.BY_ALTIMETER))
    with pytest.raises(ValueError, match="an altimeter fires the charge"):
        delay_of(flown, 10, 1)


def test_delay_of_a_plugged_motor_is_refused_in_words() -> None:
    case = sample_case(2.0)
    with pytest.raises(ValueError, match="no delay to shorten"):
        delay_of(replace(case, motor=replace(case.motor, delay_s=None)), 10, 1)


def test_nominal_flight_names_its_figures() -> None:
    report = nominal_of(sample_case(3.0), calm=True)
    figures = report.figures
    assert figures["cp_m"] > figures["cg_liftoff_m"] > 0.5
    diameter = 0.079
    margin = (figures["cp_m"] - figures["cg_liftoff_m"]) / diameter
    assert figures["margin_liftoff_cal"] == pytest.approx(margin, abs=0.02)
    assert figures["ballistic_landing_m_s"] > figures["landing_m_s"]
    words = [name for name, _, _ in report.events]
    assert words == [
        "first motion", "forward guide leaves the rail", "last guide leaves the rail",
        "highest speed", "burnout", "apogee", "ejection", "on the ground",
    ]  # fmt: skip
    assert len(report.history["time_s"]) > 50


def test_nominal_draw_has_no_errors() -> None:
    sample = nominal(sample_case(3.0))
    assert sample.parameter("thrust_factor")[0] == 1.0
    assert sample.parameter("cp_shift_m")[0] == 0.0
    assert sample.parameter("wind_m_s")[0] == 3.0


def test_progress_is_told() -> None:
    told: list[float] = []
    ledger_of(sample_case(3.0), 40, 1, progress=lambda _, share: told.append(share))
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert told == sorted(told)


def test_no_flights_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="2000 is usual"):
        ledger_of(sample_case(3.0), 0)
