"""Flights that are remembered are the ones that would be flown: bit for bit, and only once."""

import numpy as np
import pytest

from goodflight.physics.flight import fly_ensemble
from goodflight.studies.sampling import flights, remembered
from goodflight.studies.sampling.flights import FLIGHTS, fly_sample
from goodflight.studies.sampling.remembered import Remembered
from goodflight.studies.sampling.trials import make_trials
from sample_case import sample_case


def test_flights_of_which_some_are_remembered_are_flown_as_all_are_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case = sample_case()
    sample = make_trials(case, 24, 5)
    FLIGHTS.forget()
    whole = fly_sample(case, sample).outcomes
    FLIGHTS.forget()
    fly_sample(case, sample.part(np.array([3, 20, 7])))
    asked = list[int]()

    def counting(rows: np.ndarray, *others: object, **named: object) -> np.ndarray:
        asked.append(len(rows))
        return fly_ensemble(rows, *others, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(flights, "fly_ensemble", counting)
    assert fly_sample(case, sample).outcomes.tobytes() == whole.tobytes()
    assert fly_sample(case, sample).outcomes.tobytes() == whole.tobytes()
    assert asked == [21]
    assert fly_sample(case, sample, tolerance=1e-3).outcomes.tobytes() != whole.tobytes()


def test_what_all_share_tells_flights_apart_and_the_oldest_are_forgotten(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(remembered, "KEPT", 3)
    rows, kept, asked = np.arange(8.0).reshape(4, 2), Remembered(), list[int]()

    def work(new: np.ndarray) -> np.ndarray:
        asked.append(len(new))
        return 10.0 * rows[new]

    for besides in (b"one", b"other", b"other"):
        found = kept.of(rows, work, besides)
        assert found.tolist() == (10.0 * rows).tolist()
        found[:] = 0.0  # what is handed out is not what is kept
    assert asked == [4, 4, 1]
