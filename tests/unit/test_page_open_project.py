"""Changes guarded by content and taken back in steps; what was tried is what is written."""

from pathlib import Path

import numpy as np
import pytest

from goodflight.page.answers import Answers
from goodflight.page.open_project import ChangedElsewhereError, OpenProject
from goodflight.project import SavedTwice, SaveRefused, edit, load, versions
from goodflight.project.folder import Folder
from goodflight.project.motor_table import preview
from goodflight.project.part_forms import (
    change_part,
    entries_of,
    fault_key,
    keep,
    move_part,
    new_part,
    written,
)
from goodflight.project.plan_forms import change_plan, plan_written
from goodflight.studies.case.project_case import case_of
from goodflight.studies.levers import LEVERS
from goodflight.studies.levers.whatif import tried
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.quick import FEW_FLIGHTS, QUICK_FLIGHTS, quick_rows

MASS = "rocket.toml:part[nose].mass"


def test_a_change_is_written_undone_and_redone(folder: Path) -> None:
    store, file = OpenProject(folder), folder / "rocket.toml"
    before = file.read_text("utf-8")
    store.change("nose weighed", store.hash, lambda p: edit(p, MASS, "150 g measured"))
    after = file.read_text("utf-8")
    assert after != before
    assert store.undo(store.hash) == "nose weighed"
    assert file.read_text("utf-8") == before
    store.redo(store.hash)
    assert file.read_text("utf-8") == after
    with pytest.raises(SaveRefused, match="no change left to do again"):
        store.redo(store.hash)


def test_a_change_from_an_old_sheet_is_refused(folder: Path) -> None:
    store, file = OpenProject(folder), folder / "rocket.toml"
    drawn = store.hash
    theirs = file.read_text("utf-8").replace("236 g label", "241 g measured")
    file.write_text(theirs, "utf-8")
    with pytest.raises(ChangedElsewhereError) as refused:
        store.change("nose", drawn, lambda p: edit(p, MASS, "150 g measured"))
    assert refused.value.files == ("rocket.toml",)
    assert file.read_text("utf-8") == theirs


def test_undo_never_takes_back_an_edit_made_elsewhere(folder: Path) -> None:
    store, file = OpenProject(folder), folder / "rocket.toml"
    store.change("nose", store.hash, lambda p: edit(p, MASS, "150 g measured"))
    theirs = file.read_text("utf-8").replace("236 g label", "241 g measured")
    file.write_text(theirs, "utf-8")
    with pytest.raises(ChangedElsewhereError):
        store.undo(store.hash)
    assert file.read_text("utf-8") == theirs


def test_a_change_in_the_moment_of_another_save_is_kept_told_and_taken_back(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, file = OpenProject(folder), folder / "rocket.toml"
    before = file.read_text("utf-8")
    theirs = before.replace("236 g label", "241 g measured")
    swap = Folder.swap

    def met(place: Folder, slot: str, name: str) -> None:
        monkeypatch.undo()
        file.write_text(theirs, "utf-8")
        swap(place, slot, name)

    def ours() -> None:
        store.change("nose", store.hash, lambda p: edit(p, MASS, "150 g measured"))

    monkeypatch.setattr(Folder, "swap", met)
    with pytest.raises(SavedTwice, match=r"was written.*kept: rocket.toml version 1"):
        ours()
    written = file.read_text("utf-8")
    assert "150 g measured" in written and "241 g" not in written
    assert versions(folder, "rocket.toml")[0].path.read_text("utf-8") == theirs
    monkeypatch.setattr(Folder, "swap", met)
    with pytest.raises(SavedTwice):
        store.undo(store.hash)
    assert file.read_text("utf-8") == before
    assert store.redo(store.hash) == "nose"
    assert file.read_text("utf-8") == written


def test_faults_are_seen_and_forgotten(folder: Path) -> None:
    store, file = OpenProject(folder), folder / "rocket.toml"
    good = file.read_text("utf-8")
    assert store.look() is not None
    file.write_text(good.replace('"240 mm"', '"240 parsec"'), "utf-8")
    store.looked_s = -1.0
    assert store.look() is None and len(store.faults) == 1
    file.write_text(good, "utf-8")
    store.looked_s = -1.0
    assert store.look() is not None and not store.faults


def test_a_kept_what_if_is_the_flight_that_was_tried(folder: Path) -> None:
    project = load(folder)
    case = case_of(project, "breezy")
    wanted = {"delay_out": "3", "rail": "3", "wind": "2.5", "canopy": "small", "motor": "H-a"}
    trial = tried(case, wanted)
    assert set(trial.changed) == set(wanted)
    kept = case_of(keep(project, trial.writes), "breezy")
    assert kept.deployment.delay_out_s == pytest.approx(trial.case.deployment.delay_out_s)
    assert kept.rail.length_m == pytest.approx(trial.case.rail.length_m)
    assert kept.motor == trial.case.motor
    assert kept.day.wind_m_s == pytest.approx(trial.case.day.wind_m_s)
    assert kept.deployment.canopy is not None and trial.case.deployment.canopy is not None
    assert kept.deployment.canopy.name == trial.case.deployment.canopy.name
    assert sum(i.mass_kg for i in kept.items) == pytest.approx(
        sum(i.mass_kg for i in trial.case.items)
    )


def test_ballast_kept_is_a_part_of_its_own(folder: Path) -> None:
    project = load(folder)
    trial = tried(case_of(project), {"ballast": "0.04"})
    kept = case_of(keep(project, trial.writes))
    assert {i.name for i in trial.case.items} == {i.name for i in kept.items}
    for own, other in zip(
        sorted(trial.case.items, key=lambda i: i.name), sorted(kept.items, key=lambda i: i.name)
    ):
        assert own.mass_kg == pytest.approx(other.mass_kg)
        assert own.station_m == pytest.approx(other.station_m, abs=1e-3)  # written in whole mm


def test_nothing_tried_changes_nothing(folder: Path) -> None:
    case = case_of(load(folder))
    trial = tried(case, {})
    assert trial.changed == () and trial.writes == ()
    sliders = [lever.key for lever in LEVERS if lever.slider]
    assert [c.key for c in trial.sliders] == sliders
    base = ledger_of(case, 120, remedies=False)
    again, planned = (quick_rows(each, base, 120) for each in (trial.case, case))
    assert [r.chance for r in again.rows] == [r.chance for r in planned.rows]
    assert again.chance == planned.chance
    for one, other in zip(planned.rows, again.rows):
        np.testing.assert_array_equal(one.demand, other.demand)
    # flown with longer steps than the ledger: a flight close to a limit may change sides
    for one, other in zip(base.rows, again.rows):
        assert abs(one.failed - other.failed) <= 2


def test_before_and_after_are_flown_alike(folder: Path) -> None:
    """What a trial leaves alone reads as unchanged, at every number of flights."""
    answers = Answers(OpenProject(folder))
    settings = {"delay_out": "1"}  # changes nothing before the ejection
    for flights in (QUICK_FLIGHTS, FEW_FLIGHTS):
        now = answers.quick("midday", settings, flights)
        before = answers.before("midday", settings, now)
        assert before is not None and before.flights == now.flights == flights
        unmoved = [r for r in now.rows if r.phase in ("pad", "boost")]
        old = {r.key: r for r in before.rows}
        assert unmoved and all(r.chance == old[r.key].chance for r in unmoved)


def test_settings_that_do_not_exist_are_named(folder: Path) -> None:
    case = case_of(load(folder))
    with pytest.raises(ValueError, match="no setting '99'"):
        tried(case, {"wind": "99"})
    with pytest.raises(ValueError, match=r"of 'rail leans' here; expected one of its 21 settings"):
        tried(case, {"tilt": "abc"})  # not a list of 21 figures
    with pytest.raises(ValueError, match="nothing to change is named 'moon'"):
        tried(case, {"moon": "1"})


def test_answers_are_kept_until_a_file_changes(folder: Path) -> None:
    store = OpenProject(folder)
    answers = Answers(store)
    first = answers.layout("morning", {})
    assert answers.layout("morning", {}) is first
    store.change("nose", store.hash, lambda p: edit(p, MASS, "190 g measured"))
    assert answers.layout("morning", {}).liftoff_mass_kg > first.liftoff_mass_kg


def test_part_forms_write_only_what_changed(folder: Path) -> None:
    project, file = load(folder), folder / "rocket.toml"
    before = file.read_text("utf-8")
    same = change_part(
        project, "fins", {k: v for k, v in written(project, "fins").items() if k != "kind"}
    )
    assert file.read_text("utf-8") == before
    changed = change_part(same, "nose", {"note": ""})
    assert "note" not in written(changed, "nose")
    assert written(changed, "nose")["mass"] == written(project, "nose")["mass"]
    with pytest.raises(SaveRefused, match="has no entry 'wings'"):
        change_part(changed, "nose", {"wings": "2"})


def test_a_form_saved_as_it_stands_rewrites_no_number_and_no_list(folder: Path) -> None:
    file = folder / "rocket.toml"
    odd = file.read_text("utf-8").replace("count = 3", "count = 0x3", 1)
    assert odd != file.read_text("utf-8")
    plans = folder / "plans.toml"
    lists = plans.read_text("utf-8").replace('["night", "airport",', '[ "night","airport",', 1)
    lists = lists.replace("cloud_cover = 0.2", "cloud_cover = 0.20", 1)
    file.write_text(odd, "utf-8")
    plans.write_text(lists, "utf-8")
    project = load(folder)
    fins = {k: v for k, v in written(project, "fins").items() if k != "kind"}
    change_plan(change_part(project, "fins", fins), "morning", plan_written(project, "morning"))
    assert (file.read_text("utf-8"), plans.read_text("utf-8")) == (odd, lists)


def test_a_new_part_stands_behind_the_one_named_and_moves(folder: Path) -> None:
    project = new_part(
        load(folder), "added_mass", {"name": "shot", "mass": "10 g", "station": "50 mm"}, "nose"
    )
    assert [p.name for p in project.parts][:2] == ["nose", "shot"]
    moved = move_part(project, "shot", -1)
    assert [p.name for p in moved.parts][:2] == ["shot", "nose"]
    with pytest.raises(SaveRefused, match="first part already"):
        move_part(moved, "shot", -1)


def test_every_kind_has_a_form() -> None:
    for kind in ("nose", "tube", "fins", "canopy", "buttons", "bay"):
        entries = {entry.key: entry for entry in entries_of(kind)}
        assert entries["name"].needed and "kind" not in entries


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("time_s,thrust_n\n0,0\n0.1,100\n1,0", 3),
        ("0\t0\n0.1\t100\n1\t0\n", 3),
        ("time;thrust\n0.05;100\n0.5;90\n1;0", 4),
        ("; a remark\n0 0\n.1 100\n1e0 0", 3),
    ],
)
def test_thrust_tables_are_read(text: str, rows: int) -> None:
    found = preview(text)
    assert found.faults == () and found.curve is not None
    assert len(found.curve.times_s) == rows


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("0 0\n0,1 100\n1 0", 2, "0,12"),
        ("0 0\n0.1 100\nthen nothing\n1 0", 3, "remove this line"),
        ("0 0\n0.2 100\n0.1 90\n1 0", 3, "order"),
        ("0 0\n0.2 100\n1 5", 3, "thrust 0"),
    ],
)
def test_faults_of_a_thrust_table_stand_at_their_line(text: str, line: int, words: str) -> None:
    found = preview(text)
    assert found.curve is None
    assert found.faults[0].line == line and words in found.faults[0].sentence


REMARKS = """; invented motor, nothing of it is real
// diameter: 38 mm, length 203 mm
% propellant 92 g; loaded mass 252 g
"delays 6-10"
'core diameter 12 mm'
total impulse 168 Ns, burn 1.8 s
time (s), thrust (N)

0, 0
0.1, 100   ; after the flame
# half way
"0.5"; "90"
0.9 80 // falling
0.95;70;% still
1 0
the end
"""


def test_comments_stand_anywhere_and_offer_what_they_state() -> None:
    found = preview(REMARKS)
    assert found.faults == () and found.curve is not None
    assert found.curve.times_s == (0.0, 0.1, 0.5, 0.9, 0.95, 1.0)
    assert found.stated == {
        "diameter": "38 mm", "length": "203 mm", "propellant": "92 g", "loaded": "252 g",
        "impulse": "168 N s", "delay": "10 s", "delay_out_allowed": "4 s",
    }  # fmt: skip
    assert "the end" in found.left_out and "; after the flame" in found.left_out
    assert not [each for each in found.warnings if "head of the table" in each]
    assert "propellant" not in preview("# propellant 90 g\n" + REMARKS).stated  # said in two ways


@pytest.mark.parametrize(
    "line",
    ["38 203 0.092 0.252", "H128 38 203 6-10 0.092 0.252 none", "0.2;100;3", '0.2,100,"3"',
     ";0.2;100", '"0.2","100","3"', "O.2 100", "0.2 s 100 N", "time 0.2 s, thrust 100 N", "nan 100",
     "0.2 -", "-- --", "0.2 100 3"],
)  # fmt: skip
@pytest.mark.parametrize("place", [0, 2, 3])
def test_a_line_that_is_no_row_and_no_remark_is_one_fault(line: str, place: int) -> None:
    rows = ["0 0", "0.1 100", "1 0"]
    found = preview("\n".join([*rows[:place], line, *rows[place:]]))
    assert found.curve is None and [fault.line for fault in found.faults] == [place + 1]


def test_a_fault_of_another_part_is_not_a_fault_of_the_field(folder: Path) -> None:
    from goodflight.project import ProjectErrors

    with pytest.raises(ProjectErrors) as errors:
        change_part(load(folder), "fins", {"span": "85 parsec"})
    assert [fault_key(f, "fins") for f in errors.value.faults] == ["span"]
    assert fault_key(errors.value.faults[0], "nose") is None
