"""What if: several levers at once, what keeping them writes, remedies on top of what is tried."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from goodflight.studies.case.planned import Case, main_name
from goodflight.studies.case.project_case import features_of
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.levers.motor import nearest_delay_out_s
from goodflight.studies.levers.whatif import tried
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.trials import make_trials


@pytest.fixture(scope="module")
def case(demo_case: Callable[[str], Case]) -> Case:
    return demo_case("breezy")


def test_several_levers_are_tried_together(case: Case) -> None:
    trial = tried(case, {"rail": "3", "anchors": "1.5", "edge": "lined"})
    assert trial.changed == ("rail", "anchors", "edge")
    assert trial.case.rail.length_m == 3.0
    separation = trial.case.rocket.separation
    assert separation.fore_anchor_n is not None and separation.fore_anchor_n.value == 2250.0
    assert separation.edge == "kraft_lined"
    assert {path for path, _ in trial.writes} == {
        "plans.toml:plan[breezy].rail",
        "rocket.toml:separation.fore_anchor",
        "rocket.toml:separation.aft_anchor",
        "rocket.toml:separation.edge",
    }
    assert [each.key for each in trial.also] == ["anchors", "edge"]
    told = [str(each) for each in trial.words]
    assert told[0] == "rail of the field" and "glue a ring" in told[2]


def test_a_change_on_top_of_others_is_the_flight_that_is_tried(case: Case) -> None:
    """Whether its lever stands before or after theirs, and back to what the project has."""
    settings = {"wind": "4", "motor": "H-a", "anchors": "1.5"}
    trial = tried(case, settings)
    for change in (ladder[-1] for ladder in trial.ladders):
        whole = tried(case, change.settings).case
        drawn = (make_trials(each, 4, 1) for each in (change.case, whole))
        one, other = (np.column_stack([each.parameters, each.z]).tobytes() for each in drawn)
        assert one == other, change.key
        assert change.case.rocket == whole.rocket and change.case.plan_says == whole.plan_says
    assert len(trial.ladders) > 20


def test_what_cannot_be_tried_is_said_in_one_sentence(case: Case) -> None:
    with pytest.raises(ValueError, match="nothing to change is named 'moon'"):
        tried(case, {"moon": "1"})
    with pytest.raises(ValueError, match="'order of the steps' cannot be changed on this flight"):
        tried(case, {"fit_first": "done"})


def test_a_remedy_is_tried_on_top_of_what_is_tried(case: Case) -> None:
    """Its settings are those in force and its own; flown by itself it is the same flight."""
    settings = {"wind": "4"}
    ledger = ledger_of(case, 150, settings=settings)
    remedies = {r.key: r for row in ledger.rows for r in row.remedies}
    assert any(
        not key.startswith(("rail", "delay_out", "tilt", "wind", "motor")) for key in remedies
    )
    for key, remedy in remedies.items():
        ((lever, setting),) = remedy.settings
        again = tried(case, {**settings, lever: setting})
        assert key == f"{lever}={setting}" and lever in again.changed
        assert {path for path, _ in remedy.change} <= {path for path, _ in again.writes}, key


def test_the_flight_of_a_change_is_the_flight_that_is_tried(case: Case) -> None:
    for change in tried(case, {"rail": "3"}).changes[::7]:
        trial = tried(case, change.settings)
        assert trial.settings.items() >= {change.lever.key: change.setting.id}.items()
        for name in ("rail", "deployment", "day", "workshop", "items"):
            assert getattr(change.case, name) == getattr(trial.case, name), (change.key, name)


def test_ballast_that_is_there_becomes_heavier(case: Case) -> None:
    there = tried(case, {"ballast": "0.02"}).case
    again = tried(there, {"ballast": "0.02"})
    added = [i for i in again.case.items if i.name == "added nose ballast"]
    assert [i.mass_kg for i in added] == pytest.approx([0.04])
    assert again.writes == (("rocket.toml:part[added nose ballast].mass", "40 g ± 1 g"),)


def test_another_motor_takes_the_delay_nearest_to_its_coast(case: Case) -> None:
    trial = tried(case, {"motor": "H-a"})
    assert trial.case.motor.name == "H-a"
    assert trial.case.deployment.delay_out_s == nearest_delay_out_s(trial.case)
    kept = tried(case, {"motor": "H-a", "delay_out": "1"})
    assert kept.case.deployment.delay_out_s == 1.0
    assert dict(kept.writes)["plans.toml:plan[breezy].delay_out"] == "1 s"


def test_titles_are_told_in_the_units_of_the_reader(case: Case) -> None:
    titles = {c.key: c.setting.title for c in tried(case, {}).changes}
    assert titles["rail=3"].told() == "use the 3 m rail"
    assert titles["rail=3"].told("imperial") == "use the 9.84 ft rail"
    assert titles["wind=2"].told() == "wait until the wind is 2 m/s or less"
    assert titles["wind=2"].told("imperial") == "wait until the wind is 4.47 mph or less"
    assert all(title.told() and title.told("imperial") for title in titles.values())


def test_what_a_change_keeps_of_the_rocket_is_as_if_worked_out_anew(case: Case) -> None:
    for ladder in tried(case, {}).ladders:
        now = ladder[0].case
        kept = now.uncertainty.features
        assert kept == pytest.approx(features_of(now.rocket, main_name(now))), ladder[0].key


def test_rows_judged_for_their_failures_alone_fail_on_the_same_flights(case: Case) -> None:
    view = fly_trials(case, 40, 1)
    whole, masks = evaluate(view), evaluate(replace(view, masks_only=True))
    for one, other in zip(whole, masks, strict=True):
        assert one.known == other.known, one.limit.key
        assert np.array_equal(one.failing, other.failing), one.limit.key
        assert counted(one, 40)["state"] == counted(other, 40)["state"], one.limit.key
        assert one.not_here == other.not_here, one.limit.key
