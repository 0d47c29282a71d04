"""The well-built rockets as one mass: the share ahead of the separation, told by the balance point.

Their masses part by part are the truth; of them only the sum and where it balances are kept.
"""

from dataclasses import replace

import as_files
import numpy as np
import pytest
from well_built import BY_KEY

from goodflight.physics.vehicle import combine
from goodflight.physics.vehicle.parts import AddedMass
from goodflight.project.reading import read_project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.sections import Sections
from goodflight.studies.sampling.trials import make_trials

FLIGHTS = 200


def in_one(case: Case) -> Case:
    """The same with one mass for all but the gear."""
    soft = {part.name for part in case.rocket.parts if part.soft}
    found = combine([item for item in case.items if item.name not in soft])
    parts = [
        part if part.soft or part.room else replace(part, mass_kg=0.0, balance_m=None)
        for part in case.rocket.parts
        if not isinstance(part, AddedMass)
    ]
    whole = AddedMass("all", 0.0, mass_kg=found.mass_kg, balance_m=found.cg_m, role="whole")
    item = replace(case.items[0], name="all", mass_kg=found.mass_kg, station_m=found.cg_m)
    gear = tuple(each for each in case.items if each.name in soft)
    rocket = replace(case.rocket, parts=(*parts, whole))
    return replace(case, rocket=rocket, items=(item, *gear))


def sections(case: Case) -> Sections:
    found = make_trials(case, FLIGHTS, 1).sections
    assert found is not None
    return found


@pytest.mark.parametrize("key", BY_KEY)
def test_what_lies_ahead_is_within_its_spread(key: str) -> None:
    case = case_of(read_project(as_files.files_of(BY_KEY[key])), "first flight")
    true, told = (float(np.median(sections(each).nose_kg)) for each in (case, in_one(case)))
    drawn = sections(in_one(case)).nose_kg
    assert drawn.std() > 0.0
    assert abs(true - told) < 2.0 * drawn.std()
    whole = next(item for item in in_one(case).items if item.name == "all").mass_kg
    assert abs(true - told) < min(true, whole - true)  # nearer than all of it on one side
