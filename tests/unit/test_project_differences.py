"""What differs between texts of a file, three of them merged, faults shown in their lines."""

import re
from pathlib import Path

import pytest

from goodflight.outputs.motors.thrust import HEIGHT, thrust_svg
from goodflight.project import Fault, ProjectErrors, load, write_files
from goodflight.project.budgets import MAX_COMPARED
from goodflight.project.differences import (
    NO_ENTRY,
    Change,
    changes_between,
    entry_at,
    merge,
)
from goodflight.project.history import around, in_words, rows_of
from goodflight.project.motor_table import preview
from goodflight.project.part_forms import keep
from goodflight.project.plan_forms import keep_as_plan, plan_entries
from goodflight.project.saving import keep_text, versions


# every way that what was drawn, what is there now and what was typed can stand to each other
@pytest.mark.parametrize(
    ("drawn", "now", "typed", "shown", "who"),
    [
        ("a", "a", "a", "a", ""),
        ("a", "a", "b", "b", "yours"),
        ("a", "b", "a", "b", "theirs"),
        ("a", "b", "b", "b", ""),
        ("a", "b", "c", "c", "clash"),
        ("a", "", "a", "", "theirs"),
        ("a", "", "c", "c", "clash"),
        ("", "b", "", "b", "theirs"),
        ("", "b", "c", "c", "clash"),
        ("a", "b", "", "", "clash"),
        ("a", "a", "", "", "yours"),
        ("1  g", "1 g", " 1 g ", " 1 g ", ""),
    ],
)
def test_three_states_are_merged(drawn: str, now: str, typed: str, shown: str, who: str) -> None:
    found = merge({"k": drawn}, {"k": now}, {"k": typed})
    assert found.texts["k"] == shown
    told = {"yours": found.yours, "theirs": found.theirs, "clash": tuple(found.clashes)}
    assert [name for name, keys in told.items() if keys] == ([who] if who else [])


def test_without_the_state_drawn_every_entry_that_differs_is_asked() -> None:
    found = merge(None, {"a": "1", "b": "2"}, {"a": "1", "b": "3", "c": "4"})
    assert set(found.clashes) == {"b", "c"} and found.clashes["b"].drawn is None
    assert (found.theirs, found.yours) == ((), ())


def test_an_entry_that_the_form_does_not_have_is_left_alone() -> None:
    assert merge({"a": "1"}, {"a": "1", "b": "2"}, {"a": "3"}).texts == {"a": "3", "b": "2"}


ONE = '[[part]]\nname = "x"\nmass = "1 g"\n[[part]]\nname = "y"\nspan = 2.50\n'


@pytest.mark.parametrize(
    ("after", "changes"),
    [
        (ONE, ()),
        (ONE.replace("1 g", "2 g"), (Change("f.toml", "part[x].mass", "1 g", "2 g"),)),
        (ONE.replace("2.50", "3"), (Change("f.toml", "part[y].span", "2.5", "3"),)),
        (ONE.replace('mass = "1 g"\n', ""), (Change("f.toml", "part[x].mass", "1 g", ""),)),
        (ONE + "# end\n", (Change("f.toml", "", "", NO_ENTRY),)),
        (ONE[: ONE.rindex("[[part]]")], (Change("f.toml", "part[y]", "there", ""),)),
        (ONE + '[[part]]\nname = "z"\nmass = "1 g"\n', (Change("f.toml", "part[z]", "", "there"),)),
        (ONE.replace('"1 g"', '"1 g'), (Change("f.toml", "", "", "1 line differs"),)),
    ],
)
def test_changes_are_named_by_entry(after: str, changes: tuple[Change, ...]) -> None:
    assert changes_between({"f.toml": ONE}, {"f.toml": after}) == changes


def test_a_table_of_numbers_is_compared_by_lines() -> None:
    found = changes_between({"m.csv": "a\nb\nc\n"}, {"m.csv": "a\nx\ny\nc\n"})
    assert found == (Change("m.csv", "", "", "2 lines differ"),)
    assert changes_between({}, {"m.csv": "a"}) == (Change("m.csv", "", "", "there"),)


def test_an_entry_is_found_by_its_path(folder: Path) -> None:
    texts = load(folder).texts
    assert entry_at(texts, "plans.toml:plan[midday].day.wind").startswith("3.5 m/s")
    assert entry_at(texts, "plans.toml:plan[midday].day.moon") == ""
    assert entry_at(texts, "moon.toml:x") == ""


def test_long_texts_are_counted_and_not_compared() -> None:
    rows = "x\n" * (MAX_COMPARED + 1)
    for file, old in (
        ("a.csv", rows),
        ("a.toml", "a = 1\n" * 10_001),
        ("b.toml", "a = [\n" * 4000),
    ):
        (change,) = changes_between({file: old}, {file: "a = 1\n"})
        count = old.count("\n")
        assert change.after == f"too long to compare: 1 lines instead of {count} lines"


def test_a_fault_is_marked_in_its_line() -> None:
    text = 'a = 1\nlength = "240 parsec"  # long\nb = 2\n'
    fault = Fault(
        "f.toml", 2, "length", found='"240 parsec"', expected="a length", advice="write mm"
    )
    lines = around(rows_of(text), fault)
    assert [line.number for line in lines] == [1, 2, 3]
    assert [line.wrong for line in lines] == [False, True, False]
    assert lines[1].parts == ("length = ", '"240 parsec"', "  # long")
    missing = Fault(
        "f.toml", 1, "c", found="nothing", expected="a number", advice="add the line c = ..."
    )
    assert around(rows_of(text), missing)[0].parts == ("", "a = 1", "")
    assert around(rows_of(text), Fault("f.toml", 0, "", found="x", expected="y", advice="z")) == ()
    assert around(rows_of(""), Fault("f.toml", 7, "", found="x", expected="y", advice="z")) == ()


def test_a_stamp_is_read_as_a_time_of_this_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    import time

    monkeypatch.setenv("TZ", "UTC-2")  # two hours ahead of UTC
    time.tzset()
    assert in_words("20301103T230501Z") == "4 Nov 2030, 01:05"
    monkeypatch.undo()
    time.tzset()


def test_a_text_is_kept_once(folder: Path) -> None:
    keep_text(folder, "rocket.toml", "a = 1\n")
    keep_text(folder, "rocket.toml", "a = 1\n")
    assert [v.path.read_text("utf-8") for v in versions(folder, "rocket.toml")] == ["a = 1\n"]


def test_a_file_taken_out_stays_as_a_version_and_is_not_taken_out_when_needed(
    folder: Path,
) -> None:
    text = (folder / "motors/I-c.csv").read_text("utf-8")
    with pytest.raises(ProjectErrors):
        write_files(load(folder), {"motors/I-c.csv": None})
    assert (folder / "motors/I-c.csv").read_text("utf-8") == text
    plans = (folder / "plans.toml").read_text("utf-8").replace('"I-c"', '"H-b"')
    plans = plans.replace('delay_out = "4 s"', 'delay_out = "2 s"')
    gone = {"motors/I-c.csv": None, "motors/I-c.toml": None}
    after = write_files(load(folder), {"plans.toml": plans, **gone})
    assert "I-c" not in after.motor_files and not (folder / "motors/I-c.csv").exists()
    assert versions(folder, "motors/I-c.csv")[-1].path.read_text("utf-8") == text


BALLAST = (
    "rocket.toml:part",
    'kind = "added_mass", name = "shot", station = "60 mm", mass = "40 g"',
)


def test_a_what_if_of_which_one_entry_cannot_be_writes_nothing(folder: Path) -> None:
    before = {f: (folder / f).read_text("utf-8") for f in ("rocket.toml", "plans.toml")}
    writes = [BALLAST, ("plans.toml:plan[morning].delay_out", "99 s")]
    with pytest.raises(ProjectErrors):
        keep(load(folder), writes)
    with pytest.raises(ProjectErrors):
        keep_as_plan(load(folder), "morning", "other", writes)
    assert before == {f: (folder / f).read_text("utf-8") for f in before}


def test_a_plan_says_what_its_motor_and_field_allow(folder: Path) -> None:
    wanted = {e.key: e.wanted for e in plan_entries(load(folder), "midday")}
    assert wanted["delay_out"].startswith("0 s, or 1 s") and wanted["rail"] == "2.4 m, 3.0 m"
    assert '"visibility"' in wanted["confirmed"]


# --- thrust tables ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "propellant", "words"),
    [
        ("0 0\n50 120\n1500 0", "", "milliseconds"),
        ("time (ms), thrust (N)\n0,0\n0.5,1\n1,0", "", "milliseconds"),
        ("t [s]\tF [lbf]\n0\t0\n0.5\t27\n1\t0", "", "1 lbf is 4.448 N"),
        ("0 0\n0.5 27\n1 0", "100 g", "135 N s"),  # 13.5 N s of 0.1 kg
        ("0 0\n5 0.1\n3 0.2\n0 0.3", "", "Put time first"),
    ],
)
def test_a_thrust_table_in_other_units_is_doubted(text: str, propellant: str, words: str) -> None:
    assert words in " ".join(preview(text, propellant).warnings)


@pytest.mark.parametrize("propellant", ["", "128 g", "moon"])
def test_a_sound_thrust_table_is_not_doubted(folder: Path, propellant: str) -> None:
    table = (folder / "motors/H-b.csv").read_text("utf-8")
    assert preview(table, propellant).warnings == ()


def test_the_curve_is_drawn_to_scale() -> None:
    drawn = thrust_svg((0.0, 1.0, 2.0), (0.0, 100.0, 0.0), 50.0)
    curve = re.search(r'class="curve" d="M([^"]*)"', drawn)
    assert curve
    points = [tuple(map(float, p.split())) for p in curve[1].split("L")]
    (x0, y0), (x1, y1), (x2, y2) = points
    assert x1 - x0 == pytest.approx(x2 - x1, abs=0.11) and y0 == y2 > y1  # printed to 0.1
    mean = re.search(r'class="hair" d="M\S+ ([\d.]+)H', drawn)
    assert mean and float(mean[1]) == pytest.approx((y0 + y1) / 2, abs=0.11)
    assert max(y0, y1) < HEIGHT and "100 N at most" in drawn
