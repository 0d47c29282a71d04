"""Time at the bench, glue and place of each step."""

import math

import pytest

from goodflight.outputs.bench.order_text import glue_words, span_words, takes_words
from goodflight.project import ProjectErrors, read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.gluing import Glued
from goodflight.studies.bench.order import CURED, Reach, Step
from goodflight.studies.bench.span import span_of
from goodflight.studies.bench.steps import assembly_order, steps_of
from goodflight.studies.case.joints import GlueSheet


def steps(build: str | None = None, more: str = "") -> dict[str, Step]:
    """Steps of the demo by key, with another build.toml or more of it."""
    files = demo_files()
    files["build.toml"] = (files["build.toml"] if build is None else build) + more
    return {step.key: step for step in steps_of(read_project(files))}


def test_a_ring_cures_as_its_sheet_says_in_the_shed() -> None:
    """24 h at 25 degC, shed 9 degC, 58.6 kJ/mol: exp(58600/8.3145 (1/282.15 - 1/298.15)) = 3.82,
    by hand; the same joint and place as the ledger's."""
    glued = steps()["ring-forward ring"].glued
    assert glued is not None
    assert (glued.place, glued.sheet.name) == ("shed", "slow epoxy")
    slower = math.exp(58600.0 / 8.314462618 * (1 / 282.15 - 1 / 298.15))
    assert slower == pytest.approx(3.82, abs=0.005)
    assert glued.cure_s == pytest.approx(24 * 3600 * slower)
    assert glued.working_s == pytest.approx(40 * 60 * slower)
    assert glued.handling_s is None


def test_without_a_file_of_the_workshop_practice_at_25_degrees_stands_in() -> None:
    step = steps("")["mount-in"]
    assert step.glued is not None
    assert (step.glued.sheet.known, step.glued.place) == ("practice", "")
    assert step.glued.cure_s == 24 * 3600.0
    assert "common practice" in glue_words(step)


def test_glue_of_no_joint_is_left_in_the_coldest_place() -> None:
    """The retainer is in no joint of the demo: shed at 9 degC, not the kitchen at 20 degC."""
    glued = steps()["retainer-retainer"].glued
    assert glued is not None
    assert glued.place == "shed"


def test_the_only_glue_entered_holds_the_guides_nuts_too() -> None:
    """Two glues, or none: the quick one of common practice."""
    names = [
        steps(build)["guide-forward"].glued
        for build in (None, "", demo_files()["build.toml"] + '\n[[glue]]\nname = "wood glue"\n')
    ]
    found = [each.sheet.name for each in names if each is not None]
    assert found == ["slow epoxy", "epoxy of 5 min", "epoxy of 5 min"]


def test_a_rocket_that_is_not_painted_has_no_step_of_paint() -> None:
    """The rail guides wait for all glue instead, and the last weighing for them."""
    plain = steps("painted = false\n")
    assert "paint" in steps("") and "paint" not in plain
    assert {"dry-fit", "fins-on", "guide-forward"} <= set(plain["guides-on"].after)
    assert plain["weigh"].after == ("guides-on",)


def test_what_the_builder_writes_of_a_step_counts() -> None:
    own = '[[step]]\nname = "fins-on"\ntakes = "50 min ± 5 min measured"\nworkplace = "kitchen"\n'
    step = steps(more="\n" + own)["fins-on"]
    assert (step.takes_s, step.takes_sigma_s, step.takes_known) == (3000.0, 300.0, "measured")
    assert takes_words(step) == "50 min ± 5 min at the bench, measured"
    assert step.glued is not None
    assert step.glued.place == "kitchen"
    guess = steps()["fins-on"]
    assert guess.takes_sigma_s == pytest.approx(0.3 * guess.takes_s)
    assert "guess" in guess.takes_because


def test_a_place_too_cold_says_so_and_gives_no_time() -> None:
    cold = demo_files()["build.toml"].replace("9 degC ± 1 degC measured", "3 degC measured")
    step = steps(cold)["ring-forward ring"]
    assert step.glued is not None
    assert step.glued.cold
    assert step.glued.cure_s is None
    assert "does not cure below 5.0 °C" in glue_words(step)


def test_every_step_has_a_time_and_paint_waits_for_the_cure() -> None:
    found = steps()
    assert all(step.takes_s > 0 and step.takes_sigma_s > 0 for step in found.values())
    assert found["paint"].waits_for == CURED
    assert found["paint"].place_needs == ("dust", "outdoors")
    assert found["mount-in"].place_needs == ("fumes",)


def test_a_glue_or_place_that_no_file_names_is_refused() -> None:
    with pytest.raises(ProjectErrors) as caught:
        steps(more='\n[[step]]\nname = "fins-on"\nwith_glue = "slow epoxi"\nworkplace = "attic"\n')
    text = str(caught.value)
    assert "slow epoxi" in text
    assert "attic" in text


def six_fins(build: str) -> Step:
    files = demo_files()
    files["rocket.toml"] = files["rocket.toml"].replace("count = 3", "count = 6", 1)
    files["build.toml"] = build
    return {step.key: step for step in steps_of(read_project(files))}["fins-on"]


def test_more_pieces_than_the_glue_gives_time_for_are_said() -> None:
    """Six fins at 4 min each are 24 min, 31 with the spread; epoxy of 30 min gives 25 at 25 degC:
    a fresh cup for every four, 25 / (4 x 1.3) = 4.8. In the shed at 9 degC it gives 95."""
    warning = six_fins("").warning
    assert "fins glued at once take 24 min" in warning
    assert "gives 25 min" in warning
    assert "every 4" in warning
    shed = '[[workplace]]\nname = "shed"\ntemperature = "9 degC"\n'
    assert six_fins(shed).warning == ""
    assert steps("")["fins-on"].warning == ""
    hot = '[[workplace]]\nname = "attic"\ntemperature = "35 degC"\n'
    assert "every" in steps(hot)["fins-on"].warning


def glued_step(key: str, hours: float, handling: float | None = None, **more: object) -> Step:
    held = Glued(GlueSheet(key), "", None, "", None, handling, hours)
    return Step(key, key, takes_s=1.0, takes_sigma_s=0.5, glued=held, **more)  # type: ignore[arg-type]


def test_the_longest_chain_is_work_and_what_is_waited_for() -> None:
    """By hand: a cures 100 but is handled after 10, b builds on it and cures 20: 1 + 10 + 1 + 20 is
    less than a's own 101. c waits for the cure of a: 1 + 100 + 1 = 102."""
    first = glued_step("a", 100.0, 10.0)
    second = glued_step("b", 20.0, after=("a",))
    assert span_of([first, second]).least_s == 101.0
    third = Step("c", "c", after=("a",), takes_s=1.0, waits_for=CURED)
    found = span_of([first, second, third])
    assert found.least_s == 102.0
    assert [(link.key, link.waits_s) for link in found.chain] == [("a", 100.0), ("c", 0.0)]
    assert found.hands_on_s == 3.0
    unsaid = glued_step("a", 100.0)  # no handling time: waited for until it is cured
    assert span_of([unsaid, second]).least_s == 1 + 100 + 1 + 20


def test_what_closes_a_way_waits_for_what_is_reached_through_it() -> None:
    inside = Step("nut", "nut", (Reach("inside", ("rear",)),), takes_s=5.0)
    ring = Step("ring", "ring", closes=("rear",), takes_s=1.0)
    assert span_of([inside, ring]).least_s == 6.0


def test_the_days_of_the_demo_are_the_waits_and_the_work_of_its_chain() -> None:
    """Five glue-ups of 24 h x 3.82 at 9 degC wait for one another, then the paint."""
    span = assembly_order(read_project(demo_files())).span
    waits = [link.waits_s for link in span.chain if link.waits_s]
    work = sum(steps()[link.key].takes_s for link in span.chain)
    assert span.least_s == pytest.approx(sum(waits) + work)
    assert waits[:-1] == pytest.approx([24 * 3600 * 3.821] * 5, rel=1e-3)


def test_days_are_not_known_where_nothing_cures() -> None:
    files = demo_files()
    cold = files["build.toml"].replace("9 degC ± 1 degC measured", "3 degC measured")
    order = assembly_order(read_project({**files, "build.toml": cold}))
    assert order.span.least_s is None
    assert "mount-in" in order.span.unknown
    assert "days not known" in span_words(order)[0]
