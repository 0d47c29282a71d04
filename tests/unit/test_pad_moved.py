"""A pad moved upwind: everything drawn about it moves the other way, and no flight changes."""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.levers.whatif import tried
from goodflight.studies.sampling.flights import fly_trials

FARM = ("farm", ((-300.0, -420.0), (-280.0, -420.0), (-280.0, -400.0)))


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Case:
    folder = tmp_path_factory.mktemp("pad") / "fieldfare"
    write_demo(folder)
    found = case_of(load(folder), "breezy")
    return replace(found, site=replace(found.site, people_areas_m=(FARM,)))


def test_field_keep_outs_and_people_all_stay_where_they_are(case: Case) -> None:
    """Seen from a pad moved upwind by 50 m they lie 50 m further downwind."""
    moved = tried(case, {"pad": "50"}).case.site
    wind = case.day.wind_from_rad
    shift = -50.0 * np.array([np.sin(wind), np.cos(wind)])
    before, after = case.site, moved
    for one, other in (
        (before.outline_m, after.outline_m),
        (before.keep_outs_m[0][1], after.keep_outs_m[0][1]),
        (before.people_areas_m[0][1], after.people_areas_m[0][1]),
    ):
        assert np.array(other) - np.array(one) == pytest.approx(
            np.broadcast_to(shift, np.shape(one)), abs=0.51
        )


def test_the_flights_are_the_same(case: Case) -> None:
    moved = tried(case, {"pad": "50"}).case
    one, other = (fly_trials(each, 20, 1).outcomes for each in (case, moved))
    np.testing.assert_array_equal(one, other)
