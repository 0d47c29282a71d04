"""The calendar: what it plans, what it asks for, what it refuses, how likely it says it is."""

import dataclasses
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

import goodflight
from calendar_case import HEAD, project
from goodflight.outputs.calendar.text import calendar_text
from goodflight.outputs.calendar.words import day_words, proof
from goodflight.outputs.text_page import Terminal
from goodflight.project import ProjectErrors, read_project
from goodflight.project.calendar_files import place_forecast
from goodflight.project.zones import ahead_h
from goodflight.studies.calendar.clash import clash, rules_of
from goodflight.studies.calendar.cutting import without_job
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.jobs import left_to_do
from goodflight.studies.calendar.places import Cure, Place, gained_h, place_of
from goodflight.studies.calendar.results import CalendarStudy
from goodflight.studies.calendar.retime import Slots, traces
from goodflight.studies.calendar.setting import (
    Builds,
    Setting,
    Where,
    planned,
    problem_of,
    slots_of,
)
from goodflight.studies.calendar.solve import feasible
from goodflight.studies.calendar.telling import warnings_of
from goodflight.studies.questions.calendar import calendar
from goodflight.studies.refusal import StudyRefused

ZERO_K = 273.15


@pytest.fixture(scope="module")
def winter() -> CalendarStudy:
    """A shed in winter, six weeks ahead."""
    return calendar(project(), builds=150)


def test_a_plan_is_ready_before_launch_day_and_proven(winter: CalendarStudy) -> None:
    assert winter.state == "planned" and winter.proven
    assert winter.slack_days == (date(2027, 2, 6) - date.fromisoformat(winter.ready)).days > 0
    assert max(step.cured for step in winter.steps) == winter.ready
    off = {"2026-12-31", "2027-01-01"}
    assert not off & {step.day for step in winter.steps}
    spent: dict[str, float] = {}
    for step in winter.steps:
        spent[step.day] = spent.get(step.day, 0.0) + step.minutes
    for day, minutes in spent.items():
        weekend = date.fromisoformat(day).weekday() >= 5
        assert minutes <= (240 if weekend else 180), day
        assert weekend or minutes <= 120 or all(s.late for s in winter.steps if s.day == day)


def test_a_cure_waits_in_the_cold_as_the_rate_law_says() -> None:
    """24 h at 25 degC, 10 degC and Ea 58.6 kJ/mol: 3.498 times as long, reference/recovery/24
    (derived). Begun at 20:00 of day 0, counted from 21:00: 83.95 h later, hour 104.95, day 5."""
    one = np.ones(7, dtype=np.int64)
    day = np.arange(7)
    slots = Slots(day, 24 * day + 20, 24 * day + 21, 60 * one, 0 * one, 0 * one, one > 0, 7)
    place = Place(
        "shed",
        "shed",
        np.full(7, 10 + ZERO_K),
        np.full(7, 10 + ZERO_K),
        np.full(7, np.nan),
        0.0,
        0.0,
        "typed",
    )
    cure = Cure("glue", 24.0 / 3.498, 24.0, 298.15, 278.15, 58.6e3)
    middle = np.zeros(1)
    found = traces(slots, cure, place, middle, middle + 1.0, middle)
    assert found.cured[0, 0] == 5
    # handling: 24 h after 21:00 is past the sitting of day 1 at 20:00, so that of day 2
    assert found.touch[0, 0] == 1 and found.ready[0, 0] == 2
    warm = traces(slots, cure, place, middle, middle + 1.0, middle, (298.15, 1))
    # one night of 24 h at 25 degC is all of it: 21:00 of day 1, so ready to fly on day 2
    assert warm.cured[0, 0] == 2
    cold = traces(slots, cure, place, middle - 6.0, middle + 1.0, middle)
    assert not cold.allowed.any()


def test_a_night_that_crosses_the_glues_limit_cures_by_the_part_of_each_hour_above_it() -> None:
    """Against the rate law summed second by second: mean 7 degC, night 3 degC, limit 5 degC."""
    place = Place("s", "shed", np.full(2, 280.15), np.full(2, 276.15), np.full(2, 0.5), 0, 0, "")
    cure = Cure("glue", 24.0, 24.0, 298.15, 278.15, 58.6e3)
    starts, ends = (place.temperature_k(np.zeros(1), at) for at in (0.0, 1.0))
    gained = gained_h(cure, starts, ends, np.ones(1))[0]
    seconds = (np.arange(86400) + 0.5) / 3600.0
    kelvin = 280.15 - 4.0 * np.cos(2.0 * np.pi * (seconds - 5.0) / 24.0)
    rate = np.exp(58.6e3 / 8.314462618 * (1.0 / 298.15 - 1.0 / kelvin))
    exact = float(np.sum(np.where(kelvin >= 278.15, rate, 0.0))) / 3600.0
    assert gained[24] == pytest.approx(exact, rel=2e-3)
    assert gained[48] - gained[24] == pytest.approx(exact, rel=2e-3)


def test_work_waits_for_a_sitting_that_is_warm_enough_from_end_to_end() -> None:
    """Mean 10 degC, night 0 degC, coldest at 5: 17.9 degC from 19 to 20, 13.8 from 21 to 22, by
    T = mean - 10 cos(15 deg (h - 5)); a glue that wants 16 degC waits, one hour would do."""
    one = np.ones(1, dtype=np.int64)
    warm, night, humid = (np.array([each]) for each in (283.15, 273.15, 0.5))
    place = Place("s", "shed", warm, night, humid, 0, 0, "")
    cure = Cure("glue", 1.0, 1.0, 298.15, 289.15, 58.6e3)
    middle = np.zeros(1)
    for hours, some, fits in ((3, False, False), (1, False, True), (3, True, True)):
        end = (19 + hours) * one
        slots = Slots(0 * one, 19 * one, end, one, 0 * one, 0 * one, one > 0, 1, some_hour=some)
        found = traces(slots, cure, place, middle, middle + 1, middle)
        assert found.allowed[0, 0] == fits


def test_glue_waits_for_a_surface_above_the_dew_point() -> None:
    """20 degC, 65 %: dew point 13.2 degC (Magnus), 6.8 K below; at 90 % less than 2 K: refused."""
    one = np.ones(1, dtype=np.int64)
    slots = Slots(0 * one, 20 * one, 21 * one, one, 0 * one, 0 * one, one > 0, 1)
    cure = Cure("paint", 1.0, 1.0, 298.15, 278.15, 58.6e3, dew=True)
    warm = np.array([20 + ZERO_K])
    for humid, fits in ((0.65, True), (0.90, False)):
        place = Place("shed", "shed", warm, warm, np.array([humid]), 0, 0, "")
        middle = np.zeros(1)
        assert traces(slots, cure, place, middle, middle + 1, middle).allowed[0, 0] == fits


def test_what_builds_on_a_joint_comes_after_it_may_be_handled(winter: CalendarStudy) -> None:
    at = {step.key: step for step in winter.steps}
    assert at["inner-fillets"].day >= at["fins-on"].touch > at["fins-on"].day
    assert at["dry-fit"].day >= "2027-01-08"  # the parcel


def test_what_is_asked_for_is_named_with_its_key() -> None:
    bare = calendar(project(head=""), start="2026-12-28")
    keys = {each.key for each in bare.wanted}
    assert bare.state == "not known" and not bare.steps and not bare.chances
    assert {"person[builder].evening", "workplace[shed].temperature"} <= keys
    assert 'person[builder].evening = "2 h"' in calendar_text(bare)
    with pytest.raises(ProjectErrors, match="at most 57600 s"):
        project(HEAD.replace('weekend = "4 h"', 'weekend = "30 h"'))


def test_constraints_that_clash_are_irreducible() -> None:
    """With any one of the rules named left out there is a plan; with all of them there is none."""
    late = HEAD.replace('launch_day = "2027-02-06"', 'launch_day = "2027-01-11"')
    study = calendar(project(late), builds=50)
    assert study.state == "impossible" and study.slack_days is not None and study.slack_days < 0
    assert any(each.startswith("ready by Mon 11 Jan") for each in study.clash)
    assert any("cure of primer, paint" in each for each in study.clash)
    assert not any("parachute cloth" in each for each in study.clash)
    ready = date.fromisoformat(study.ready)
    last = min(step.slack_days for step in study.steps if step.critical)
    counted = f"Slack is counted to the ready day, {ready:%a} {ready.day} {ready:%b}: no plan"
    assert last == 0 and counted in proof(study)
    text = calendar_text(study)
    assert "These cannot all hold" in text and "cure of primer, paint" in text


def test_a_later_day_with_the_same_figure_says_what_holds_it(winter: CalendarStudy) -> None:
    """A parcel that comes a day after both, for sure: it alone holds both at none."""
    held = HEAD.replace('day = "2027-01-08"\nspread = "3 d"', 'day = "2027-02-28"')
    first, second = calendar(project(held), builds=50).chances
    assert first.chance == second.chance == 0.0 and first.why == ""
    assert second.why.startswith("50 builds not ready on either day; held by parachute cloth")
    assert winter.chances[0].why == ""
    same = round(100 * winter.chances[1].chance) == round(100 * winter.chances[0].chance)
    assert bool(winter.chances[1].why) == same


def _never_warm() -> Setting:
    from goodflight.studies.calendar.jobs import left_to_do

    cold = HEAD.replace('"7 degC ± 2 degC"', '"3 degC"').replace(
        'night = "4 degC"', 'night = "1 degC"'
    )
    made = project(cold)
    assert made.build is not None
    first = date(2026, 12, 28)
    places = {each.name: place_of(each, first, 60) for each in made.build.workplace}
    jobs = left_to_do(made, None, made.build).jobs
    return Setting(jobs, tuple(made.build.person), places, (), first, 60)


def test_a_clash_is_one_and_none_of_it_may_be_left_out() -> None:
    """A shed too cold to cure in: what is not named left out too, there is no plan; with any one
    of those named left out besides, there is."""
    setting, launch = _never_warm(), date(2027, 2, 6)
    told, rules = clash(setting, launch), dict(rules_of(setting))
    named = {name for name, words in rules.items() if words in told}
    assert len(named) == len(told) - 1 == 1 and next(iter(named)).startswith("cure:")
    number = setting.day_number(launch)

    def fits(*left_out: str) -> bool:
        relaxed = frozenset(rules) - named | frozenset(left_out)
        return (
            feasible(problem_of(planned(dataclasses.replace(setting, relaxed=relaxed))), number)[0]
            == "feasible"
        )

    assert not fits()
    assert all(fits(name) for name in named)


def test_chance_rises_with_warmth_and_later_days(winter: CalendarStudy) -> None:
    made, later = winter.chances
    assert 0.0 < made.low < made.chance <= later.chance <= 1.0
    assert all(each.chance > made.chance and each.gain > 0 for each in winter.levers)
    assert any(each.name.startswith("warm the shed to 18") for each in winter.levers)


def test_the_chain_runs_to_the_finish(winter: CalendarStudy) -> None:
    assert winter.chain[-1].words.startswith(day_words(winter.ready))
    days = [next(s.day for s in winter.steps if s.key == link.key) for link in winter.chain[:-1]]
    assert days == sorted(days) and winter.chain[-2].key == "paint"
    assert all(step.slack_days >= 0 for step in winter.steps)


def test_common_draws_do_not_depend_on_what_else_is_drawn() -> None:
    builds = Builds(50)
    assert np.array_equal(builds.of("warmth:shed"), Builds(50).of("warmth:shed"))
    assert not np.array_equal(builds.of("warmth:shed"), builds.of("warmth:kitchen"))


def test_a_calendar_without_a_day_is_refused() -> None:
    head = HEAD.replace('starts = "2026-12-28"', "")
    with pytest.raises(StudyRefused, match="no first day"):
        calendar(project(head))
    with pytest.raises(StudyRefused, match="is not after the first day"):
        calendar(project(head), start="2027-03-01")


def test_lines_fit_a_narrow_terminal(winter: CalendarStudy) -> None:
    for width in (60, 80, 120):
        text = calendar_text(winter, Terminal(width=width))
        assert max(map(len, text.splitlines())) <= width
    assert "NO RETURN" in text and "What sets the day" in text


def test_what_is_not_known_makes_the_chance_an_upper_bound() -> None:
    damp = calendar(
        project(HEAD.replace("humidity = 0.7", "").replace('spread = "3 d"', "")), builds=50
    )
    assert damp.at_most == (
        "humidity of the shed, so the dew point is not checked",
        "spread of parachute cloth",
    )
    text = calendar_text(damp)
    assert "ready for Sat 6 Feb: at most" in text and "not known: humidity of the shed" in text


def test_a_glue_up_longer_than_any_sitting_is_named() -> None:
    short = HEAD.replace('"2 h"', '"1 h"').replace('"4 h"', '"1 h"').replace('late = "1 h"\n', "")
    study = calendar(project(short), builds=50)
    assert study.state == "impossible" and not study.ready
    assert any('"Fillets outside, along the roots" takes' in each for each in study.clash)


def test_a_forecast_file_counts_before_the_figure_typed(tmp_path: Path) -> None:
    file = tmp_path / "shed.csv"
    file.write_text("date,temperature [degC],night [degC],humidity\n2026-12-28,1,-2,0.6\n")
    told = place_forecast(file)
    assert len(told) == 1 and told[0].temperature.value == pytest.approx(274.15)
    made = project()
    assert made.build is not None
    shed = made.build.workplace[0].changed(day=list(told))
    place = place_of(shed, date(2026, 12, 28), 3)
    assert place.mean_k.tolist() == pytest.approx([274.15, 280.15, 280.15])
    assert place.night_k.tolist() == pytest.approx([271.15, 277.15, 277.15])
    assert place.told == "forecast and the figure typed"
    file.write_text("date,temperature [degC]\n2026-12-32,1\n")
    with pytest.raises(ProjectErrors, match="No calendar has this day"):
        place_forecast(file)
    with pytest.raises(StudyRefused, match="forecast for"):
        calendar(made, forecasts={"attic": told})


def test_work_outdoors_needs_daylight_and_is_not_planned_where_that_is_not_known() -> None:
    """Berlin's latitude in mid-October, clock 2 h ahead: sunset about 18:15, sunrise about 7:35
    (any almanac, memory): an evening from 19:00 is dark, a Saturday from 10:00 light."""
    made = project()
    assert made.build is not None
    setting = Setting((), tuple(made.build.person), {}, (), date(2026, 10, 12), 7)
    assert not slots_of(setting).light.any()
    there = slots_of(dataclasses.replace(setting, where=Where(13.4, 52.5, 2.0)))
    assert there.light.tolist() == [False] * 5 + [True] * 2
    place = Place(
        "yard", "outdoor", np.full(7, 290.0), np.full(7, 285.0), np.full(7, 0.5), 0, 0, ""
    )
    middle = np.zeros(1)
    assert traces(there, None, place, middle, middle + 1, middle).allowed[0].tolist() == [
        False, False, False, False, False, True, True,
    ]  # fmt: skip


def test_hours_a_week_are_spread_evenly_where_no_day_is_told() -> None:
    """6 h a week on two days of it: 3 h each, by hand; told day by day, they change nothing."""
    own = 'evening = "2 h"\nweekend = "4 h"\n'
    week = HEAD.replace(own, 'hours_per_week = "6 h"\nweekdays = ["tue", "sat"]\n')
    for head, minutes in ((week, {180}), (HEAD.replace(own, own + 'hours_per_week = "9 h"\n'),
                                          {120, 240})):  # fmt: skip
        made = project(head)
        assert made.build is not None
        setting = Setting((), tuple(made.build.person), {}, (), date(2027, 1, 4), 14)
        assert set(slots_of(setting).capacity.tolist()) == minutes
    assert not calendar(project(week), builds=50).wanted


SLEEVE = """
[[step]]
name = "sleeve on the cord"
takes = "3 h"
may_be_cut = true
without = ["rocket.toml:part[cord].width = 5 mm"]
"""


def test_what_is_cut_costs_the_ledger_what_the_files_without_it_say() -> None:
    """The same flights of the same files changed by hand give the same chances."""
    told = calendar(project(HEAD + SLEEVE), builds=50)
    (cut,) = told.cuts
    assert cut.minutes == 180.0 and not cut.why and cut.chance is not None
    plain = project(HEAD + SLEEVE)
    old = 'width = "14 mm measured"'
    assert plain.texts["rocket.toml"].count(old) == 1
    texts = {"rocket.toml": plain.texts["rocket.toml"].replace(old, 'width = "5 mm"')}
    ledger_of = goodflight.ledger(
        read_project({**plain.texts, **texts}), flights=500, remedies=False
    )
    assert cut.fails_after == ledger_of.chance
    rows = {row.key: row.chance for row in ledger_of.rows}
    assert cut.rows and all(row.after == rows[row.key] for row in cut.rows)
    assert 'leave out "sleeve on the cord" (180 min)' in calendar_text(told)


def test_the_cost_of_a_step_that_says_nothing_is_not_known() -> None:
    (cut,) = calendar(project(HEAD + SLEEVE.replace("without", "#")), builds=50).cuts
    assert cut.why.startswith("not known") and cut.fails_after is None and not cut.rows
    with pytest.raises(ProjectErrors, match=r"part\[main tube\]"):
        project(HEAD + SLEEVE.replace("rocket.toml:part[cord].width =", "the cord is"))
    wrong = HEAD + SLEEVE.replace("[cord]", "[moon]")
    (cut,) = calendar(project(wrong), builds=50).cuts
    assert "moon" in cut.why


def test_what_builds_on_a_step_that_is_cut_waits_for_what_it_waited_for() -> None:
    second, third = Job("b", "B", 10.0, after=("a",)), Job("c", "C", 10.0, after=("b",))
    jobs = (Job("a", "A", 10.0), second, third)
    left = without_job(Setting(jobs, (), {}, (), date(2027, 1, 4), 7), "b")
    assert [(job.key, job.after) for job in left.jobs] == [("a", ()), ("c", ("a",))]


COATS = """
[[paint]]
name = "primer"
workplace = "kitchen"
recoat_min = "1 h label"
recoat_max = "24 h label"

[[paint]]
name = "base"
workplace = "kitchen"
recoat_min = "4 h label"
recoat_max = "30 h label"

[[paint]]
name = "colour"
workplace = "kitchen"
dry = "24 h label"
"""


def painted_in(study: CalendarStudy) -> list[tuple[str, datetime, datetime]]:
    """Key, begin and end of every sitting with paint."""
    return [
        (
            step.key,
            *(datetime.fromisoformat(f"{step.day} {clock}") for clock in (step.begins, step.ends)),
        )
        for step in study.steps
        if step.title.startswith("Sand and paint")
    ]


def test_coats_go_on_within_the_window_of_the_one_before() -> None:
    """By hand: the kitchen has 20 degC, the cans 25: exp(58600 / 8.314462618 (1 / 293.15 -
    1 / 298.15)) = 1.4967 times as long. Primer and base in one sitting of 5 h: 2 x 80 min and
    89.8 min between them; then 4 h at 25 degC, so the next sitting, and begun within 30 h."""
    study = calendar(project(HEAD.replace('"4 h"', '"5 h"') + COATS), builds=50)
    first, last = (step for step in study.steps if step.title.startswith("Sand and paint"))
    assert (first.key, last.key) == ("coat-base", "paint") and study.proven
    assert first.minutes == pytest.approx(160.0 + 60.0 * 1.4967, abs=0.01)
    assert last.minutes == 80.0
    assert first.title == "Sand and paint, 2 coats in one sitting: primer, base"
    assert last.title == "Sand and paint, coat 3 of 3: colour"
    (_, _, ends), (_, begins, _) = painted_in(study)
    assert timedelta(hours=4) <= begins - ends <= timedelta(hours=30)


def test_coats_that_go_into_no_sitting_together_are_parted() -> None:
    """249.8 min are more than any sitting of 4 h: each coat by itself, each within its window."""
    study = calendar(project(HEAD + COATS), builds=50)
    (one, _, dry), (two, wet, done), (three, last, _) = painted_in(study)
    assert [one, two, three] == ["coat-primer", "coat-base", "paint"] and study.proven
    assert timedelta(minutes=89.8) <= wet - dry <= timedelta(hours=24)
    assert timedelta(hours=4 * 1.4967) <= last - done <= timedelta(hours=30)


def test_the_window_runs_from_the_end_of_a_coat_that_may_be_done_first() -> None:
    """By hand: sittings of 10:00 to 14:00 on Saturday and Sunday. A coat of 80 min may end at
    11:20, 22 h 40 min before Sunday's: a window of 24 h does, one of 22.5 h does not."""
    made = project()
    assert made.build is not None
    later = Job("next", "next", 80.0, after=("coat",))
    for hours, last in ((24.0, 1), (22.5, 0)):
        coat = Job("coat", "coat", 80.0, recoat_h=hours)
        setting = Setting((coat, later), tuple(made.build.person), {}, (), date(2027, 1, 2), 2)
        assert planned(setting).latest()[0].tolist() == [last, 1]


def test_a_warm_place_cuts_the_window_and_a_cold_one_does_not_stretch_it() -> None:
    """By hand: Ea 58.6 kJ/mol, can at 20 degC: at 25 degC 1 / 1.4967 of its 30 h, 20.04 h."""
    cans = COATS.replace("recoat_max", 'reference = "20 degC label"\nrecoat_max')
    warm = HEAD.replace('temperature = "20 degC', 'temperature = "25 degC')
    for head, hours in ((warm, 30.0 / 1.4967), (HEAD, 30.0)):
        made = project(head + cans)
        assert made.build is not None
        jobs = left_to_do(made, None, made.build).jobs
        (base,) = [job for job in jobs if job.key == "coat-base"]
        assert base.recoat_h == pytest.approx(hours, abs=0.01)


def test_a_sitting_begins_when_it_is_told_to_and_sittings_stand_in_the_order_they_begin() -> None:
    half = HEAD.replace('evening = "2 h"', 'evening = "2 h"\nevening_from = "19:30"')
    evenings = [s for s in calendar(project(half), builds=50).steps if s.begins > "16:00"]
    assert evenings and min(step.begins for step in evenings) == "19:30"
    early = '\n[[person]]\nname = "helper"\nevening = "1 h"\nevening_from = "17:30"\n'
    made = project(half + early)
    assert made.build is not None
    slots = slots_of(Setting((), tuple(made.build.person), {}, (), date(2027, 1, 4), 5))
    assert (np.diff(slots.begin_h) >= 0).all() and slots.person.tolist() == [1, 0] * 5


def test_each_coat_is_a_step_and_a_ticked_one_is_planned_no_more() -> None:
    """By hand: two coats of one can and one of another share 240 min; the first is on."""
    cans = COATS.replace('name = "base"', 'name = "base"\ncoats = 2').split("[[paint]]")
    two = "[[paint]]" + cans[2] + "[[paint]]" + cans[3]
    order = goodflight.order(project(HEAD + two))
    steps = {placed.step.key: placed.step for placed in order.steps}
    keys = ["coat-base", "coat-base-2", "paint"]
    assert [key for key in steps if key in keys] == keys
    assert all(steps[key].takes_s == 80 * 60.0 for key in keys)
    assert [steps[key].after for key in keys[1:]] == [("coat-base",), ("coat-base-2",)]
    assert str(steps["coat-base"].how).startswith("next coat after 4 h, not later than 30 h")
    wet, dry = steps["coat-base"].glued, steps["paint"].glued
    assert wet is not None and wet.sheet.handling_s == 4 * 3600.0 and wet.place == "kitchen"
    assert dry is not None and dry.sheet.cure_s == 24 * 3600.0
    on = '\n[[step]]\nname = "coat-base"\ndone = true\n'
    study = calendar(project(HEAD + two + on), builds=50)
    assert [step.key for step in study.steps if step.title.startswith("Sand and")] == keys[1:]
    assert any("base is on: the next coat within 30 h" in words for words in study.stands_on)


def test_daylight_is_asked_for_where_something_is_done_outdoors() -> None:
    yard = HEAD + '\n[[workplace]]\nname = "yard"\nkind = "outdoor"\ntemperature = "9 degC"\n'
    step = '\n[[step]]\nname = "weigh"\nworkplace = "yard"\n'
    told = [" ".join(calendar(project(yard + more), builds=50).warnings) for more in ("", step)]
    assert ["daylight" in words for words in told] == [False, True]


def test_a_clock_that_may_change_is_told_where_daylight_counts() -> None:
    """The zone is one figure; in Europe a clock 2 h ahead in October is 1 h ahead in November."""
    made = project()
    assert made.build is not None
    day = np.full(7, 290.0)
    places = {kind: Place(kind, kind, day, day, day, 0, 0, "") for kind in ("outdoor", "indoor")}
    for kind in places:
        jobs = (Job("weigh", "weigh", 30.0, places=(kind,)),)
        people = tuple(made.build.person)
        where = Where(13.4, 52.5, 2.0)
        setting = Setting(jobs, people, places, (), date(2026, 10, 20), 7, where)
        words = " ".join(warnings_of(planned(setting), ()))
        assert ("where the clock is changed" in words) == (kind == "outdoor")


def test_a_zone_changes_its_clock_where_the_law_says() -> None:
    """Summer time ends on the last Sunday of October (Directive 2000/84/EC), in the USA on the
    first of November (Energy Policy Act of 2005). Berlin's sun sets at about 17:50 on 24 October
    2026, by the clock of the next day at about 16:50 (any almanac, memory)."""
    assert [ahead_h("Europe/Berlin", date(2026, 10, day)) for day in (24, 25)] == [2.0, 1.0]
    there = [ahead_h("America/New_York", day) for day in (date(2026, 10, 31), date(2026, 11, 1))]
    assert there == [-4.0, -5.0]
    weekend = HEAD.replace('weekend = "4 h"', 'weekend = "2 h"\nweekend_from = "15:30"')
    made = project(weekend)
    assert made.build is not None
    for zone, light in (("Europe/Berlin", [True, False]), (2.0, [True, True])):
        setting = Setting(
            (), tuple(made.build.person), {}, (), date(2026, 10, 24), 2, Where(13.4, 52.5, zone)
        )
        assert slots_of(setting).light.tolist() == light
        jobs = (Job("weigh", "weigh", 30.0, places=("yard",)),)
        day = np.full(2, 290.0)
        places = {"yard": Place("yard", "outdoor", day, day, day, 0, 0, "")}
        outdoors = dataclasses.replace(setting, jobs=jobs, places=places)
        words = " ".join(warnings_of(planned(outdoors), ()))
        assert ("where the clock is changed" in words) == isinstance(zone, float)


def test_a_zone_is_hours_or_a_name_that_is_there() -> None:
    for written, read in (("2", 2.0), (-3.5, -3.5), ("Europe/Berlin", "Europe/Berlin")):
        made = project(f"zone = {written!r}\n" + HEAD)
        assert made.build is not None and made.build.zone == read
    for wrong, words in (("15", "from -14 to 14"), ("'Berlin'", "Check the name")):
        with pytest.raises(ProjectErrors, match=words):
            project(f"zone = {wrong}\n" + HEAD)


def test_slack_and_late_evenings_are_told_once(winter: CalendarStudy) -> None:
    """A day's head has the least of its steps; a step names only a slack that is more."""
    said, least = calendar_text(winter), {}
    for step in winter.steps:
        least[step.day] = min(step.slack_days, least.get(step.day, step.slack_days))
    more = [step for step in winter.steps if step.slack_days != least[step.day]]
    assert said.count("of slack") == len(least) + len(more) < len(winter.steps)
    assert said.count("a late evening") == len({s.day for s in winter.steps if s.late}) > 0


def test_a_recoat_window_that_no_sitting_meets_is_part_of_the_clash() -> None:
    """Work on Saturdays only: the next sitting is a week later, the window 30 h."""
    days = HEAD.replace('late = "1 h"', 'weekdays = ["sat"]\nlate = "1 h"')
    study = calendar(project(days.replace("2027-02-06", "2027-04-03") + COATS), builds=50)
    assert study.state == "impossible"
    assert any("recoat window" in each and "within 30 h" in each for each in study.clash)


def test_a_coat_without_its_earliest_next_one_is_asked_for() -> None:
    left = COATS.replace('recoat_min = "4 h label"', "")
    asked = {each.key for each in calendar(project(HEAD + left), builds=50).wanted}
    assert asked == {"paint[base].recoat_min"}


def test_a_plan_that_is_not_proven_says_what_is(winter: CalendarStudy) -> None:
    same_day = replace(winter, proven=False)
    assert winter.earliest == winter.ready
    assert "no plan is ready earlier" in proof(same_day) and "ready on the same day" in proof(
        same_day
    )
    open_day = replace(same_day, earliest="2027-01-15")
    assert "no plan is ready before Fri 15 Jan" in proof(open_day)
