"""Figures measured one at a time: what their readings come to, what is refused, what they change.

Expected numbers are derived by hand beside each check, from the stated errors; Student's t of a few
degrees of freedom is JCGM 100:2008 table G.2 (95 %), from memory: 2 4.30, 3 3.18, 4 2.78, 5 2.57.
"""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from goodflight.cli.app import app
from goodflight.physics.estimate import one_more
from goodflight.project import Project, ProjectErrors, load, read_project
from goodflight.project.demo import demo_files
from goodflight.project.part_forms import keep
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of, measured_case
from goodflight.studies.case.readings import MeasuredFigure
from goodflight.studies.judging.measure_next import _measured as measured_next
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.measurable import entered_as, measurable
from goodflight.studies.questions.scale import weigh
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling import airframe, separation
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.trials import make_trials


def reading(of: str, *read: str, **more: str) -> str:
    rows = [f'of = "{of}"', f"read = {json.dumps(list(read), ensure_ascii=False)}"]
    return "\n".join(["[[reading]]", *rows, *(f'{k} = "{v}"' for k, v in more.items())]) + "\n"


def with_readings(*rows: str, changes: dict[str, str] | None = None) -> Project:
    files = dict(demo_files())
    for old, new in (changes or {}).items():
        assert old in files["rocket.toml"], old
        files["rocket.toml"] = files["rocket.toml"].replace(old, new)
    files["weighings.toml"] = "\n".join(rows)
    return read_project(files, Path("."))


def only(*rows: str, changes: dict[str, str] | None = None) -> MeasuredFigure:
    (figure,) = measured_case(with_readings(*rows, changes=changes))[1]
    return figure


GUESSED = {'lengths = "measured"': 'lengths = "guess"'}

# --- several pulls, few of them ---


def test_few_readings_are_wider_as_students_t_says() -> None:
    # s = 2; 4.303 / 1.960 x 2 x sqrt(4/3) = 5.07
    assert one_more(np.array([30.0, 32.0, 34.0]), 0.0, 0.0) == pytest.approx((32.0, 5.07), abs=0.01)
    ten = np.array([31.0, 33.0] * 5)  # s = 1.054; 2.262 / 1.960 x 1.054 x sqrt(1.1) = 1.276
    assert one_more(ten, 0.0, 0.0)[1] == pytest.approx(1.276, abs=0.002)
    with pytest.raises(ValueError, match="no scatter"):
        one_more(np.array([32.0]), 1.0, 0.0)


def test_pulls_give_their_mean_and_the_next_ones_spread() -> None:
    """A measured force scatters by 5 %, 1.6 N here, which counts as two pulls (defaults)."""
    three = ("30 N", "32 N", "34 N")
    # (2 x 1.6^2 + 8) / 4 = 3.28; 1.811 x sqrt(4/3) x 2.776 / 1.960 = 2.96
    found = only(reading("separation.pull", *three))
    assert (found.value, found.sigma) == pytest.approx((32.0, 2.96), abs=0.01)
    # the scale's own 1 N: (2 x 3.56 + 8) / 4 = 3.78; 1.944 x 1.1547 x 1.4163 = 3.18
    assert only(reading("separation.pull", *three, error="1 N")).sigma == pytest.approx(
        3.18, abs=0.01
    )
    # the scale off by 2 % on all of them: sqrt(2.96^2 + 0.64^2) = 3.03
    scale = '[[instrument]]\nname = "luggage scale"\ncalibration = "2 %"\n'
    shared = only(scale, reading("separation.pull", *three, instrument="luggage scale"))
    assert shared.sigma == pytest.approx(3.03, abs=0.01)
    # in two entries, on two days: the same
    two = only(reading("separation.pull", "30 N", "32 N"), reading("separation.pull", "34 N"))
    assert (two.value, two.sigma) == pytest.approx((found.value, found.sigma))


def test_more_pulls_that_agree_leave_less_open_and_none_more_than_a_guess() -> None:
    spreads = [only(reading("separation.pull", *["40 N"] * n)).sigma for n in (1, 2, 3, 6)]
    # 1: 4.303 / 1.96 x sqrt(2) x 2 N = 6.21
    assert spreads[0] == pytest.approx(6.21, abs=0.01)
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[0] <= 0.20 * 40.0
    # what was seen to scatter counts: s = 12; 12 x sqrt(4/3) = 13.86, more than the guess's 6.4
    wide = only(reading("separation.pull", "20 N", "32 N", "44 N"))
    assert wide.sigma == pytest.approx(13.86, abs=0.01)


# --- one thing read again ---


def test_a_length_is_taken_with_the_designs_guess_by_their_errors() -> None:
    # design 80 +- 2.4 mm (3 %), read 82 +- 0.5: weights 0.1736 and 4: 81.917 +- 0.4895
    found = only(reading("part[fins].span", "82 mm ± 0.5 mm"), changes=GUESSED)
    assert (found.value, found.sigma) == pytest.approx((0.081917, 0.0004895), rel=1e-4)
    case = case_of(with_readings(reading("part[fins].span", "82 mm ± 0.5 mm"), changes=GUESSED))
    (span,) = (s for s in case.uncertainty.sensitivities if s.path.endswith("[fins].span"))
    assert (span.value, span.sigma, span.known) == pytest.approx(
        (found.value, found.sigma, "measured")
    )
    # a rule that is 1 % off by itself does not get better by reading it nine times
    rule = '[[instrument]]\nname = "rule"\ncalibration = "1 %"\n'
    nine = reading("part[fins].span", *["82 mm ± 0.5 mm"] * 9, instrument="rule")
    # own 0.5 / 3, shared 0.82: 0.837; with 2.4: 0.790 at 81.78
    found = only(rule, nine, changes=GUESSED)
    assert (found.value, found.sigma) == pytest.approx((0.08178, 0.000790), rel=2e-3)


def test_a_dropped_canopy_tells_its_drag() -> None:
    """CdS = 2 m g / (rho v^2): 600 g, 8 m in 2.15 s is 3.721 m/s, 0.6938 m2 on 0.8660 m2."""
    drop = reading(
        "part[large].drag_coefficient", "2.15 s", hung="600 g", height="8 m", error="0.1 s"
    )
    found = only(drop)
    assert found.readings[0] == pytest.approx(0.8012, abs=2e-4)
    # 2 x 0.1 / 2.15 = 9.3 %, air 3 %, weight 0.5 %: 0.0784; with the design's 0.75 +- 0.08:
    assert found.value == pytest.approx(0.7761, abs=2e-3)
    assert found.sigma == pytest.approx(0.0560, abs=1e-3)
    # the height known to 5 %: 10 % more, 0.1122 in all
    low = only(drop.replace("8 m", "8 m ± 0.4 m"))
    assert (low.value, low.sigma) == pytest.approx((0.7672, 0.0651), abs=1e-3)
    speed = only(reading("part[large].drag_coefficient", "3.721 m/s", hung="600 g"))
    assert speed.readings[0] == pytest.approx(0.8012, abs=2e-4)
    rows = make_trials(case_of(with_readings(drop)), 2000, 1)
    area = rows.parameter("canopy_area_m2")
    assert area.mean() == pytest.approx(0.7761 * 0.8660, rel=0.01)


# --- figures that no file has ---


def test_every_fin_has_its_own_cant() -> None:
    """0.8 mm over 150 mm is 0.3056 deg; by 0.1 deg, on a design of 0 +- 0.4: 0.2876 +- 0.0970."""
    project = with_readings(
        reading("cant:1", "0.8 mm", over="150 mm"), reading("cant:2", "-0.3 deg ± 0.05 deg")
    )
    case, figures = measured_case(project)
    assert math.degrees(figures[0].value) == pytest.approx(0.2876, abs=5e-4)
    assert math.degrees(figures[0].sigma) == pytest.approx(0.0970, abs=5e-4)
    trials = make_trials(case, 4000, 1)
    cants = [np.degrees(trials.of(airframe.cant, str(n))) for n in (1, 2, 3)]
    # -0.3 x 0.16 / 0.1625 = -0.2954
    assert [c.mean() for c in cants] == pytest.approx([0.2876, -0.2954, 0.0], abs=2e-3)
    assert [c.std() for c in cants] == pytest.approx([0.0970, 0.0496, 0.4], abs=2e-3)
    roll = np.degrees(trials.parameter("cant_roll_rad"))
    assert roll.mean() == pytest.approx((0.2876 - 0.2954) / 3.0, abs=2e-3)


@pytest.mark.parametrize(
    ("row", "value"),
    [  # what is torn over what the design takes, each as docs/models.md has it
        (reading("kraft_ply", "180 N", over="4 cm2"), 1.0),  # 0.45 MPa of 0.45 MPa
        (reading("ply_shear", "2 MPa"), 0.8),  # of 2.5 MPa
        (reading("crush", "9.09 MPa"), 0.9),  # of 10.1 MPa
        (reading("guide_strength", "200 N"), 0.8),  # of 250 N
        (reading("knot", "2600 N"), 0.8),  # of 6500 N x 0.5
    ],
)
def test_an_offcut_moves_the_factor_on_what_is_taken(row: str, value: float) -> None:
    found = only(row)
    assert found.value == pytest.approx(value, abs=1e-6)
    assert found.sigma <= found.design_sigma * value + 1e-9  # one piece is no more than a guess


def test_pins_edge_and_bond_of_offcuts() -> None:
    two = {"[separation]                      # at": "[separation]\npins = 2  # at"}
    # two #2-56 pins shear at 225 N: 54 MPa x 2 x pi/4 (1.628 mm)^2
    pins = only(reading("pin_strength", "180 N", "225 N"), changes=two)
    assert pins.readings == pytest.approx((0.8, 1.0), abs=2e-3)
    # 480 N and 462 N over 21 mm2
    edge = only(reading("separation.edge_strength", "480 N", "462 N", over="21 mm2"))
    assert edge.readings == pytest.approx((22.857e6, 22.0e6), rel=1e-4)
    assert edge.design == 26e6  # kraft_glassed of the design
    # the plies measured at 0.9 MPa, twice 0.45: a bond torn at 0.72 MPa is 0.8 of them
    case, figures = measured_case(
        with_readings(
            reading("bond_work", "288 N", over="4 cm2"), reading("kraft_ply", "360 N", over="4 cm2")
        )
    )
    assert [(f.of, round(f.value, 6)) for f in figures] == [("kraft_ply", 2.0), ("bond_work", 0.8)]
    assert set(case.uncertainty.read) == {"kraft_ply", "bond_work"}


def test_the_packed_length_is_the_room_the_pack_takes() -> None:
    stack = stack_of(case_of(with_readings()))
    assert isinstance(stack, Stack)
    found = only(reading("pack_room", f"{1e3 * stack.length_m:.3f} mm"))
    assert found.value == pytest.approx(1.0, abs=1e-4)
    longer = only(reading("pack_room", f"{1e3 * float(stack.drawn_m(np.array(1.1))):.3f} mm"))
    assert longer.value == pytest.approx(1.1, abs=1e-4)


# --- refused, or told ---


def refusal(*rows: str, changes: dict[str, str] | None = None) -> StudyRefused:
    with pytest.raises(StudyRefused) as refused:
        case_of(with_readings(*rows, changes=changes))
    return refused.value


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (reading("separation.pull", "31 N", "33 N", "320 N"), "as the other readings have it"),
        (reading("separation.pull", "200 N"), "as the design has it"),  # six times 32 N
        (reading("part[fins].span", "8 mm"), "as the design has it"),
        (reading("part[fins].span", "80 mm", "81 mm", "8 mm"), "as the other readings have it"),
        (reading("cant:1", "30 deg"), "as the design has it"),
        (reading("cant:4", "0 deg"), "did you mean cant:"),
        (reading("pin_strength", "100 N"), "a figure of this rocket that is measured"),
        (reading("crush", "9 N"), "unit of a force"),
        (reading("crush", "9 N", hung="3 kg"), "more keys than crush takes"),
        (reading("crush", "9 N", over="0 cm2"), "more than 0"),
        (reading("crush", "9 N", over="4 mm"), "unit of a length"),
        (reading("cant:1", "1 deg", error="-1 deg"), "more than 0"),
    ],
)
def test_what_cannot_be_is_refused_in_its_line(row: str, said: str) -> None:
    found = refusal(reading("separation.fixed_joint", "700 N"), row)
    assert said in found.sentence
    assert (found.file, found.key.split(".")[0]) == ("weighings.toml", "reading[#2]")
    assert found.line >= 5


def test_every_wrong_key_is_told_when_the_file_is_read() -> None:
    with pytest.raises(ProjectErrors) as refused:
        with_readings(
            reading("part[fins].spam", "85 mm"),
            reading("part[fin].span", "85 mm"),
            reading("part[fins].span", "85 g", "80 mm ± 30 mm", error="0 mm"),
            reading("part[nose].mass", "85 g"),
            reading("separation.pull", "8 N", instrument="none", hung="3 g"),
            reading("separation.pull", "8 N", over="4 cm2", height="3 m"),
            reading("separation.pull", "8 N", date="then"),
        )
    keys = {fault.key for fault in refused.value.faults}
    assert "reading[#7].date" in keys  # of the file itself; the rest once it is one
    with pytest.raises(ProjectErrors) as refused:
        with_readings(
            reading("part[fins].spam", "85 mm"),
            reading("part[fin].span", "85 mm"),
            reading("part[fins].span", "85 g", "80 mm ± 30 mm", error="0 mm"),
            reading("part[nose].mass", "85 g"),
            reading("separation.pull", "8 N", instrument="none", hung="3 g"),
            reading("separation.pull", "8 N", over="4 cm2"),
            reading("separation.pull", "8 N", height="3 m"),
        )
    assert [fault.key for fault in refused.value.faults] == [
        "reading[#1].of", "reading[#2].of", "reading[#3].read[#1]", "reading[#3].read[#2]",
        "reading[#3].error", "reading[#4].of", "reading[#5].instrument", "reading[#5].hung",
        "reading[#6].over", "reading[#7].height",
    ]  # fmt: skip
    assert all(fault.file == "weighings.toml" and fault.line for fault in refused.value.faults)


def test_what_the_design_has_otherwise_is_told_and_what_was_measured_counts() -> None:
    project = with_readings(reading("part[cord].stowed_length", "160 mm"))  # design: 150 mm
    study = weigh(project, flights=20)
    assert study.measured[0].value == pytest.approx(0.160, abs=1e-6)
    said = " ".join(finding.told() for finding in study.findings)
    assert "stowed length of cord: 10 mm more than the design says" in said


def test_a_reading_lapses_when_its_figure_is_changed(folder: Path) -> None:
    run = CliRunner().invoke(
        app,
        ["weigh", str(folder), "--of", "separation.pull", "--read", "41 N", "--flights", "20"],
    )
    assert run.exit_code == 0
    project = load(folder)
    assert case_of(project).rocket.separation.pull_n.value == 41.0  # type: ignore[union-attr]
    changed = keep(project, [("rocket.toml:separation.pull", "36 N ± 2 N")])
    assert case_of(changed).rocket.separation.pull_n.value == 36.0  # type: ignore[union-attr]
    told = [finding.told() for finding in weigh(changed, flights=20).findings]
    assert any("separation.pull was changed after it was measured" in each for each in told)


def test_a_change_kept_marks_what_was_measured_by_hand(folder: Path) -> None:
    file = folder / "weighings.toml"
    rows = reading("separation.edge_strength", "20 MPa") + reading("cant:1", "0.2 deg")
    file.write_text(file.read_text("utf-8") + rows, "utf-8")
    project = load(folder)
    assert case_of(project).rocket.separation.edge_strength_pa.value == 20e6  # type: ignore
    kept = keep(project, [("rocket.toml:separation.edge", "glass")])  # a lever's new edge
    assert case_of(kept).rocket.separation.edge_strength_pa.value == 150e6  # type: ignore
    assert "cant:1" in case_of(kept).uncertainty.read
    fins = keep(kept, [("rocket.toml:part[fins].span", "90 mm")])
    assert "cant:1" not in case_of(fins).uncertainty.read


# --- the answer ---


def test_a_pull_that_was_not_known_answers_its_rows() -> None:
    text = next(line for line in demo_files()["rocket.toml"].splitlines() if "pull = " in line)
    without = {text + "\n": ""}
    before = {row.key: row for row in ledger_of(case(without), 50, 1, remedies=False).rows}
    rows = reading("separation.pull", "30 N", "33 N", "32 N")
    after = {row.key: row for row in ledger_of(case(without, rows), 50, 1, remedies=False).rows}
    asked = separation.pull.key
    waited = [k for k, row in before.items() if asked in [each.key for each in row.asks]]
    assert len(waited) >= 3 and all(before[key].chance is None for key in waited)
    assert all(after[key].chance is not None for key in waited)
    study = weigh(with_readings(rows, changes=without), flights=50)
    assert study.measured[0].design is None
    assert set(waited) <= {row.key for row in study.rows if row.before is None}


def case(changes: dict[str, str], *rows: str) -> Case:
    return case_of(with_readings(*rows, changes=changes))


def test_readings_change_rows_before_and_after() -> None:
    study = weigh(with_readings(reading("separation.pull", "9 N", "9.5 N", "8.8 N")), flights=200)
    assert study.measured[0].of == "separation.pull" and study.measured[0].design == 32.0
    changed = {row.key: (row.before, row.now) for row in study.rows}
    assert changed, "a pull of 9 N leaves no row as it was"
    assert study.chance_now > study.chance_before


def test_a_reading_is_entered_by_command_or_refused_unwritten(folder: Path) -> None:
    def run(*more: str) -> Any:
        return CliRunner().invoke(app, ["weigh", str(folder), "--flights", "20", *more])

    before = (folder / "weighings.toml").read_text("utf-8")
    pulls = ("--read", "31 N", "--read", "33 N")
    for wrong in (
        ("--of", "separation.pull", *pulls, "--read", "320 N"),
        ("--of", "separation.push", *pulls),
        ("--of", "separation.pull"),
        ("--of", "separation.pull", *pulls, "--what", "nose"),
        pulls,
    ):
        refused = run(*wrong)
        assert refused.exit_code != 0 and "Traceback" not in refused.output
        assert (folder / "weighings.toml").read_text("utf-8") == before
    note = ("--date", "2026-10-10", "--note", "one turn of tape, 60 % humidity", "--json")
    done = run("--of", "separation.pull", *pulls, *note)
    assert done.exit_code == 0
    (told,) = json.loads(done.stdout)["measured"]
    assert told["value"] == pytest.approx(32.0) and told["note"].startswith("one turn")
    after = (folder / "weighings.toml").read_text("utf-8")
    assert after.startswith(before) and 'read = ["31 N", "33 N"]' in after
    assert "read 31 N, 33 N" in run().output


def test_everything_that_can_be_measured_has_a_name_that_is_taken() -> None:
    known = {each.of: each for each in measurable(with_readings())}
    for of in ("separation.pull", "cant:1", "crush", "pack_room", "part[fins].span",
               "part[payload bay].vent_diameter", "part[large].drag_coefficient"):  # fmt: skip
        assert of in known
    units = {"force": "N", "pressure": "MPa", "length": "mm", "angle": "deg", "area": "cm2",
             "volume": "L", "mass": "g", "ratio": ""}  # fmt: skip
    for each in known.values():
        try:
            case_of(with_readings(reading(each.of, f"1 {units[each.dimension]}".strip())))
        except StudyRefused as refused:  # the number may be impossible, its name and unit are not
            assert "has it" in refused.sentence, refused.sentence
        except ProjectErrors as errors:
            assert all(".read" in fault.key for fault in errors.faults), str(errors)


def test_an_edge_strength_without_a_spread_has_that_of_a_strength() -> None:
    """It had that of the air's pressure, 1000 Pa."""
    row = {'edge = "kraft_glassed"': 'edge_strength = "20 MPa"'}
    figure = case_of(with_readings(changes=row)).rocket.separation.edge_strength_pa
    assert figure is not None and figure.sigma == pytest.approx(0.20 * 20e6)


def test_readings_leave_all_else_as_it_was() -> None:
    """Nothing measured: the same flight; one figure measured: only that one is other."""
    plain, read = case({}), case({}, reading("separation.pull", "32 N"))
    assert plain.uncertainty.read == read.uncertainty.read == {}
    assert plain.rocket.parts == read.rocket.parts
    first, second = (make_trials(each, 50, 1) for each in (plain, read))
    assert np.array_equal(first.parameters, second.parameters)
    assert not np.array_equal(first.of(separation.pull), second.of(separation.pull))


def test_what_to_measure_next_says_under_which_name() -> None:
    project = with_readings()
    case = case_of(project)
    names = {
        "crush": "crush", "fin_alignment": "cant:1", "pack_room": "pack_room",
        separation.edge_strength.key: "separation.edge_strength",
        "canopy_drag": "part[large].drag_coefficient", "cord_strength": "part[cord].strength",
        "figure:rocket.toml:part[fins].span": "part[fins].span",
        "mass:nose": "", "wind": "", "cord_damping": "", "landing_stands": "",
    }  # fmt: skip
    assert {key: entered_as(project, case, key) for key in names} == names
    study = weigh(project, flights=300)
    known = {each.of for each in measurable(project)}
    assert {each.of for each in study.next} & known
    assert {each.of for each in study.next} <= known | {""}


def test_what_to_measure_next_names_the_place_of_the_figure_not_of_the_kind_it_came_from() -> None:
    """The demo says what the edge is made of; a pull-test of it is a strength."""
    case = case_of(with_readings())
    factor = next(f for f in factors_of(case) if f.key == separation.edge_strength.key)
    assert factor.path == "rocket.toml:separation.edge"
    view = View(case, make_trials(case, 2, 1), np.zeros((2, 1)))
    told = measured_next(view, factor, "", 0.0, 0.0)
    assert (told.file, told.place) == ("rocket.toml", "separation.edge_strength")
