"""A motor told by its label in the first form; none told: nothing is flown, and it says so."""

import io
from pathlib import Path

import pytest

from goodflight import load
from goodflight.cli import DONE, shell
from goodflight.physics.motor import burn_time_s, mean_thrust_n, total_impulse_ns
from goodflight.project import read_project, write_project
from goodflight.project.idea import begin
from goodflight.project.motor_told import TOLD, check_told
from goodflight.project.newcomer import project_files
from goodflight.project.newcomer_fit import AnswersError
from goodflight.quantity import QuantityError
from goodflight.studies.case.project_case import case_of
from goodflight.studies.refusal import NoMotorChosen
from page_client import Page
from sample_case import MOTOR_TOLD

NAME = "first flight"
TABLE = "time thrust\n0 0\n0.1 200\n1.5 150\n1.8 0\n"


def test_without_a_motor_nothing_is_flown_and_nothing_is_assumed() -> None:
    files = project_files({})
    assert not [file for file in files if file.startswith("motors/")]
    project = read_project(files)
    with pytest.raises(NoMotorChosen, match="no total"):
        case_of(project)
    with pytest.raises(AnswersError) as caught:
        project_files({"motor_charge": "1 g"})  # of no motor
    assert list(caught.value.faults) == ["motor_charge"]


@pytest.mark.parametrize("burn", ["1.8 s", "140 N"])
def test_the_curve_of_a_label_has_its_impulse_and_burn_time(burn: str) -> None:
    """Derived by hand: 252 N s in 1.8 s are 140 N on average."""
    files = project_files({**MOTOR_TOLD, "motor_impulse": "252 N s", "motor_burn": burn})
    motor = case_of(read_project(files)).motor
    assert total_impulse_ns(motor) == pytest.approx(252.0, rel=1e-3)
    assert burn_time_s(motor) == pytest.approx(1.8, rel=1e-3)
    assert mean_thrust_n(motor) == pytest.approx(140.0, rel=1e-3)
    assert motor.delay_s == 11.0 and motor.delay_out_allowed_s == (0.0, 2.0, 4.0)
    assert "made up" in files["motors/H-told.toml"]


def test_a_thrust_table_takes_the_place_of_impulse_and_burn_time() -> None:
    """Trapezia by hand: 10 + 245 + 22.5 N s."""
    told = MOTOR_TOLD | {"motor_impulse": "", "motor_burn": "", "motor_table": TABLE}
    motor = case_of(read_project(project_files(told))).motor
    assert total_impulse_ns(motor) == pytest.approx(277.5)


def test_what_a_table_states_is_offered_and_what_is_typed_stays(tmp_path: Path) -> None:
    table = "# propellant 92 g, delays 6-10\n" + TABLE
    told = MOTOR_TOLD | {"motor_table": table, "motor_propellant": "", "motor_delays": ""}
    with pytest.raises(AnswersError) as caught:
        project_files(told)
    assert caught.value.faults["motor_propellant"].endswith("its table says 92 g")
    assert caught.value.faults["motor_delays"].endswith("its table says 4 s")
    assert (
        'propellant = "128 g"'
        in project_files(
            MOTOR_TOLD | {"motor_table": table, "motor_propellant": "128 g", "motor_impulse": ""}
        )["motors/H-told.toml"]
    )
    write_project(tmp_path / "first", project_files({}))
    page = Page(tmp_path / "first")
    look = page.post("/motor", {"table": table, "act": "look"})
    form = look.form("/motor") | {"table": table}
    assert (form["propellant"], form["delay"], form["delay_out_allowed"]) == ("92 g", "10 s", "4 s")
    again = page.post("/motor", {**form, "propellant": "95 g", "act": "look"})
    assert again.form("/motor")["propellant"] == "95 g" and "says 92 g" in again.text
    typed = {"name": "H-x", "diameter": "38 mm", "length": "203 mm", "loaded": "305 g"}
    page.post("/motor", {**form, **typed, "act": "write"})
    assert 'delay_out_allowed = ["4 s"]' in page.text("motors/H-x.toml")


def test_a_plugged_motor_leaves_it_to_an_altimeter() -> None:
    project = read_project(project_files(MOTOR_TOLD | {"motor_delay": "none", "motor_delays": ""}))
    assert project.plan().deployment == "altimeter"
    assert project.motor("H-told").delay_s is None
    words = [MOTOR_TOLD | {"motor_delay": each, "motor_delays": ""} for each in ("none", "plugged")]
    assert project_files(words[0]) == project_files(words[1])


@pytest.mark.parametrize(
    ("wrong", "key", "words"),
    [
        ({"motor_loaded": "100 g"}, "motor_propellant", "less than the loaded mass"),
        ({"motor_diameter": "54 mm"}, "motor_diameter", "too wide"),
        ({"motor_delays": "20 s"}, "motor_delays", "less than the delay"),
        ({"motor_length": ""}, "motor_length", "needed for a motor"),
        ({"motor_burn": ""}, "motor_burn", "needed for a motor"),
        ({"motor_delay": ""}, "motor_delay", "or: none, plugged"),
        ({"motor_table": "0 0\n0.1 200\n1 0"}, "motor_impulse", "area under the curve"),
        ({"motor": "H-z"}, "motor", "wanted: one of none"),
    ],
)
def test_what_cannot_be_stands_at_its_box(wrong: dict[str, str], key: str, words: str) -> None:
    with pytest.raises(AnswersError) as caught:
        project_files(MOTOR_TOLD | wrong)
    assert words in caught.value.faults[key]


@pytest.mark.parametrize(
    ("key", "text"),
    [("motor_burn", "0 s"), ("motor_burn", "3 kg"), ("motor_impulse", "many"),
     ("motor_delays", "2 s, soon"), ("motor_table", "0 0\n0.5 x")],
)  # fmt: skip
def test_what_is_no_figure_is_refused(key: str, text: str) -> None:
    with pytest.raises(QuantityError):
        check_told(next(each for each in TOLD if each.id == key), text)


def test_every_page_of_a_plan_without_a_motor_asks_for_it(tmp_path: Path) -> None:
    write_project(tmp_path / "first", project_files({}))
    page = Page(tmp_path / "first")
    for path in ("/ledger", "/flight", "/drawing"):
        sheet = page.get(path)
        assert f"No motor is chosen for {NAME}" in sheet.text
        assert " in 100" not in sheet.text
    assert "there is no total" in page.get("/scale").text
    form = page.get("/ledger").form("/plan/motor")
    at = f"/plan/motor?plan={NAME}"
    wrong = page.post(at, form | MOTOR_TOLD | {"motor_loaded": "3 N", "motor_burn": "x"})
    assert wrong.status == 422 and "2 answers need correcting" in wrong.text
    assert page.post(at, form).status == 422  # nothing told
    assert 'motor = "' not in page.text("plans.toml").replace('# motor = "', "")
    assert page.post(at, form | MOTOR_TOLD).status == 200
    assert load(page.folder).plan().motor == "H-told"


def test_the_first_form_offers_the_motors_of_the_idea(tmp_path: Path) -> None:
    begin(tmp_path / "idea")
    page = Page(tmp_path / "idea")
    sheet = page.get("/start")
    assert ">H-small</option>" in sheet.raw and ">H-middle</option>" in sheet.raw
    made = page.post("/start", sheet.form("/start") | {"motor": "H-middle"})
    assert made.status == 200
    project = load(page.folder)
    assert project.plan().motor == "H-middle" and list(project.motor_files) == ["H-middle"]


def test_a_table_sent_as_a_file_is_read(tmp_path: Path) -> None:
    page = Page(tmp_path / "new")
    form = page.get("/start").form("/start") | MOTOR_TOLD
    form |= {"motor_impulse": "", "motor_burn": ""}
    sent = {"motor_table": ("curve.csv", TABLE.encode(), "text/csv")}
    answer = page.client.post("/start", data=form, files=sent, follow_redirects=False)
    assert answer.status_code == 303
    assert total_impulse_ns(load(page.folder).motor("H-told")) == pytest.approx(277.5)


def test_new_asks_the_motor_after_the_rest(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from goodflight.project.newcomer import QUESTIONS

    lines = "\n" * len(QUESTIONS) + "\n".join(MOTOR_TOLD.values()) + "\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    assert shell.run(["new", str(tmp_path / "heron")]) == DONE
    assert load(tmp_path / "heron").plan().motor == "H-told"
