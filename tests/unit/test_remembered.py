"""Flights that are remembered are the ones that would be flown: bit for bit, and only once."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from goodflight.physics.aero import aero_tables, build
from goodflight.physics.aero.geometry import fins_shape
from goodflight.physics.flight import Launch, column_spacing, fly_ensemble
from goodflight.physics.flight.registry import NOTHING_OPENS, PARAMETER_INDEX
from goodflight.physics.vehicle.parts import Fins, Rocket, Tube
from goodflight.project import Project, read_project
from goodflight.project.demo import demo_files
from goodflight.project.parts.added_mass import AddedMassTable
from goodflight.project.sheets import Sheet
from goodflight.studies.case import project_case
from goodflight.studies.case.planned import Joint
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.flown import Flown
from goodflight.studies.levers.whatif import tried
from goodflight.studies.rows import View, parting, reach
from goodflight.studies.sampling import airframe, drawn, flights, remembered, sections
from goodflight.studies.sampling.drawn import scored, together
from goodflight.studies.sampling.flights import (
    FLIGHTS,
    fly_first,
    fly_sample,
    fly_together,
    fly_trials,
)
from goodflight.studies.sampling.positive import moved_ratio
from goodflight.studies.sampling.remembered import Remembered
from goodflight.studies.sampling.scores import normal_scores
from goodflight.studies.sampling.trials import make_trials
from sample_case import sample_case


def test_flights_of_which_some_are_remembered_are_flown_as_all_are_anew(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case = sample_case()
    sample = make_trials(case, 24, 5)
    FLIGHTS.forget()
    whole = fly_sample(case, sample).outcomes
    FLIGHTS.forget()
    fly_sample(case, sample.part(np.array([3, 20, 7])))
    asked = list[int]()

    def counting(launch: Launch, rows: np.ndarray, seeds: np.ndarray) -> np.ndarray:
        asked.append(len(rows))
        return fly_ensemble(launch, rows, seeds)

    monkeypatch.setattr(flights, "fly_ensemble", counting)
    assert fly_sample(case, sample).outcomes.tobytes() == whole.tobytes()
    assert fly_sample(case, sample).outcomes.tobytes() == whole.tobytes()
    assert asked == [21]
    assert fly_sample(case, sample, tolerance=1e-3).outcomes.tobytes() != whole.tobytes()


def test_parts_that_no_figure_touches_are_the_same_and_the_one_touched_is_as_built_anew() -> None:
    read, path = read_project(demo_files()), "rocket.toml:part[fins].span"
    before, now = read.rocket(), read.rocket({path: 0.1})
    others = [(a, b) for a, b in zip(before.parts, now.parts, strict=True) if a.name != "fins"]
    assert len(others) == len(before.parts) - 1
    assert all(a is b for a, b in others if not a.soft)
    (was,), (fins,) = before.of_kind(Fins), now.of_kind(Fins)
    assert max(y for _, y in was.outline_m) == pytest.approx(0.08)
    assert max(y for _, y in fins.outline_m) == 0.1
    assert read.rocket() == before
    longer = read.rocket({"rocket.toml:part[nose].length": before.parts[0].along_m + 0.01})
    tubes = zip(before.of_kind(Tube), longer.of_kind(Tube), strict=True)
    assert all(b.station_m == pytest.approx(a.station_m + 0.01) for a, b in tubes)


def test_a_table_read_again_is_the_same_and_one_that_says_anything_else_is_not() -> None:
    texts = demo_files()
    sheet, said = Sheet("rocket.toml", ""), {"kind": "added_mass", "name": "a", "station": "10 mm"}
    first, again = (sheet.check((), {**said, "mass": "5 g"}, AddedMassTable) for _ in range(2))
    assert first is not None and first is again
    other = sheet.check((), {**said, "mass": "6 g"}, AddedMassTable)
    assert other is not None and other.mass is not None and other.mass.value == 0.006
    for mass in (5, True):  # told apart from "5 g" and refused, each time
        refused = [sheet.check((), {**said, "mass": mass}, AddedMassTable) for _ in range(2)]
        assert refused == [None, None]
    assert len(sheet.faults) == 4
    rocket = texts["rocket.toml"].replace('"92 g label"', '"93 g label"')
    one, two = read_project(texts), read_project({**texts, "rocket.toml": rocket})
    differ = [a.name for a, b in zip(one.parts, two.parts, strict=True) if a is not b]
    assert differ == ["fins"]


def test_air_of_a_rocket_of_which_half_is_remembered_is_as_worked_out_anew() -> None:
    rocket = read_project(demo_files()).rocket()
    (fins,) = rocket.of_kind(Fins)
    outline = tuple((x, 1.1 * y) for x, y in fins.outline_m)
    parts = tuple(replace(fins, outline_m=outline) if p is fins else p for p in rocket.parts)
    larger = replace(rocket, parts=parts)
    kept = (build._body_drag, build._fin_drag, build._body_slope, build._fin_forces)
    anew = []
    for one in (rocket, larger, replace(rocket, roughness_m=60e-6)):
        for each in kept:
            each.cache_clear()
        anew.append(aero_tables(one).mach_table)
    for one, table in zip((rocket, larger, replace(rocket, roughness_m=60e-6)), anew):
        assert aero_tables(one).mach_table.tobytes() == table.tobytes()
    assert len({table.tobytes() for table in anew}) == 3
    assert build._body_slope.cache_info().hits > 1
    with pytest.raises(ValueError, match="read-only"):
        build._fin_forces(fins_shape(fins), np.zeros(1).tobytes(), 1.0, 1.0).slope[:] = 0.0


def test_what_lengths_do_is_remembered_for_another_joint_and_not_for_another_surface(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    texts, asked = demo_files(), list[float]()
    work = project_case._sensitivities

    def counting(project: Project, plan: str, rocket: Rocket, *rest: Any) -> Any:
        asked.append(rocket.roughness_m)
        return work(project, plan, rocket, *rest)

    monkeypatch.setattr(project_case, "_sensitivities", counting)
    project_case._MOVED.found.clear()
    changes = (
        ("30 um", "30 um"),
        ("32 N ± 3 N", "40 N ± 3 N"),
        *(
            ("30 um", f"{rough} um ± 0 um")
            for rough in (30, 60)  # no figure of a spread any more
        ),
    )
    for old, new in changes:
        assert old in texts["rocket.toml"]
        case_of(read_project({**texts, "rocket.toml": texts["rocket.toml"].replace(old, new)}))
    assert asked == pytest.approx([30e-6, 30e-6, 60e-6])


def test_one_case_flown_together_is_that_case_alone() -> None:
    case = sample_case()
    sample = make_trials(case, 3, 5)
    (view,) = fly_together([case], [sample])
    assert view.outcomes.tobytes() == fly_sample(case, sample).outcomes.tobytes()


def test_with_nothing_to_open_a_flight_is_one_whatever_would_have_opened(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case, asked = sample_case(), list[int]()
    other = case.with_delay_out(2.0)
    samples = [make_trials(each, 12, 5) for each in (case, other)]
    FLIGHTS.forget()

    def counting(launch: Launch, rows: np.ndarray, seeds: np.ndarray) -> np.ndarray:
        asked.append(len(rows))
        return fly_ensemble(launch, rows, seeds)

    monkeypatch.setattr(flights, "fly_ensemble", counting)
    found = [
        fly_first(each, sample, 12, NOTHING_OPENS) for each, sample in zip((case, other), samples)
    ]
    assert found[0].tobytes() == found[1].tobytes() and asked == [12]
    spacing = column_spacing(samples[1].parameters, other.motor)
    launch = Launch(other.motor, other.tables, NOTHING_OPENS, node_spacing_m4=spacing)
    flown = fly_ensemble(launch, samples[1].parameters, samples[1].seeds)
    assert found[1].tobytes() == flown.tobytes()


def test_what_all_share_tells_flights_apart_and_the_oldest_are_forgotten(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(remembered, "KEPT", 3)
    rows, kept, asked = np.arange(8.0).reshape(4, 2), Remembered(), list[int]()

    def work(new: np.ndarray) -> np.ndarray:
        asked.append(len(new))
        return 10.0 * rows[new]

    for besides in (b"one", b"other", b"other"):
        found = kept.of(rows, work, besides)
        assert found.tolist() == (10.0 * rows).tolist()
        found[:] = 0.0  # what is handed out is not what is kept
    assert asked == [4, 4, 1]


@pytest.mark.parametrize("place", [0, 1, 2])
def test_flights_that_differ_in_the_last_bit_of_one_figure_are_two(place: int) -> None:
    first = np.array([[1.0, 2.0, 3.0]])
    other, kept = first.copy(), Remembered()
    other[0, place] = np.nextafter(other[0, place], 9.0)
    for rows in (first, other):
        assert kept.of(rows, lambda new, rows=rows: 10.0 * rows[new]).tolist() == [
            (10.0 * rows[0]).tolist()
        ]


def test_of_no_more_than_are_kept_none_is_forgotten() -> None:
    rows, kept, asked = np.arange(8.0).reshape(4, 2), Remembered(), list[int]()

    def work(new: np.ndarray) -> np.ndarray:
        asked.append(len(new))
        return rows[new]

    kept.of(rows[:1], work)
    kept.of(rows, work)
    kept.of(rows, work)
    assert asked == [1, 3]


def test_scores_mixed_before_are_told_apart_by_all_they_are_mixed_from() -> None:
    keys = ("one", "two", "alone")
    weighed, again = (
        Joint(("one", "two"), np.array([[1.0, share], [share, 1.0]])) for share in (0.6, -0.6)
    )
    for asked in ((weighed, 16, 1), (again, 16, 1), (weighed, 16, 2), (weighed, 8, 2)):
        joint, flights, seed = asked
        found = scored(joint, keys, flights, seed)
        anew = together(joint, keys, normal_scores(keys, flights, seed))
        assert found.mixed.tobytes() == anew.tobytes()
        part = scored(joint, keys, flights, seed, np.array([5, 2]))
        assert part.mixed.tobytes() == anew[[5, 2]].tobytes()
        assert part.values is not found.values
    assert scored(weighed, keys, 8, 2) is scored(weighed, keys, 8, 2)


def test_values_that_another_plan_has_drawn_are_the_ones_that_would_be_drawn() -> None:
    """Half of the wind, nothing else: bit for bit as drawn anew, and all others not drawn again."""
    case, chosen = sample_case(), np.array([3, 20, 7])
    other = replace(case, day=replace(case.day, wind_m_s=0.5 * case.day.wind_m_s))
    drawn._kept_scored.cache_clear()
    anew = make_trials(other, 24, 5, chosen)
    keys = tuple(factor.key for factor in anew.factors)
    drawn._kept_scored.cache_clear()
    first = make_trials(case, 24, 5, chosen)
    kept = scored(case.uncertainty.joint, keys, 24, 5, chosen).values
    before = len(kept)
    again = make_trials(other, 24, 5, chosen)
    assert again.parameters.tobytes() == anew.parameters.tobytes()
    assert not np.array_equal(first.parameters, again.parameters)
    assert len(kept) == before + 1


def test_falls_that_are_remembered_are_the_ones_that_would_be_worked_out() -> None:
    case = sample_case()
    sample = make_trials(case, 12, 5)
    view = fly_sample(case, sample)
    part = View(case, sample.part(np.arange(4)), view.outcomes[:4])
    reach.FALLS.forget()
    anew = reach.impact_of(view)
    reach.FALLS.forget()
    reach.impact_of(part)
    again = reach.impact_of(View(case, sample, view.outcomes))
    assert np.array(again).tobytes() == np.array(anew).tobytes()


def test_masses_that_a_length_does_not_move_are_those_moved_by_nothing() -> None:
    """Bit for bit the product and the sum over all lengths, of which most move a part by 0.

    The first length here moves one part along and makes another lighter.
    """
    case = case_of(read_project(demo_files()))
    first, *others = case.uncertainty.sensitivities
    moves = {case.items[0].name: (0.0, 0.004), case.items[1].name: (-0.02, 0.0)}
    lengths = (replace(first, items=moves), *others)
    case = replace(case, uncertainty=replace(case.uncertainty, sensitivities=lengths))
    trials, still = make_trials(case, 12, 5), 0
    items, masses, stations = sections.drawn_items(trials.drawn)
    for place, item in enumerate(case.items):
        kg = trials.of(airframe.mass, item.name)
        at_m = trials.of(airframe.balance, item.name)
        for figure in case.uncertainty.sensitivities:
            share, shift = figure.items.get(item.name, (0.0, 0.0))
            score = trials.drawn.score(airframe.figure, figure.path)
            kg, at_m = kg * moved_ratio(score, share, 1.0), at_m + shift * score
            still += (share == 0.0) + (shift == 0.0)
        assert masses[:, place].tobytes() == kg.tobytes()
        assert stations[:, place].tobytes() == at_m.tobytes()
    assert still > len(items)
    assert sections.drawn_items(trials.drawn)[1] is masses


def test_a_lever_that_is_not_flown_leaves_every_flight_alone() -> None:
    """So of a setting that moves any figure of the flight the flights are its own."""
    case, left = case_of(read_project(demo_files())), set[str]()
    before = make_trials(case, 12, 5)
    for ladder in tried(case, {}).ladders:
        if ladder[-1].lever.flies:
            continue
        after = make_trials(ladder[-1].case, 12, 5)
        moved = {
            name
            for name, place in PARAMETER_INDEX.items()
            if (before.parameters[:, place] != after.parameters[:, place]).any()
        }
        assert not moved, ladder[-1].key
        left.add(ladder[-1].lever.key)
    assert {"anchors", "cord_width", "edge", "tail_edge"} <= left


def test_what_moves_capacities_alone_asks_for_no_flight_and_no_motion(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case = case_of(read_project(demo_files()))
    view = fly_trials(case, 40, 1)
    flown, asked = Flown(view, evaluate(view), 1, each=3), list[str]()
    monkeypatch.setattr(flights, "fly_ensemble", lambda *_: asked.append("flight"))
    monkeypatch.setattr(parting, "part_bodies", lambda *_: asked.append("motion"))
    for ladder in tried(case, {}).ladders:
        if ladder[-1].lever.key in ("anchors", "cord_width", "edge", "tail_edge"):
            flown.changed(ladder[-1]).rows()
    assert not asked


def test_a_row_that_asks_nothing_of_a_flight_is_judged_without_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Another canopy fits its bay or does not, however it flies; how hard it jerks is flown."""
    case = case_of(read_project(demo_files()))
    view = fly_trials(case, 40, 1)
    flown, asked = Flown(view, evaluate(view), 1, each=3), list[str]()

    def fly(launch: Launch, *rows: np.ndarray) -> np.ndarray:
        asked.append("flown")
        return fly_ensemble(launch, *rows)

    monkeypatch.setattr(flights, "fly_ensemble", fly)
    flights.FLIGHTS.forget()
    ladder = max(
        tried(case, {}).ladders, key=lambda way: (way[0].lever.key == "canopy_size", len(way))
    )
    changed = flown.changed(ladder[3])
    alone = changed.row("gear_fits")
    assert not asked and changed.row("gear_fits") is alone
    assert np.isfinite(changed.row("zipper").reserve).any() and asked == ["flown"]
    assert changed.row("gear_fits").reserve.tobytes() == alone.reserve.tobytes()
    whole = {row.limit.key: row for row in changed.rows()}
    assert whole["gear_fits"].reserve.tobytes() == alone.reserve.tobytes()
    assert asked == ["flown"]


def test_a_case_is_remembered_of_its_own_project_and_plan_alone() -> None:
    project = read_project(demo_files())
    case = case_of(project, "midday")
    assert case_of(project, "midday") is case
    assert case_of(project).plan == project.plans[0].name != "midday"
    unweighed = read_project({**demo_files(), "weighings.toml": ""})
    assert case_of(unweighed, "midday").items != case.items
    assert case_of(project, "midday", case.uncertainty.sensitivities) is not case
