"""What lies in a bay is fitted before the bay is closed; ticks and drills come when they can.

Common practice, no source: lids of a bay on rods, battery changed before every flight, bolts and
charge cups on their lid while both of its faces are reached.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from bay_files import LID, bay_files, bay_project
from goodflight.outputs.bench.order_text import order_text
from goodflight.outputs.bench.records import order_record
from goodflight.project import Project, load, read_project
from goodflight.project.demo import demo_files, write_demo
from goodflight.studies.bench.order import Step, check_order
from goodflight.studies.bench.steps import assembly_order, steps_of
from goodflight.studies.bench.ticking import TooEarly, tick

GLUED, OFF = "removable = false", "removable = true"


def keys(project: Project) -> list[str]:
    return [placed.step.key for placed in assembly_order(project).steps]


def at(project: Project) -> dict[str, int]:
    return {key: number for number, key in enumerate(keys(project))}


def step(project: Project, key: str) -> Step:
    return next(each for each in steps_of(project) if each.key == key)


def shut(project: Project) -> dict[str, tuple[str, ...]]:
    return {x.step.key: x.shut_off for x in assembly_order(project).steps if x.no_return}


def moved(order: list[str], key: str, before: str) -> list[str]:
    rest = [each for each in order if each != key]
    place = rest.index(before)
    return [*rest[:place], key, *rest[place:]]


def test_two_glued_lids_are_closed_only_after_the_sled_is_in() -> None:
    project = bay_project(GLUED, GLUED)
    assert at(project)["sled"] < at(project)["bulkheads-coupler"]
    assert "the inside of coupler" in shut(project)["bulkheads-coupler"]
    assert "can never be changed" in step(project, "sled").warning
    assert "LOOK AGAIN" in order_text(assembly_order(project))
    early = moved(keys(project), "bulkheads-coupler", "sled")
    refusals = check_order(steps_of(project), early)
    assert [(each.key, each.locked_out) for each in refusals if each.locked_out == "sled"] == [
        ("bulkheads-coupler", "sled")
    ]
    cure = moved(early, "sled", "bulkheads-coupler")
    assert check_order(steps_of(project), cure) == ()


def test_a_lid_that_comes_off_again_closes_nothing() -> None:
    project = bay_project(OFF, GLUED)
    assert step(project, "lids-coupler").closes == ()
    assert step(project, "lids-coupler").glued is None
    assert not step(project, "sled").warning
    assert "the inside of coupler" not in str(shut(project))
    for before in ("bulkheads-coupler", "lids-coupler", "paint"):
        assert check_order(steps_of(project), moved(keys(project), "sled", before)) == ()


def test_an_unsaid_lid_over_a_sled_is_taken_to_come_off_and_the_step_says_so() -> None:
    project = bay_project()
    assert "front lid" in step(project, "lids-coupler").title
    assert "does not say" in step(project, "bulkheads-coupler").how
    assert "front lid" not in step(project, "bulkheads-coupler").title
    demo = read_project(demo_files())
    assert "front lid of coupler" in step(demo, "bulkheads-coupler").how


def test_bolt_and_charge_cup_are_on_their_lid_before_it_is_glued() -> None:
    project = bay_project(OFF, GLUED)
    for key in ("hardware-rear bolt", "hardware-cup"):
        assert at(project)[key] < at(project)["bulkheads-coupler"]
        late = moved(keys(project), "bulkheads-coupler", key)
        assert any(each.locked_out == key for each in check_order(steps_of(project), late))
    assert "both faces of rear lid" in shut(project)["bulkheads-coupler"]


def test_a_coupler_glued_in_deeper_than_an_arm_closes_its_inner_end() -> None:
    """Front end 145 mm down the payload tube: an arm of 100 mm does not get there."""
    project = bay_project(OFF, GLUED, '[bench]\narm_reach = "100 mm"\n')
    assert at(project)["sled"] < at(project)["coupler-coupler"]
    assert "the inside of coupler" in shut(project)["coupler-coupler"]


def test_a_sled_in_the_nose_goes_in_before_the_plate() -> None:
    files = bay_files(OFF, GLUED)
    blocks = files["rocket.toml"].split("[[part]]")
    for i, block in enumerate(blocks):
        if 'role = "sled"' in block:
            short = block.replace('"395 mm"', '"150 mm"').replace('"120 mm"', '"60 mm"')
            blocks[i] = short.replace('"450 mm"', '"180 mm"')
    project = read_project({**files, "rocket.toml": "[[part]]".join(blocks)})
    assert at(project)["sled"] < at(project)["plate-nose"]
    late = moved(keys(project), "plate-nose", "sled")
    assert any(each.locked_out == "sled" for each in check_order(steps_of(project), late))


def test_drilling_or_marking_a_part_before_it_exists_is_refused_with_the_reason() -> None:
    project = read_project(demo_files())
    order = moved(keys(project), "holes-main tube", "cut-tubes")
    reasons = [each.reason for each in check_order(steps_of(project), order)]
    assert (
        "'Drill vents and openings of main tube' works on main tube, made in 'Cut tubes and "
        "couplers to length', which comes later"
    ) in reasons
    order = moved(keys(project), "ring-rear ring", "cut-flat")
    assert any(
        "works on rear ring, made in" in x.reason for x in check_order(steps_of(project), order)
    )


def test_a_guide_in_the_edge_of_a_ring_is_drilled_once_the_ring_is_in() -> None:
    files = demo_files()
    files["rocket.toml"] = files["rocket.toml"].replace(
        'aft_station = "1190 mm"', 'aft_station = "1205 mm"'
    )
    project = read_project(files)
    assert at(project)["ring-rear ring"] < at(project)["guide-rear"]
    order = moved(keys(project), "guide-rear", "ring-rear ring")
    assert [each.key for each in check_order(steps_of(project), order)] == ["guide-rear"]


def test_a_nut_between_two_rings_of_the_mount_is_said() -> None:
    """At 1000 mm the forward ring slides past it and the middle ring closes it in."""
    files = demo_files()
    files["rocket.toml"] = files["rocket.toml"].replace(
        'aft_station = "1190 mm"', 'aft_station = "1000 mm"'
    )
    warning = step(read_project(files), "guide-rear").warning
    assert "in the way of forward ring" in warning


def test_a_tick_waits_for_its_turn(tmp_path: Path) -> None:
    folder = tmp_path / "heron"
    write_demo(folder)
    (folder / "build.toml").write_text("", encoding="utf-8")
    with pytest.raises(TooEarly) as caught:
        tick(load(folder), "mount-in")
    text = str(caught.value)
    assert "'Glue forward ring to the motor tube' (ring-forward ring), which is not done" in text
    assert "inside of main tube at the slots, where 'Cut the fin slots in main tube'" in text
    assert (folder / "build.toml").read_text(encoding="utf-8") == ""
    project = tick(load(folder), "cut-flat")
    project = tick(tick(project, "cut-tubes"), "mark-main tube")
    with pytest.raises(TooEarly, match="builds on"):
        tick(project, "coupler-coupler")
    project = tick(project, "mount-in", anyway=True)
    assert any("has closed the way to it" in each for each in assembly_order(project).doubts)
    assert tick(project, "mount-in", done=False)


def test_own_steps_that_stand_for_others_count_as_their_forerunners(tmp_path: Path) -> None:
    folder = tmp_path / "heron"
    write_demo(folder)
    own = '[[step]]\nname = "all tubes"\ndoes = ["cut-tubes", "mark-main tube"]\ndone = true\n'
    (folder / "build.toml").write_text(own, encoding="utf-8")
    project = tick(load(folder), "holes-main tube")
    assert order_record(assembly_order(project))["done"] == 3


def test_a_glued_plate_and_a_coupler_shut_a_tube_from_both_sides() -> None:
    """Sled at 330 to 370 mm in the payload tube, plate glued at 300, coupler's lids from 385."""
    files = demo_files()
    files["rocket.toml"] = files["rocket.toml"].replace(
        'length = "140 mm"', 'length = "40 mm"'
    ).replace('balance = "400 mm"', 'balance = "350 mm"') + LID.format("plate's", 300, "").replace(
        "72.6", "75.9"
    )
    files["build.toml"] = ""
    files.pop("weighings.toml")
    project = read_project(files)
    order = keys(project)
    closers = {"bulkhead-plate's lid", "coupler-coupler"}
    assert order.index("sled") < max(order.index(key) for key in closers)
    late = [*(key for key in order if key != "sled"), "sled"]
    assert {
        x.key for x in check_order(steps_of(project), late) if x.locked_out == "sled"
    } <= closers
    assert any(x.locked_out == "sled" for x in check_order(steps_of(project), late))


def test_a_guide_changes_words_of_two_steps_and_no_way_in() -> None:
    """What ticks of build.toml shut out is told without sizing a guide: by the same steps."""
    project = read_project(demo_files())
    with_guide, without = steps_of(project), steps_of(project, guided=False)
    assert [each.key for each in with_guide] == [each.key for each in without]
    other = {one.key for one, two in zip(with_guide, without) if one != two}
    assert other == {"cut-flat", "fins-on"}
    for one, two in zip(with_guide, without):
        told = replace(one, title=two.title, tools=two.tools, how=two.how, check=two.check)
        assert told == two
