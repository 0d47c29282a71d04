"""Whole designs from what is at hand: read, searched, told, and opened as projects."""

import json
from dataclasses import replace
from itertools import pairwise
from math import atan, log, sqrt, tanh
from pathlib import Path

import numpy as np
import pytest
import tomlkit
from click.testing import CliRunner

from goodflight.cli.app import app
from goodflight.outputs.record import record
from goodflight.outputs.size.text import size_text
from goodflight.outputs.text_page import Terminal
from goodflight.physics.aero import summary
from goodflight.physics.motor import burn_time_s, total_impulse_ns
from goodflight.project import ProjectErrors, load, read_project, write_project
from goodflight.project.idea import Idea, assumptions, example, load_idea, read_idea
from goodflight.project.idea_design import Design, DoesNotFit, Laid
from goodflight.project.idea_texts import texts_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.questions.fly import nominal_flight
from goodflight.studies.questions.ledger import ledger
from goodflight.studies.questions.size import opened, size
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sizing.results import SizeStudy
from goodflight.studies.sizing.searching import families
from goodflight.studies.sizing.trying import PER_KG, PER_ROW, Tried, Trying

SMALL = 12
FLIGHTS = 60
PLAIN = Design("H-middle", 0.0, 0, 0, 0, 1, 0, 3, 0.15, 0.08, 0.28, 0.06, 0.04, 0.0)
MINIMAL = """
name = "least"
field = { size = "400 m x 300 m", rails = ["2.4 m"] }
motor = [{ name = "M", diameter = "29 mm", length = "190 mm", impulse = "150 N s", burn_time = "1.4 s", propellant = "80 g", loaded = "190 g" }]
tube = [{ outer_diameter = "57 mm", inner_diameter = "54.4 mm", material = "kraft_tube" }]
mount = [{ outer_diameter = "31.5 mm", inner_diameter = "29.3 mm" }]
sheet = [{ thickness = "3 mm", material = "birch_plywood" }]
canopy = [{ name = "one", across = "0.7 m across flats" }]
cord = [{ name = "cord", length = "4 m", strength = "3500 N" }]
"""  # noqa: E501


def idea_of(*changes: tuple[str, str]) -> Idea:
    """The example with some texts changed."""
    text = example()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_idea({"idea.toml": text})


def without_motor(text: str, name: str) -> str:
    """An idea without one of its motors."""
    document = tomlkit.parse(text)
    motors = document["motor"]
    del motors[[each["name"] for each in motors].index(name)]
    return tomlkit.dumps(document)


@pytest.fixture(scope="module")
def study() -> SizeStudy:
    """The example, searched with little effort."""
    return size(idea_of(), FLIGHTS, 1, tries=SMALL)


def test_the_examples_are_read_and_what_is_left_out_is_told() -> None:
    assert len(idea_of().motors) == 2
    least = read_idea({"idea.toml": MINIMAL})
    told = {where for _, where in assumptions(least)}
    assert {"[[wind]] mean, weight", "[field] elevation", "[field] code", "[carry]"} <= told
    assert "[[wind]] mean, weight" not in {where for _, where in assumptions(idea_of())}


def test_all_faults_are_told_at_once_with_their_lines() -> None:
    text = example().replace("kraft_tube", "kraft_tub").replace('"1.6 s"', '"90 s"')
    text = text.replace('"38.4 mm"', '"48.4 mm"').replace('code = "us"', 'code = "uss"')
    with pytest.raises(ProjectErrors) as caught:
        read_idea({"idea.toml": text})
    found = {(fault.key.split(".")[-1], fault.advice) for fault in caught.value.faults}
    assert {key for key, _ in found} == {"material", "burn_time", "inner_diameter", "code"}
    assert ("material", "did you mean kraft_tube?") in found
    assert all(fault.line > 1 for fault in caught.value.faults)
    with pytest.raises(ProjectErrors, match="--begin"):
        read_idea({})


def test_a_design_opens_as_a_project_with_the_same_chance(study: SizeStudy, tmp_path: Path) -> None:
    for design in study.designs[:2]:
        folder = tmp_path / f"{design.number}"
        write_project(folder, opened(idea_of(), design.choice))
        project = load(folder)
        for wind in design.winds:
            again = ledger(project, wind.plan, flights=wind.flights, seed=1, remedies=False)
            assert again.chance == wind.chance
        shares = sum(wind.share * wind.chance for wind in design.winds)
        assert design.chance == pytest.approx(shares)


def test_what_no_idea_can_know_is_listed_and_never_ok(study: SizeStudy) -> None:
    unknown = {each.key for each in study.to_find_out}
    assert {"separation_shut", "cure", "motor_pushed_out", "airport"} <= unknown
    assert study.assumed
    text = size_text(study, Terminal(width=80))
    assert "not counted as ok" in text
    assert max(map(len, text.splitlines())) <= 79


def test_designs_shown_differ_in_motor_tube_or_parachute(study: SizeStudy) -> None:
    kinds = [(d.choice.motor, d.choice.tube, d.choice.canopy) for d in study.designs]
    assert len(set(kinds)) == len(kinds) > 1
    assert len({motor for motor, _, _ in kinds}) == 2
    assert [d.chance for d in study.designs] == sorted(d.chance for d in study.designs)


def turned(text: str) -> str:
    """An idea with its lists, and the keys of its tables, the other way round."""
    document = tomlkit.parse(text).unwrap()
    for key, value in document.items():
        if isinstance(value, list):
            document[key] = [dict(reversed(each.items())) for each in reversed(value)]
    return tomlkit.dumps(dict(reversed(document.items())))


def test_same_seed_same_answer_whatever_the_order_of_the_tables(study: SizeStudy) -> None:
    idea = read_idea({"idea.toml": turned(example())})
    again = size(idea, FLIGHTS, 1, tries=SMALL)
    assert json.dumps(record(again)) == json.dumps(record(study))


def test_one_more_motor_never_makes_the_best_worse(study: SizeStudy) -> None:
    for left_out in ("H-small", "H-middle"):
        idea = read_idea({"idea.toml": without_motor(example(), left_out)})
        fewer = size(idea, FLIGHTS, 1, tries=SMALL)
        assert study.designs[0].chance <= fewer.designs[0].chance


def laid_of(idea: Idea) -> Laid:
    """The plain design as it lies; it fits."""
    laid = Trying(idea, 1).laid(PLAIN)
    assert isinstance(laid, Laid)
    return laid


def test_on_a_larger_field_no_flight_fails_that_stood() -> None:
    """On the same flights: what lands inside a field lands inside a larger one."""
    failing = []
    for size_text_ in ("500 m x 400 m", "900 m x 700 m", "1600 m x 1400 m"):
        idea = idea_of(("1600 m x 1400 m", size_text_))
        laid = laid_of(idea)
        view = fly_trials(case_of(read_project(texts_of(idea, PLAIN, laid)), "wind 2"), 100, 1)
        failing.append(next(r.failing for r in evaluate(view) if r.limit.key == "off_field"))
    for small, large in pairwise(failing):
        assert not (large & ~small).any()
        assert large.sum() < small.sum()


def test_where_nothing_passes_it_says_what_stands_in_the_way() -> None:
    idea = idea_of(("1600 m x 1400 m", "80 m x 60 m"))
    study = size(idea, FLIGHTS, 1, tries=SMALL)
    assert study.verdict == "fails"
    assert "off_field" in {each.key for each in study.in_the_way}
    assert "No design passes" in size_text(study)
    assert "Lands outside the field" in size_text(study)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (("evenings = 12", "evenings = 3"), "evenings"),
        (('length = "1.5 m"', 'length = "0.6 m"'), "tube there is"),
        (('inner_diameter = "38.4 mm"', 'inner_diameter = "37 mm"'), "wider than"),
        (('impulse = "168 N s"', 'impulse = "20 N s"'), "three times the weight"),
    ],
)
def test_a_motor_without_a_design_says_why(change: tuple[str, str], why: str) -> None:
    study = size(idea_of(change), FLIGHTS, 1, tries=5)
    assert study.no_design
    assert all(why in each.why for each in study.no_design)
    if not study.designs:
        assert "No design can be built" in size_text(study)


def test_the_apogee_of_a_design_is_that_of_burn_and_coast_in_closed_form() -> None:
    """Derived by hand: m dv/dt = T - m g - k v^2 with constant thrust, mean mass of the burn.

    Burn: v = q tanh(t q k / m), h = m/k ln cosh(...); coast: m/(2k) ln(1 + k v^2/(m g)).
    """
    idea = idea_of()
    files = texts_of(idea, PLAIN, laid_of(idea))
    files["plans.toml"] = files["plans.toml"].replace('wind = "2 m/s"', 'wind = "0 m/s"')
    project = read_project(files)
    flight = nominal_flight(project, "wind 2", calm=True)
    case = case_of(project, "wind 2")
    motor, dry = case.motor, case.uncertainty.features["mass_kg"]
    burn, impulse = burn_time_s(motor), total_impulse_ns(motor)
    full = dry + motor.loaded_kg
    burning, empty = full - motor.propellant_kg / 2, full - motor.propellant_kg
    area = np.pi / 4 * 0.079**2
    k = 0.5 * 1.218 * area * summary(case.rocket, 0.2).axial  # air at 60 m and 15 degC
    q = sqrt((impulse / burn - burning * 9.81) / k)
    x = burn * q * k / burning
    speed, height = q * tanh(x), burning / k * log(np.cosh(x))
    apogee = height + empty / (2 * k) * log(1 + k * speed**2 / (empty * 9.81))
    coast = sqrt(empty / (9.81 * k)) * atan(speed * sqrt(k / (empty * 9.81)))
    assert flight.figures["apogee_m"] == pytest.approx(apogee, rel=0.06)  # drag varies with speed
    flown = flight.figures["apogee_s"] - flight.figures["burnout_s"]
    assert flown == pytest.approx(coast, rel=0.04)


def test_the_command_begins_searches_and_opens(tmp_path: Path) -> None:
    idea, new = tmp_path / "idea", tmp_path / "new"
    run = CliRunner().invoke
    assert run(app, ["size", str(idea), "--begin"]).exit_code == 0
    assert load_idea(idea).said.name == "First idea"
    done = run(app, ["size", str(idea), "--flights", "40", "--tries", "5", "--into", str(new)])
    assert "Design 1 is a project in" in done.output
    assert load(new).name == "First idea"
    again = run(app, ["size", str(idea), "--begin"])
    assert again.exit_code != 0


def test_paint_is_left_off_where_the_evenings_are_short() -> None:
    trying = Trying(idea_of(("evenings = 12", "evenings = 10")), 1)
    laid = laid_of(trying.idea)
    assert not laid.painted
    assert Trying(idea_of(("evenings = 12", "evenings = 30")), 1).laid(PLAIN).painted
    assert "paint" not in texts_of(trying.idea, replace(PLAIN, fin_count=4), laid)["rocket.toml"]


@pytest.mark.parametrize("field", ["500 m x 400 m", "900 m x 700 m", "1600 m x 1400 m"])
def test_flights_the_search_never_saw_say_the_same_of_its_best(field: str) -> None:
    """Two counts of the same chance: apart by at most three standard errors of their difference."""
    idea = idea_of(("1600 m x 1400 m", field))
    best = size(idea, 200, 1, tries=5).designs[0]
    project = read_project(opened(idea, best.choice))
    again = sum(
        wind.share * ledger(project, wind.plan, wind.flights, 7919, remedies=False).chance
        for wind in best.winds
    )
    share = sum(w.share**2 * max(w.chance * (1 - w.chance), 0.01) / w.flights for w in best.winds)
    assert abs(again - best.chance) <= 3.0 * sqrt(2.0 * share)


def like(mass_kg: float, failing: list[bool]) -> Tried:
    """A design of some mass that fails in some flights of one wind; the rest does not matter."""
    mask = np.array(failing)
    worse = float(mask.mean()) * (1.0 + PER_ROW) + PER_KG * mass_kg
    laid = Trying(idea_of(), 1).laid(PLAIN)
    assert not isinstance(laid, DoesNotFit)
    return Tried(PLAIN, laid, worse, float(mask.mean()), mass_kg, (mask,))


@pytest.mark.parametrize(
    ("more", "taken"),
    [(0, 1.0), (2, 1.0), (40, 2.0)],  # flights that fail in the lighter one besides
)
def test_of_designs_that_the_flights_cannot_tell_apart_the_one_of_least_effort_is_flown(
    more: int, taken: float
) -> None:
    """Of 100 flights 20 fail in the heavy design and one less of them in the light one.

    By hand: 2 flights to the bad and 1 to the good change sides, a difference of 0.01 with an error
    of sqrt(0.03 / 100) = 0.017: a tie; 40 to the bad are 0.39 with an error of 0.05: none.
    """
    trying = Trying(read_idea({"idea.toml": MINIMAL}), 1)
    trying.shares = (1.0,)
    heavy = [True] * 20 + [False] * 80
    light = [False] + [True] * 19 + [True] * more + [False] * (80 - more)
    found: dict[tuple[int, ...], Tried] = {(0,): like(2.0, heavy), (1,): like(1.0, light)}
    (pair,) = families(trying, found)
    assert pair[-1].mass_kg == taken


def test_a_design_flies_the_same_read_whole_or_in_part() -> None:
    trying = Trying(idea_of(), 1)
    first, again = trying.tried(PLAIN), trying.tried(PLAIN)
    assert isinstance(first, Tried) and isinstance(again, Tried)
    assert first.worse == again.worse and first.chance == again.chance
