"""Bands and single flights: the flights shown are the ledger's own, number by number."""

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.flight import OUTCOME_INDEX, ensemble, fly_ensemble
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.bands import SAMPLE, bands_of, line_of
from goodflight.studies.questions.landings import landings_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.one_flight import number_of, one_flight
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Ledger
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.trials import make_trials

NUMBERS = (1, 2, 17, 555, 2000)
# The flight with its history and the ensemble are two compilations of one kernel: rounding may
# differ in the last bits, which a flight of thousands of steps can grow to nanometres, no more.
SAME_M = 1e-6


@pytest.fixture(scope="module")
def case(demo_case: Callable[[str], Case]) -> Case:
    return demo_case("midday")


@pytest.fixture(scope="module")
def ledger(case: Case) -> Ledger:
    return ledger_of(case, remedies=False)


def test_a_drawn_flight_is_the_ensembles(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    # rungs so fine that a flight on its own would get other gusts than within its ensemble
    monkeypatch.setattr(ensemble, "COLUMN_TOPS_M", tuple(np.arange(500.0, 9000.0, 1.0)))
    sample = make_trials(case, SAMPLE, 1)
    spacing = ensemble.column_spacing(sample.parameters, case.motor)
    chosen = np.array(NUMBERS) - 1
    launch = replace(case.launch, node_spacing_m4=spacing)
    flown = fly_ensemble(launch, sample.parameters[chosen], sample.seeds[chosen])
    for number, outcomes in zip(NUMBERS, flown):
        found = one_flight(case, number).outcomes
        for name in ("apogee_m", "apogee_s", "landing_east_m", "landing_north_m", "landing_s"):
            assert found[name] == pytest.approx(outcomes[OUTCOME_INDEX[name]], abs=SAME_M), name


def test_flights_a_few_at_a_time_are_the_same(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ensemble, "COLUMN_TOPS_M", tuple(np.arange(500.0, 9000.0, 1.0)))
    told: list[str] = []
    watched = fly_trials(case, 250, 1, progress=lambda what, _share: told.append(what))
    np.testing.assert_array_equal(watched.outcomes, fly_trials(case, 250, 1).outcomes)
    assert told == ["simulating the flights, 0 of 250", "simulating the flights, 200 of 250"]


def test_a_draw_fails_what_it_fails_in_the_ledger(case: Case, ledger: Ledger) -> None:
    rows = [row for row in ledger.rows if row.chance is not None]
    for number in NUMBERS:
        found = {row.key: row for row in one_flight(case, number).failing}
        for row in rows:
            demand, capacity = row.demand[number - 1], row.capacity[number - 1]
            over = demand > capacity if row.more_is_worse else demand < capacity
            assert (row.key in found) == bool(over), (number, row.key)
            if over:
                assert found[row.key].demand == pytest.approx(demand, abs=SAME_M)


def test_the_first_flights_of_the_bands_are_the_first_draws(case: Case) -> None:
    bands = bands_of(case, flights=3)
    for i in range(3):
        line = one_flight(case, i + 1).line.close["up_m"]
        count = min(line.size, bands.close["up_m"].shape[1])
        np.testing.assert_array_equal(bands.close["up_m"][i, :count], line[:count])


def test_the_landings_are_those_of_the_ledger(case: Case, ledger: Ledger) -> None:
    found = landings_of(case, flights=150)
    outside = {row.key: row for row in ledger.rows}["off_field"].demand[:150] > 0.0
    np.testing.assert_array_equal(found.off_field, outside)
    assert sum(each.count for each in found.over) == outside.sum()
    alone = one_flight(case, 7).outcomes
    assert found.east_m[6] == pytest.approx(alone["landing_east_m"], abs=SAME_M)


def test_what_is_odd_is_what_was_flown(case: Case) -> None:
    sample = make_trials(case, SAMPLE, 1)
    place = [f.key for f in sample.factors].index("wind")
    number = int(np.argmax(sample.z[:, place])) + 1
    odd = {each.label: each for each in one_flight(case, number).odd}
    assert odd["wind"].form == "value" and odd["wind"].dimension == "wind"
    assert odd["wind"].figure == pytest.approx(sample.parameter("wind_m_s")[number - 1])
    assert odd["wind"].middle == case.day.wind_m_s
    assert odd["wind"].beyond > 0.999  # the furthest of 2000
    far = [abs(each.spreads) for each in one_flight(case, number).odd]
    assert far == sorted(far, reverse=True)


def test_a_share_is_told_as_the_row_uses_it(case: Case) -> None:
    sample = make_trials(case, SAMPLE, 1)
    place = [f.key for f in sample.factors].index("impulse")
    number = int(np.argmin(sample.z[:, place])) + 1
    odd = {each.label: each for each in one_flight(case, number).odd}["impulse of the motor"]
    assert odd.form == "share"
    assert 1.0 + odd.figure == pytest.approx(sample.parameter("thrust_factor")[number - 1])


@pytest.mark.parametrize("text", ["0", "2001", "-3", "1.5", "", "abc", "٣", "9" * 30])
def test_a_number_that_is_no_draw_is_refused(text: str) -> None:
    with pytest.raises(StudyRefused, match="a whole number from 1 to 2000"):
        number_of(text)


def test_a_number_is_read() -> None:
    assert number_of(" 2000 ") == 2000


def test_a_flight_that_has_landed_lies_on_the_ground(case: Case) -> None:
    bands = bands_of(case, flights=9)
    ends = [int(np.flatnonzero(np.isfinite(row))[-1]) for row in bands.whole["up_m"]]
    after_most = sorted(ends)[-1]
    assert bands.quantile("up_m", 0.5, whole=True)[after_most] == 0.0
    assert np.isnan(bands.quantile("speed_m_s", 0.5, whole=True)[after_most])


def test_a_stop_is_looked_for_often(case: Case) -> None:
    class Stopped(Exception):  # noqa: N818
        pass

    told: list[float] = []

    def stop_at_third(_what: str, share: float) -> None:
        told.append(share)
        if len(told) == 3:
            raise Stopped

    for study in (bands_of, landings_of):
        told.clear()
        with pytest.raises(Stopped):
            study(case, progress=stop_at_third)
        assert len(told) == 3 and told[-1] < 0.5


def test_margin_and_incidence_are_silent_when_slow() -> None:
    moments = np.arange(0.0, 1.0, 0.1)
    free = np.full(moments.size, 2.0)
    history: Mapping[str, np.ndarray[tuple[int], np.dtype[np.float64]]] = {
        "time_s": moments, "phase": free, "pressure_pa": np.where(moments < 0.45, 100.0, 10.0),
        "up_m": moments, "speed_m_s": moments, "margin_incidence_cal": moments,
        "sin2_incidence": moments * 0.0, "roll_rate_rad_s": moments,
    }  # fmt: skip
    line = line_of(history, (), 1.0)
    assert np.isfinite(line.close["margin_incidence_cal"]).sum() == 5
    assert np.isfinite(line.close["up_m"]).all()


def test_a_plan_without_an_outline_claims_nothing(case: Case) -> None:
    bare = replace(case, site=replace(case.site, outline_m=(), keep_outs_m=()))
    found = landings_of(bare, flights=20)
    assert not found.off_field.any() and not found.barred.any() and found.over == ()
    assert found.worst_rad is None


def test_the_ledger_is_the_same_whoever_watches_and_can_be_stopped_anywhere(case: Case) -> None:
    told: list[tuple[str, float]] = []
    watched = ledger_of(case, 450, progress=lambda what, share: told.append((what, share)))
    alone = ledger_of(case, 450)
    assert watched.chance == alone.chance and watched.way == alone.way
    for a, b in zip(watched.rows, alone.rows):
        assert a.remedies == b.remedies
        np.testing.assert_array_equal(a.demand, b.demand)
    shares = [share for _, share in told]
    assert shares == sorted(shares) and shares[0] == 0.0 and shares[-1] == 1.0
    said = [what for what, _ in told]
    assert "simulating the flights, 200 of 450" in said and "judging every row" in said
    assert any(what.startswith("once more on more flights") for what in said)
    assert "finding what to measure next" in said
