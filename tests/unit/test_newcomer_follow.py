"""What a newcomer is offered once the first figures are answered: a rocket of those proportions."""

import re
from typing import Any

import pytest

from goodflight.project.newcomer import QUESTIONS, defaults_of, drawn_answers, project_files
from goodflight.project.newcomer_fit import AnswersError, cord_kg, pack_kg
from goodflight.project.reading import read_project


def test_nothing_answered_offers_what_the_questions_say() -> None:
    assert defaults_of({}) == {each.id: each.default for each in QUESTIONS}
    assert defaults_of({"diameter": "79 mm", "name": "Heron"}) == defaults_of({})


def test_a_body_of_102_mm_is_offered_the_rest_of_its_size() -> None:
    """By hand, from a body of 79 mm: lengths times 101.6 / 79 = 1.286, skin times 1.286 times
    1570 / 1220 (nose and tubes), canopy times the root of the mass, cord four lengths."""
    offered = defaults_of({"diameter": "101.6 mm"})
    assert offered["inner_diameter"] == "97.5 mm"  # 76 x 1.286 = 97.7
    assert (offered["nose_length"], offered["body_length"]) == ("310 mm", "1260 mm")
    assert offered["fin_root"] == "195 mm" and offered["fin_span"] == "105 mm"
    assert offered["mass"] == "2.3 kg"  # 1.4 x 1.286 x 1.287 = 2.317
    assert offered["canopy"] == "1.3 m across flats"  # root of 2.3 / 1.4 = 1.28
    assert offered["cord_length"] == "6.3 m"  # 4 x 1.57 = 6.28
    assert offered["fin_material"] == "birch_plywood_4mm" and offered["rail"] == "2.4 m"


def test_a_body_in_inches_is_offered_round_inches() -> None:
    """The same by hand: 97.7 mm is 3.85 in, 309 mm 12.2 in, 1260 mm 49.6 in, 2.317 kg 5.1 lb."""
    offered = defaults_of({"diameter": "4 in"})
    assert offered["inner_diameter"] == "3.85 in"
    assert (offered["nose_length"], offered["body_length"]) == ("12.25 in", "49.5 in")
    assert offered["mass"] == "5.1 lb"
    assert offered["canopy"] == "50 in across flats"  # 1.286 m is 50.6 in
    assert offered["cord_length"] == "21 ft"  # 20.6 ft
    metric = [key for key, text in offered.items() if re.search(r"\d (mm|m|kg|g|N|m/s)\b", text)]
    assert metric == ["diameter"]  # that of the question itself, which was answered


def test_an_answer_stands_and_what_goes_by_it_follows() -> None:
    offered = defaults_of({"diameter": "102 mm", "mass": "5.6 kg", "fin_root": "100 mm"})
    assert offered["canopy"] == "2 m across flats"  # root of 5.6 / 1.4
    assert offered["fin_span"] == "55 mm"  # 80 x 100 / 150 = 53.3


def test_the_units_of_a_new_project_are_those_of_its_body() -> None:
    rocket = project_files({"diameter": "4 in"})["rocket.toml"]
    assert 'units = "imperial"' in rocket and 'length = "12.25 in"' in rocket
    assert read_project(project_files({"diameter": "4 in"})).head.units == "imperial"
    assert 'length = "8 in guess"' in rocket  # the coupler, an eighth at a time
    assert "units" not in project_files({"diameter": "100 mm"})["rocket.toml"]


def test_the_cord_is_as_heavy_as_its_nylon() -> None:
    """1140 kg/m3 / 0.45 GPa x 6500 N x 4.88 m = 80.4 g, and 60 g of links; canopy 100 g at 1 m."""
    said = {"canopy": 1.0, "cord_strength": 6500.0, "cord_length": 4.88}
    assert cord_kg(said) == pytest.approx(0.140)
    assert pack_kg(said) == pytest.approx(0.240)


@pytest.mark.parametrize("diameter", ["54 mm", "66 mm", "102 mm", "3 in", "4 in", "130 mm", "6 in"])
def test_what_is_offered_makes_a_rocket(diameter: str) -> None:
    read_project(project_files({"diameter": diameter}))


def test_the_bore_of_another_tube_is_refused_at_its_question() -> None:
    with pytest.raises(AnswersError) as refused:
        project_files({"diameter": "101.6 mm", "inner_diameter": "76 mm"})
    assert list(refused.value.faults) == ["inner_diameter"]
    assert "at least 86.36 mm: no tube has a wall of 12.8 mm" in refused.value.advice


TOLD = {"diameter": "4.0 in", "inner_diameter": "3.9 in", "nose_length": "16.5 in",
        "body_length": "48 in", "separation": "36 in", "mass": "5.6 lb ± 0.1 lb",
        "balance": "39 in ± 0.3 in", "canopy": "60 in across flats",
        "cord_strength": "1500 lbf", "cord_length": "20 ft"}  # fmt: skip


def test_what_is_worked_out_in_inches_stands_in_figures_that_a_builder_writes() -> None:
    """By hand: the tail is at 64.5 in, 0.3 m are 11.81 in, so the motor tube is 11 3/4 in long.

    The rings stand 0.59, 5.88 and 11.01 in behind its front; nearest eighths.
    """
    at: dict[str, Any] = {part.name: part for part in read_project(project_files(TOLD)).parts}
    assert at["motor tube"].length.text == "11.75 in guess"
    assert at["motor tube"].station.text == "52.75 in"
    assert at["parachute bay"].length.text == "12.75 in"
    stations = [at[f"{each} ring"].station.text for each in ("forward", "middle", "rear")]
    assert stations == ["53.375 in", "58.625 in", "63.75 in"]
    assert at["coupler"].outer_diameter.text == "3.892 in guess"
    files = project_files(TOLD)
    assert 'temperature = "59 degF guess"' in files["plans.toml"]
    figures = re.findall(r'"([0-9.]+)(?: ± [0-9.]+)? (?:in|oz|lb)', files["rocket.toml"])
    assert max(len(each.replace(".", "").lstrip("0")) for each in figures) <= 5
    assert "mm" not in files["rocket.toml"].replace("birch_plywood_4mm", "")


@pytest.mark.parametrize("told", [TOLD, {}, {"mass": "2.54 kg measured", "diameter": "4 in"}])
def test_the_whole_keeps_the_mass_and_balance_that_were_answered(told: dict[str, str]) -> None:
    """By moments; to the steps written: 0.01 oz is 0.28 g, 0.01 in is 0.25 mm, halves of them."""
    figures = drawn_answers(told)
    parts: list[Any] = [each for each in read_project(project_files(told)).parts]
    heavy = [each for each in parts if each.mass is not None and each.mass.value > 0.0]
    mass = sum(each.mass.value for each in heavy)
    assert mass == pytest.approx(figures["mass"], abs=2e-4)
    moment = sum(each.mass.value * each.balance.value for each in heavy)
    assert moment / mass == pytest.approx(figures["balance"], abs=2e-4)


@pytest.mark.parametrize(
    ("long", "tube"), [("203 mm", "300 mm"), ("330 mm", "330 mm"), ("900 mm", "416 mm")]
)
def test_the_motor_tube_holds_the_motor_that_is_told_where_there_is_room(
    long: str, tube: str
) -> None:
    """0.3 m, or as long as the motor, at most 0.8 of the 520 mm behind the separation: 416 mm."""
    motor = {
        "motor_name": "H-long", "motor_impulse": "257 N s", "motor_burn": "1.8 s",
        "motor_propellant": "128 g", "motor_loaded": "305 g", "motor_diameter": "38 mm",
        "motor_length": long, "motor_delay": "none", "motor_delays": "none",
    }  # fmt: skip
    body = {"separation": "700 mm"}
    text = project_files({**body, **motor})["rocket.toml"]
    part = text.split('name = "motor tube"')[1]
    assert f'length = "{tube} guess"' in part.split("[[part]]")[0]
    assert f'station = "{1220 - int(tube.removesuffix(" mm"))} mm"' in part


def test_lines_as_long_as_a_canopy_across_corners_is_wide_are_whole_millimetres() -> None:
    """1.2 m across corners is 1.2 cos 30 = 1.03923 m across flats."""
    text = project_files({"canopy": "1.2 m across corners"})["rocket.toml"]
    assert 'lines = "6 x 1039 mm"' in text
