"""The order of the demo rocket, hand-made orders, ticking."""

from pathlib import Path

import pytest

from goodflight.outputs.bench.order_text import order_text
from goodflight.outputs.bench.records import order_record
from goodflight.project import Project, load, read_project
from goodflight.project.demo import demo_files, write_demo
from goodflight.studies.bench.order import (
    NoOrderError,
    Order,
    Reach,
    Step,
    check_order,
    explained,
    find_order,
)
from goodflight.studies.bench.steps import assembly_order, steps_of
from goodflight.studies.bench.ticking import tick
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.sampling.flights import fly_trials


def demo() -> Project:
    return read_project(demo_files())


def place_of(order: Order) -> dict[str, int]:
    return {placed.step.key: placed.number for placed in order.steps}


def test_demo_order_is_what_a_builder_would_do() -> None:
    """Common practice, no source: each line is one reason a builder gives."""
    at = place_of(assembly_order(demo()))
    assert at["mark-main tube"] < at["slots"] < at["mount-in"]  # no knife over the motor tube
    assert at["ring-forward ring"] < at["anchor"] < at["mount-in"]  # nuts behind the ring
    assert at["cord-anchor"] < at["mount-in"]  # half a metre down the tube: out of reach later
    assert at["guide-forward"] < at["mount-in"]
    assert at["mount-in"] < at["fins-on"] < at["inner-fillets"] < at["ring-rear ring"]
    assert at["mount-in"] < at["guide-rear"]  # its rings slide past where the nut sits
    assert at["guide-rear"] < at["ring-rear ring"] < at["retainer-retainer"]
    assert at["bulkheads-coupler"] < at["coupler-coupler"] < at["sled"]  # by the lid that comes off
    assert at["cut-tubes"] < at["mark-main tube"] < at["holes-main tube"]
    assert at["ballast-nose ballast"] < at["plate-nose"]
    assert max(at, key=at.__getitem__) == "weigh"
    assert at["paint"] < at["guides-on"]


def test_points_of_no_return_say_what_is_shut_off() -> None:
    order = assembly_order(demo())
    shut = {placed.step.key: placed.shut_off for placed in order.steps if placed.no_return}
    assert set(shut) == {"mount-in", "ring-rear ring", "plate-nose"}
    assert "the tab joints inside the fin can" in shut["ring-rear ring"]
    assert "the nuts behind forward ring" in shut["mount-in"]


def test_reasons_name_the_step_that_would_lock_it_out() -> None:
    order = assembly_order(demo())
    inner = next(x for x in order.steps if x.step.key == "inner-fillets")
    assert any("Glue rear ring" in reason and "last way" in reason for reason in inner.reasons)


def test_a_longer_arm_frees_the_cord() -> None:
    files = demo_files()
    files["build.toml"] = '[bench]\narm_reach = "600 mm"\n'
    steps = {s.key: s for s in steps_of(read_project(files))}
    assert len(steps["cord-anchor"].reaches[0].doors) == 2
    assert not set(steps["cord-anchor"].reaches[0].doors) <= set(steps["mount-in"].closes)
    assert len(next(s for s in steps_of(demo()) if s.key == "cord-anchor").reaches[0].doors) == 1


def test_rear_ring_too_early_is_refused_with_step_and_reason() -> None:
    order = [placed.step.key for placed in assembly_order(demo()).steps]
    order.remove("inner-fillets")
    order.insert(order.index("ring-rear ring") + 1, "inner-fillets")
    refusals = check_order(steps_of(demo()), order)
    assert [r.key for r in refusals] == ["ring-rear ring"]
    assert refusals[0].locked_out == "inner-fillets"
    assert refusals[0].reason == (
        "'Glue rear ring: closes the fin can' closes the gap ahead of the rear ring, the last way "
        "to the tab joints inside the fin can; 'Fillets inside, along tabs, motor tube and tube "
        "wall' still has to get there"
    )


def test_missing_double_unknown_and_too_early_steps_are_named() -> None:
    steps = [Step("a", "A"), Step("b", "B", after=("a",)), Step("c", "C")]
    reasons = {(r.key, r.number): r.reason for r in check_order(steps, ["b", "a", "a", "x"])}
    assert "builds on 'A'" in reasons["b", 1]
    assert "is listed twice" in reasons["a", 3]
    assert "there is no such step" in reasons["x", 0]
    assert "missing" in reasons["c", 0]


def test_steps_that_lock_one_another_out_are_said() -> None:
    steps = [
        Step("front", "glue front", (Reach("rear nut", ("rear",)),), ("front",)),
        Step("rear", "glue rear", (Reach("front nut", ("front",)),), ("rear",)),
    ]
    with pytest.raises(NoOrderError, match="rear nut is closed by 'glue rear'"):
        find_order(steps)
    with pytest.raises(ValueError, match="not among the steps"):
        find_order([Step("a", "A", after=("z",))])
    with pytest.raises(ValueError, match="are listed twice"):
        find_order([Step("a", "A"), Step("a", "A")])


def test_a_second_way_in_keeps_a_place_open() -> None:
    inside = Step("nut", "nut", (Reach("inside", ("front", "rear")),))
    shut = Step("ring", "ring", closes=("rear",))
    assert check_order([inside, shut], ["ring", "nut"]) == ()
    assert [placed.shut_off for placed in explained([shut, inside])] == [(), ()]


def test_ticking_keeps_weight_photo_and_comments(tmp_path: Path) -> None:
    folder = tmp_path / "heron"
    write_demo(folder)
    project = tick(load(folder), "slots", mass="12 g", photo="slots.jpg")
    assert assembly_order(project).done["slots"].done
    (folder / "build.toml").write_text(
        "# my build\n" + (folder / "build.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    project = tick(load(folder), "slots", photo="better.jpg")
    project = tick(project, "weigh")
    project = tick(project, "weigh", done=False)
    text = (folder / "build.toml").read_text(encoding="utf-8")
    assert text.startswith("# my build\n")
    done = assembly_order(load(folder)).done
    assert (done["slots"].done, done["slots"].mass, done["slots"].photo) == (
        True,
        "12 g",
        "better.jpg",
    )
    assert not done["weigh"].done
    with pytest.raises(ValueError, match="there is no such step"):
        tick(project, "slotz")


def built(**changes: tuple[str, str]) -> Project:
    """The demo with texts of its build.toml put in place of others."""
    files = demo_files()
    for find, put in changes.values():
        assert find in files["build.toml"]
        files["build.toml"] = files["build.toml"].replace(find, put, 1)
    return read_project(files)


def test_steps_of_the_project_count_as_the_steps_they_are() -> None:
    """The demo is finished: 28 steps of the list, five of its own; one own step less, one less."""
    order = assembly_order(demo())
    text, data = order_text(order), order_record(order)
    assert "28 of 28 steps done" in text and "Steps of your own" in text
    assert data["done"] == 28 and [each["done"] for each in data["own"]] == [True] * 5
    assert order.doubts == ()
    order = assembly_order(built(anchor=('does = ["anchor"]\ndone = true', 'does = ["anchor"]')))
    assert order_record(order)["done"] == 27


def test_a_ballast_step_not_done_behind_a_plate_that_is_glued_in_is_said() -> None:
    ballast = ('does = ["ballast-nose ballast"]\ndone = true', 'does = ["ballast-nose ballast"]')
    project = built(ballast=ballast)
    doubts = assembly_order(project).doubts
    assert doubts[0] == (
        "'Fix nose ballast in nose' is not done, and 'Close the base of nose with its plate' has "
        "closed the way to it"
    )
    assert "LOOK AGAIN" in order_text(assembly_order(project))
    early = case_of(project).workshop.early
    assert early is not None and ("plate of the nose glued in", "nose ballast") in early
    row = {r.limit.key: r for r in evaluate(fly_trials(case_of(project), 20, 1))}["closed_in"]
    assert row.failing.all()
    assert case_of(demo()).workshop.early == ()


def test_ticks_of_the_list_alone_close_a_step_in() -> None:
    """No step of the project says what it closes: the ticks of `goodflight order` do."""
    files = demo_files()
    head = files["build.toml"].partition("# steps that fit")[0]
    plate = '\n[[step]]\nname = "plate-nose"\ndone = true\n'
    project = read_project({**files, "build.toml": head + plate})
    early = case_of(project).workshop.early
    assert early == (("Close the base of nose with its plate", "Fix nose ballast in nose"),)
    assert case_of(read_project({**files, "build.toml": head})).workshop.early is None
    assert any("builds on it, is" in each for each in assembly_order(project).doubts)


def test_what_is_closed_in_and_never_fitted_is_not_known() -> None:
    project = built(fits=('fits = ["U-bolt"]\n', ""))
    assert case_of(project).workshop.early is None


def test_a_step_that_is_none_of_the_list_is_said() -> None:
    project = built(key=('does = ["anchor"]', 'does = ["ankor"]'))
    assert any("'ankor' in build.toml (does)" in each for each in assembly_order(project).doubts)
