"""The studies on the demo project: wiring from the files, and the directions of its story."""

from pathlib import Path

import numpy as np
import pytest

from goodflight.outputs.ledger.input_words import value
from goodflight.project import Project, load
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.delay import delay
from goodflight.studies.questions.fly import nominal_flight
from goodflight.studies.questions.ledger import ledger


@pytest.fixture(scope="module")
def project(demo_folder: Path) -> Project:
    return load(demo_folder)


def test_the_first_plan_is_the_default(project: Project) -> None:
    assert case_of(project).plan == project.plans[0].name


def test_an_unknown_plan_is_named(project: Project) -> None:
    with pytest.raises(KeyError, match="nowhere"):
        ledger(project, "nowhere")


def test_a_length_acts_through_its_finite_difference(project: Project) -> None:
    case = case_of(project)
    found = {s.path.split(".", 1)[1]: s for s in case.uncertainty.sensitivities}
    span = next(s for path, s in found.items() if path.endswith("part[fins].span"))
    assert span.effects["fin_slope"] > 0.0
    assert span.effects["cp_m"] > 0.0
    assert not any(path.endswith((".mass", ".balance")) for path in found)


def test_masses_are_drawn_once(project: Project) -> None:
    case = case_of(project)
    assert {item.name for item in case.items if item.mass_sigma_kg > 0} <= set(
        case.origin.mass_paths
    )


def test_the_canopies_that_stay_at_home_are_offered(project: Project) -> None:
    case = case_of(project)
    assert {canopy.name for canopy in case.deployment.canopies} == {"large", "small"}
    assert "small" not in {item.name for item in case.items}


def test_directions_of_the_story(project: Project) -> None:
    """More wind is worse for the middle motor; the small motor on the long rail is the answer."""
    plans = ("midday", "breezy", "small motor")
    found = {plan: ledger(project, plan, 300, 1, remedies=False) for plan in plans}
    assert found["midday"].chance < found["breezy"].chance
    assert found["small motor"].chance < 0.5 * found["breezy"].chance
    assert all(each.invented for each in found.values())
    assert all(0 < each.measured < each.figures for each in found.values())


def test_the_big_motor_meets_the_ceiling(project: Project) -> None:
    rows = {row.key: row for row in ledger(project, "big motor", 100, 1, remedies=False).rows}
    assert rows["ceiling"].state == "fails"


def test_remedies_write_paths_of_the_project(project: Project) -> None:
    found = ledger(project, "breezy", 300, 1)
    paths = {path for row in found.rows for r in row.remedies for path, _ in r.change}
    assert paths
    plain = {
        p for p in paths if not p.endswith(":part") and not p.endswith((".day.wind", ".delay_out"))
    }
    homes = ("plans.toml:plan[breezy].", "rocket.toml:", "motors/", "sites/", "build.toml:")
    assert not [p for p in plain if not p.startswith(homes)]


def test_inputs_say_how_they_are_known(project: Project) -> None:
    rows = {row.key: row for row in ledger(project, "breezy", 50, 1, remedies=False).rows}
    texts = {item.label: value(item) for item in rows["margin_small"].inputs}
    # 4 % of 1220 mm is 48.8 mm; slopes 10 % each move the CP by some 20 mm of it, by hand
    rest = float(texts["centre of pressure of the model"].split()[0].removeprefix("±"))
    assert rest == pytest.approx((48.8**2 - 20.0**2) ** 0.5, abs=1.0)
    found = {item.label: item for item in rows["opening_cord"].inputs}
    cord = found["strength of the cord"]  # 6500 N ± 10 % label, in newtons as it is written
    assert (value(cord), cord.known) == ("6500 N ±650", "label")
    assert cord.path == "rocket.toml:part[cord].strength"
    wind = {item.label: item for item in rows["off_field"].inputs}["wind"]
    assert (wind.known, wind.path) == ("measured", "plans.toml:plan[breezy].day.wind")
    assert {item.known for item in rows["off_field"].inputs} <= {"guess", "label", "measured"}


def test_delay_and_nominal_flight_from_the_files(project: Project) -> None:
    study = delay(project, "small motor", 60, 1)
    assert study.planned_delay_out_s in {row.delay_out_s for row in study.rows}
    report = nominal_flight(project, "small motor", calm=True)
    assert report.figures["apogee_m"] is not None


def test_a_rocket_that_never_leaves_shows_nothing_as_fine(tmp_path: Path) -> None:
    write_demo(tmp_path / "heavy")
    file = tmp_path / "heavy" / "rocket.toml"
    text = file.read_text(encoding="utf-8")
    assert '"144 g measured"' in text
    file.write_text(text.replace('"144 g measured"', '"80 kg measured"'), encoding="utf-8")
    (tmp_path / "heavy" / "weighings.toml").unlink()  # they would contradict it, and be told
    found = ledger(load(tmp_path / "heavy"), flights=40)
    rows = {row.key: row for row in found.rows}
    assert rows["thrust_to_weight"].state == "fails"
    for key in ("rail_exit", "margin_small", "too_early", "off_field", "battery"):
        assert rows[key].state == "unknown" and "no simulated flight left" in rows[key].advice
    fine = [row for row in found.rows if row.state == "ok" and row.key != "model_range"]
    assert fine == []


def test_what_the_rocket_does_not_have_is_no_row_and_not_ok(project: Project) -> None:
    """One canopy, a cap on the motor: told apart with the reason, never counted as fine."""
    found = ledger(project, flights=40)
    keys = {row.key for row in found.rows}
    absent = {each.key: each.why for each in found.not_here}
    assert absent["main_opening"] == absent["drogue_speed"] == "one canopy only"
    assert absent["retainer_overhang"] == "retention by cap needs no overhang"
    assert keys.isdisjoint(absent)
    assert all(np.isfinite(row.demand).any() for row in found.rows if row.state == "ok")
