"""Checklists: their order, which lines a flight needs, what they prevent, what fills them."""

from dataclasses import replace

import pytest

from goodflight.physics.flight import registry
from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.case.planned import Case
from goodflight.studies.cautions import CAUTIONS
from goodflight.studies.lists.checklists import checklists_of
from goodflight.studies.lists.facts import facts_of, fills_of
from goodflight.studies.lists.step import BLANK, LISTS
from goodflight.studies.lists.steps import STEPS
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.unseen import UNSEEN
from sample_case import sample_case


@pytest.fixture(scope="module")
def case() -> Case:
    return sample_case()


def keys(case: Case, which: str) -> list[str]:
    return [line.key for line in next(x for x in checklists_of(case) if x.key == which).lines]


def by_altimeter(case: Case) -> Case:
    return replace(case, deployment=replace(case.deployment, by=registry.BY_ALTIMETER))


def test_every_line_prevents_something_that_is_known_and_cautions_exist() -> None:
    known = {row.key for row in LIMIT_STATES} | {each.key for each in UNSEEN}
    for step in STEPS:
        assert step.prevents and set(step.prevents) <= known, step.key
        assert step.caution in {"", *CAUTIONS}, step.key
    assert {step.on for step in STEPS} == set(LISTS)


def test_what_no_calculation_sees_is_prevented_by_some_line() -> None:
    """A friend to catch the canopy is the one check that is no line: nobody does it alone."""
    prevented = {key for step in STEPS for key in step.prevents}
    assert {each.key for each in UNSEEN} - prevented == {"dragged"}


def test_arming_recorder_igniter_stand_in_that_order_on_the_pad_and_nowhere_before(
    case: Case,
) -> None:
    pad = [step.key for step in STEPS if step.on == "pad"]
    order = ["aim", "armed", "recording", "dead", "igniter", "clips", "leave"]
    assert [key for key in pad if key in order] == order
    before = [s for s in STEPS if s.on in ("home", "prepare", "motor")]
    assert not [s.key for s in before if s.key == "armed"]
    assert [s.reply for s in before if s.key == "igniter"] == [
        "Not in the motor: in its bag, here to show"
    ]
    flown = keys(by_altimeter(case), "pad")
    assert flown.index("recording") + 2 == flown.index("igniter")  # clips dead stands between


def test_disarming_stands_before_anything_is_touched(case: Case) -> None:
    for which, touched in (("misfire", "out"), ("landed", "parts")):
        found = keys(by_altimeter(case), which)
        assert found.index("disarm") < found.index(touched)
        assert "disarm" not in keys(case, which)


def test_a_flight_has_the_lines_it_needs_and_no_others(case: Case) -> None:
    assert {"charge", "shortened"} <= set(
        keys(replace(case, deployment=replace(case.deployment, delay_out_s=2.0)), "motor")
    )
    held = by_altimeter(case)
    found = keys(held, "motor")
    assert {"off", "front"} <= set(found) and not {"charge", "as_sold", "shortened"} & set(found)
    assert "main" not in keys(case, "prepare")
    main = next(p for p in case.rocket.of_kind(Canopy) if p.name == "small canopy")
    two = replace(held, deployment=replace(held.deployment, main_canopy=main))
    assert "main" in keys(two, "prepare")


def test_nothing_missing_shortens_a_list(case: Case) -> None:
    """What the project does not say stays on the list, marked."""
    bare = replace(
        case,
        deployment=replace(case.deployment, devices=()),
        rocket=replace(
            case.rocket,
            separation=replace(case.rocket.separation, blanket_m2=None, wadding=False),
            parts=tuple(p for p in case.rocket.parts if p.name != "logger bay"),
        ),
    )
    facts = facts_of(bare)
    assert facts["blanket"] is facts["wadding"] is facts["records"] is facts["switched"] is None
    lists = checklists_of(bare)
    fitted = {line.key for each in lists for line in each.lines if line.fitted}
    assert {"blanket", "wadding", "recording", "on", "cells", "memory", "read"} <= fitted


def test_figures_fill_the_places_and_what_is_not_known_is_a_blank(case: Case) -> None:
    fills = fills_of(case)
    assert fills["pull_min"] == fills["pull_max"] == BLANK
    with_window = fills_of(case, (20.0, 62.5))
    assert (with_window["pull_min"], with_window["pull_max"]) == ("20 N", "62.5 N")
    pull = next(line for line in checklists_of(case, (20.0, 62.5))[1].lines if line.key == "pull")
    assert pull.reply == f"{BLANK} N; allowed from 20 N to 62.5 N"
    for each in checklists_of(case):
        for line in each.lines:
            assert "{" not in line.call + line.reply
