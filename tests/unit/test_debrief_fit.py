"""The fit finds what synthetic flights were made of; what it cannot part it says."""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.estimate import Estimate, generalised_least_squares, told_alone
from goodflight.physics.recorded import Happened, Measured
from goodflight.studies.debriefing.fit import Fit, fit
from goodflight.studies.debriefing.loads import agreeing
from goodflight.studies.debriefing.predicted import Model
from goodflight.studies.debriefing.why import CAUSE, _verdict
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling import airframe
from goodflight.studies.sampling.declared import DECLARED
from goodflight.studies.sampling.trials import Trials
from synthetic_flights import CASE, EARLY_APOGEE, KEYS, LATE_GRAIN, LOGGER, TOLD, flown, holds


@pytest.fixture(scope="module")
def many() -> list[tuple[Fit, Trials]]:
    found = []
    for number in range(30):
        happened, truth = flown(number, LOGGER)
        found.append((fit(CASE, happened), truth))
    return found


@pytest.mark.parametrize("key", TOLD)
def test_intervals_hold_nine_in_ten(many: list[tuple[Fit, Trials]], key: str) -> None:
    """Of 30, 27 +- 1.6 are inside: 22 is 3 deviations of the binomial below; 300 by hand."""
    assert sum(holds(found, truth, key) for found, truth in many) >= 22


def test_delay_and_canopy_are_narrowed_by_a_logger(many: list[tuple[Fit, Trials]]) -> None:
    for found, _ in many:
        assert found.of("delay_s").after.error < 0.3 * found.of("delay_s").before.error
        assert (
            found.of("canopy_area_m2").after.error < 0.7 * found.of("canopy_area_m2").before.error
        )


def test_late_grain_and_early_apogee_are_told_apart() -> None:
    """Of 20 each, one wrong is 95 in 100; 100 each by hand (tests/synthetic_flights.py)."""
    wrong = 0
    for number in range(20):
        happened, _ = flown(number, LOGGER, **LATE_GRAIN)
        wrong += fit(CASE, happened).why.verdict != "grain"
    assert wrong <= 1
    wrong = 0
    for number in range(20):
        happened, _ = flown(number, LOGGER, **EARLY_APOGEE)
        wrong += fit(CASE, happened).why.verdict != "apogee"
    assert wrong <= 1


def test_a_late_grain_after_an_early_apogee_is_both() -> None:
    # by as much, so that neither is the greater: about 1.0 s each
    happened, _ = flown(1, LOGGER, **EARLY_APOGEE | {"delay": 1.5})
    why = fit(CASE, happened).why
    assert why.verdict == "both"
    assert "s later, and the apogee came" in why.words and "sooner than predicted" in why.words


def test_the_smaller_part_is_told_too_where_it_is_not_small() -> None:
    # the grain by 2.5 of its deviations, about 1.7 s; the apogee by about 1.0 s
    happened, _ = flown(1, LOGGER, **EARLY_APOGEE | {"delay": 2.5})
    why = fit(CASE, happened).why
    assert why.verdict == "grain" and why.words.startswith("the delay itself moved the charge")
    assert "; the apogee came" in why.words and "sooner than predicted" in why.words
    happened, _ = flown(1, LOGGER, **LATE_GRAIN)
    assert "apogee" not in fit(CASE, happened).why.words


def test_a_peak_figure_alone_decides_nothing_about_the_charge() -> None:
    happened, _ = flown(1, {"apogee_standard_m": 3.0}, delay=2.5)
    found = fit(CASE, happened)
    assert found.why.verdict == "cannot be decided" and "from a logger or a film" in found.why.words
    assert not found.of("delay_s").narrowed
    assert any(each.startswith("drag and thrust") for each in found.tied)


def test_a_low_peak_alone_decides_nothing_even_where_the_delay_is_sure() -> None:
    sure = replace(CASE, motor=replace(CASE.motor, delay_sigma=0.001))
    low = 0.7 * fit(sure, Happened(apogee_m=Measured(500.0, 3.0))).places[0].predicted.value
    assert fit(sure, Happened(apogee_m=Measured(low, 3.0))).why.verdict == "cannot be decided"


@pytest.mark.parametrize(
    ("apogee_s", "spread_s", "verdict"),
    [(-1.0, 0.1, "apogee"), (-1.0, 0.0, "apogee"), (0.0, 0.0, "as predicted")],
)
def test_a_part_that_is_known_exactly_is_no_cause(
    apogee_s: float, spread_s: float, verdict: str
) -> None:
    """The grain's part 0 +- 0: what is left came by the apogee. A spread of nothing is no fault."""
    nothing = np.zeros(1)
    wide = np.diag([0.0, spread_s**2])
    found = Estimate(np.array([0.0, apogee_s]), wide, 0.0, apart=nothing, apart_sigma=nothing)
    assert _verdict(True, np.eye(2), found)[0] == verdict


def test_a_delay_that_is_stated_exact_is_no_quantity_of_the_fit() -> None:
    """The rest is fitted and drawn without it: 60 flights about the peak seen, each 7 m off."""
    exact = replace(CASE, motor=replace(CASE.motor, delay_sigma=0.0))
    left = {factor.key for factor in Model(exact, ("charge_s",)).factors}
    assert set(KEYS) - left == {"delay"}
    found = fit(exact, Happened(apogee_m=Measured(500.0, 3.0), charge_s=Measured(10.8, 0.1)))
    heights_m = agreeing(exact, found).outcome("apogee_m")
    assert np.mean(heights_m) == pytest.approx(500.0, abs=0.5 + 3.0 * 7.0 / heights_m.size**0.5)


def test_a_slow_fall_says_nothing_of_the_drag() -> None:
    found = fit(CASE, Happened(last_rate_mps=Measured(5.0, 0.2)))
    assert not found.of("axial_factor").narrowed
    assert found.of("canopy_area_m2").after.value > found.of("canopy_area_m2").before.value


def test_the_standard_height_is_not_the_height_in_cold_air() -> None:
    """In air of T instead of T_std, h = shown x T / T_std [usstd1976]; 271 K here."""
    cold = replace(CASE, day=replace(CASE.day, temperature_k=271.0))
    model = Model(cold, ("apogee_standard_m", "apogee_m"))
    shown, true = model.shown(model.flown(np.zeros((1, len(KEYS)))))[0]
    assert true / shown == pytest.approx(271.0 / (288.15 - 0.0065 * 12.0), rel=1e-6)


def test_where_it_fell_is_a_share_of_the_flights() -> None:
    middle = fit(CASE, Happened(apogee_s=Measured(10.0, 0.1))).places[0].predicted
    same = fit(CASE, Happened(apogee_s=Measured(middle.value, 0.1))).places[0]
    assert same.below == pytest.approx(0.5, abs=1e-6) and not same.odd
    high = fit(CASE, Happened(apogee_s=Measured(middle.value + middle.error, 0.1))).places[0]
    assert high.below == pytest.approx(0.8413, abs=1e-3)  # normal, one deviation


@pytest.mark.parametrize(
    ("happened", "words"),
    [
        (Happened(), "nothing seen"),
        (Happened(apogee_s=Measured(10.0, 0.0)), "without a positive error"),
        (Happened(second_canopy_s=Measured(30.0, 0.5)), "not in the planned flight"),
    ],
)
def test_what_cannot_be_fitted_is_refused(happened: Happened, words: str) -> None:
    with pytest.raises(StudyRefused, match=words):
        fit(CASE, happened)


def test_told_alone_gives_back_the_reading() -> None:
    """A reading 3.0 with error 2.0 on a prior 1.0 +- 1.0 (product of normals): taken out again."""
    found = generalised_least_squares(
        np.array([1.0]),
        np.eye(1),
        np.array([3.0]),
        np.array([[4.0]]),
        lambda here: (here, np.eye(1)),
    )
    after = float(found.mean[0]), float(found.covariance[0, 0]) ** 0.5
    assert told_alone((1.0, 1.0), after) == pytest.approx((3.0, 2.0))
    assert told_alone((1.0, 1.0), (1.2, 0.99)) is None


def test_what_balance_and_inertia_moved_is_told_with_the_mass() -> None:
    of_mass = {key for key, cause in CAUSE.items() if cause == "mass"}
    assert of_mass == {each.key for each in (airframe.mass, airframe.balance, airframe.inertia)}
    assert set(CAUSE) <= set(DECLARED)
