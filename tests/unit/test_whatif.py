"""Further changes tried beside the controls: by key, several at once, the later one holding."""

from dataclasses import replace
from pathlib import Path

import pytest

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.remedies import Effect, cheapest_of
from goodflight.studies.levers.changes import changes_of
from goodflight.studies.levers.whatif import tried, way_to_try
from goodflight.studies.questions.ledger import ledger_of


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Case:
    folder: Path = tmp_path_factory.mktemp("demo") / "fieldfare"
    write_demo(folder)
    return case_of(load(folder), "breezy")


def test_several_changes_are_tried_together_with_the_controls(case: Case) -> None:
    trial = tried(case, {"rail": "3", "also": "anchors_1.5, edge_lined"})
    assert trial.changed == ("rail", "anchors_1.5", "edge_lined")
    assert trial.case.rail_length_m == 3.0
    separation = trial.case.rocket.separation
    assert separation.fore_anchor_n is not None and separation.fore_anchor_n.value == 2250.0
    assert separation.edge == "kraft_lined"
    assert [path for path, _ in trial.writes] == [
        "plans.toml:plan[breezy].rail", "rocket.toml:separation.fore_anchor",
        "rocket.toml:separation.aft_anchor", "rocket.toml:separation.edge",
    ]  # fmt: skip
    assert [each.without for each in trial.also] == ["edge_lined", "anchors_1.5"]
    assert trial.words[0] == "rail of the field" and "glue a ring" in trial.words[2]


def test_of_two_changes_of_one_entry_the_later_holds(case: Case) -> None:
    both = tried(case, {"also": "pull_22,pull_45"})
    alone = tried(case, {"also": "pull_45"})
    assert both.writes == alone.writes
    assert both.case.rocket.separation == alone.case.rocket.separation
    assert [each.key for each in both.also] == ["pull_45"] and both.also[0].without == ""


def test_a_change_offered_after_another_writes_over_it(case: Case) -> None:
    first = tried(case, {"also": "vents_3"})
    key = next(c.key for c in changes_of(first.case) if c.key.startswith("vents_"))
    trial = tried(case, {"also": f"vents_3,{key}"})
    assert dict(trial.writes)["rocket.toml:part[parachute bay].vents"] == "5"
    assert [each.key for each in trial.also] == [key] and trial.also[0].without == ""


def test_what_cannot_be_tried_is_said_in_one_sentence(case: Case) -> None:
    with pytest.raises(ValueError, match="no change named 'moon_1' here"):
        tried(case, {"also": "moon_1"})
    with pytest.raises(ValueError, match="13 further changes at once"):
        tried(case, {"also": ",".join(str(n) for n in range(13))})


def test_every_remedy_of_a_ledger_has_a_way_to_be_tried(case: Case) -> None:
    trial = tried(case, {"wind": "4"})
    ledger = ledger_of(trial.case, 150)
    remedies = {r.key: r for row in ledger.rows for r in row.remedies}
    assert any(
        not key.startswith(("rail", "delay_out", "tilt", "wind", "motor")) for key in remedies
    )
    for key, remedy in remedies.items():
        way = way_to_try(trial, {"wind": "4"}, key, remedy.change)
        again = tried(case, way)
        assert way["wind"] == ("4" if not key.startswith("wind") else way["wind"])
        assert {path for path, _ in remedy.change} <= {path for path, _ in again.writes}, key
        assert len(again.changed) >= len(trial.changed)


def test_more_ballast_goes_into_the_lump_that_is_there(case: Case) -> None:
    trial = tried(case, {"ballast": "0.02"})
    change = next(c for c in changes_of(trial.case) if c.key == "ballast_40")
    assert change.title == "add 20 g more in the nose"
    again = tried(case, way_to_try(trial, {"ballast": "0.02"}, change.key, change.writes))
    added = [i for i in again.case.items if i.name == "added nose ballast"]
    assert [i.mass_kg for i in added] == pytest.approx([0.04])
    assert [path for path, _ in again.writes] == [
        "rocket.toml:part", "rocket.toml:part[added nose ballast].mass"
    ]  # fmt: skip


def effect(case: Case, key: str, cost: str, gain: float, refined: bool = True) -> Effect:
    change = replace(changes_of(case)[0], key=key, cost=cost)
    rows = {"too_early": 0.3, "too_late": 0.1}
    after = {"too_early": 0.3 - gain, "too_late": 0.1 - gain / 4.0}
    return Effect(change, rows, after, 0.4, 0.4 - gain, gain, refined)


def test_the_cheapest_thing_weighs_the_gain_by_what_it_costs(case: Case) -> None:
    """0.20 bought counts 0.12, 0.15 in minutes counts 0.135: the minutes stand first."""
    bought, minutes = effect(case, "a", "purchase", 0.20), effect(case, "b", "minutes", 0.15)
    found = cheapest_of([bought, minutes])
    assert found is not None and found.remedy.key == "b"
    assert found.helps == ("too_early", "too_late")
    assert (found.remedy.chance_before, found.remedy.chance) == pytest.approx((0.3, 0.15))
    assert (found.remedy.total_before, found.remedy.total) == pytest.approx((0.4, 0.25))


def test_nothing_that_helps_less_than_can_be_told_is_the_cheapest(case: Case) -> None:
    assert cheapest_of([]) is None
    assert cheapest_of([effect(case, "a", "free", 0.001)]) is None
    small = effect(case, "a", "free", 0.3, refined=False)  # seen on few flights only
    sure = effect(case, "b", "free", 0.1)
    found = cheapest_of([small, sure])
    assert found is not None and found.remedy.key == "b"


def test_the_cheapest_thing_of_a_ledger_is_one_of_its_remedies(case: Case) -> None:
    ledger = ledger_of(case, 300)
    assert ledger.cheapest is not None
    remedy, row = ledger.cheapest.remedy, ledger.cheapest.helps[0]
    assert remedy.total < remedy.total_before and remedy.chance < remedy.chance_before
    assert remedy.key in {each.key for r in ledger.rows if r.key == row for each in r.remedies}


def test_a_moved_control_holds_before_a_further_change_of_the_same_entry(case: Case) -> None:
    alone = tried(case, {"pull": "40"})
    both = tried(case, {"pull": "40", "also": "pull_22,edge_lined"})
    assert alone.case.rocket.separation.pull_n == both.case.rocket.separation.pull_n
    assert both.changed == ("pull", "edge_lined")
    way = way_to_try(tried(case, {"also": "pull_22"}), {"also": "pull_22"}, "pull_31",
                     (("rocket.toml:separation.pull", "31 N ± 3 N measured"),))  # fmt: skip
    found = tried(case, way).case.rocket.separation.pull_n
    assert found is not None and found.value == 31.0
