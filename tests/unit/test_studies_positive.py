"""Positive quantities: median, spread, the cut, and rockets at the end of their spreads."""

import numpy as np
import pytest
from scipy.stats import norm  # type: ignore[attr-defined]

from goodflight.project import ProjectErrors
from goodflight.project.demo import demo_files
from goodflight.project.reading import read_project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.positive import moved_ratio, positive, positive_factor
from goodflight.studies.sampling.trials import make_trials

FILES = demo_files()
PLACES = (np.arange(200_000) + 0.5) / 200_000
SCORES = norm.ppf(PLACES)


@pytest.mark.parametrize("relative", [0.0, 0.03, 0.12])
def test_a_narrow_spread_is_a_normal_one_bit_for_bit(relative: float) -> None:
    assert (positive_factor(SCORES, relative) == 1.0 + relative * SCORES).all()


@pytest.mark.parametrize("relative", [0.13, 0.3, 0.6, 1.0, 7.0])
def test_a_wide_spread_is_a_normal_one_whose_lower_half_is_cut(relative: float) -> None:
    found = positive_factor(SCORES, relative)
    assert found.min() >= 0.1
    assert np.median(found) == pytest.approx(1.0, abs=1e-5)
    assert (np.diff(found) > 0.0).all()
    wide = min(relative, 1.0)
    # derived: given that it is in the lower half, a value x has the share of a normal variable
    # between the cut and x, over that between the cut and the median
    cut = norm.cdf(-0.9 / wide)
    for value in (0.2, 0.5, 0.9):
        share = 0.5 * (norm.cdf((value - 1.0) / wide) - cut) / (0.5 - cut)
        assert (found < value).mean() == pytest.approx(share, abs=2e-5)
    assert (found > 1.0 + wide).mean() == pytest.approx(norm.sf(1.0), abs=1e-5)


def test_of_nothing_the_error_above_zero_is_left() -> None:
    assert positive(0.0, 2.0, np.array([-1.0, 0.0, 1.5])).tolist() == [0.0, 0.0, 3.0]
    assert positive(4.0, 1.0, np.array([1.0])).tolist() == [5.0]


def test_a_shape_moves_as_its_length_says_both_ways() -> None:
    assert moved_ratio(np.array([1.0]), 0.2, 2.0).tolist() == [1.1]
    assert moved_ratio(np.array([1.0]), -0.2, 2.0) == pytest.approx([0.9])
    assert moved_ratio(np.array([9.0]), -3.0, 2.0).min() >= 0.1


def changed(old: str, new: str) -> dict[str, str]:
    assert FILES["rocket.toml"].count(old) == 1
    return {**FILES, "rocket.toml": FILES["rocket.toml"].replace(old, new)}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("1.00 m across flats", "1.00 m ± 15 % across flats"),
        ("1.00 m across flats", "20 mm ± 25 % across flats"),
        ('span = "80 mm"', 'span = "3 m ± 25 %"'),
        ('span = "80 mm"', 'span = "1 mm ± 25 %"'),
        ('station = "1060 mm"', 'station = "1060 mm ± 100 mm"'),
    ],
)
def test_every_flight_of_an_extreme_rocket_can_be_flown(old: str, new: str) -> None:
    trials = make_trials(case_of(read_project(changed(old, new))), 2000, 1)
    assert np.isfinite(trials.parameters).all()
    for name in ("dry_mass_kg", "canopy_area_m2", "canopy_diameter_m", "axial_factor"):
        assert (trials.parameter(name) > 0.0).all(), name


def test_a_tab_deeper_than_its_room_is_told_at_its_part() -> None:
    with pytest.raises(ProjectErrors) as caught:
        read_project(changed("118 mm x 19 mm", "118 mm x 60 mm"))
    (fault,) = caught.value.faults
    assert (fault.file, fault.key) == ("rocket.toml", "part[fins].tab")
    assert "at most 19.0 mm" in str(caught.value)
