"""Made-up projects, valid but extreme or broken: an answer or faults in words, nothing else.

A few hundred here; `tests/long_fuzz.py` runs as many as wanted with the same code.
"""

import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fuzzing import checked, made_up

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example]


@settings(max_examples=120, deadline=None, suppress_health_check=SLOW)
@given(st.randoms(use_true_random=False))
def test_every_project_is_read_or_refused_in_words(rng: random.Random) -> None:
    assert checked(made_up(rng)) in ("refused", "reads")


@pytest.mark.filterwarnings("error::RuntimeWarning")
@settings(max_examples=15, deadline=None, suppress_health_check=SLOW)
@given(st.randoms(use_true_random=False))
def test_every_sound_project_is_answered_or_refused_in_words(rng: random.Random) -> None:
    assert checked(made_up(rng, sound=True), plans=1) in ("refused", "answered", "no answer")
