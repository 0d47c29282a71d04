"""What a row asks for is written where it stands, and a new project can be answered to the end."""

import json
import re
from pathlib import Path

import pytest

import goodflight.studies.rows
from goodflight import load
from goodflight.project import ProjectErrors, SaveRefused, write_project
from goodflight.project.answering import answer, home_of
from goodflight.project.faults import Fault
from goodflight.project.newcomer import project_files
from goodflight.project.outline_typed import corners_of
from goodflight.project.part_forms import new_part
from goodflight.studies.asking import asked, entry, together
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.results import Entry
from goodflight.studies.sampling.flights import fly_trials

PLAN, FIELD, BUILD, ROCKET = (
    "plans.toml:plan[first flight].",
    "sites/field.toml:",
    "build.toml:",
    "rocket.toml:",
)
CONFIRM = "night airport visibility notice airspace permission responsible fire"
ANSWERS: dict[str, str | tuple[str, ...]] = {
    "motors/placeholder.toml:max_liftoff_mass": "4 kg", "motors/placeholder.toml:charge": "1 g",
    FIELD + "code": "us", FIELD + "ceiling": "800 m", FIELD + "people": "500 m",
    FIELD + "spectators": "60 m",
    FIELD + "outline[field]": "west 140 m, east 500 m, south 110 m, north 450 m",
    FIELD + "nothing_to_avoid": "true", PLAN + "day.cloud_base": "900 m",
    PLAN + "day.cloud_cover": "0.4", PLAN + "pad_wait": "30 min",
    ROCKET + "device[+].name": "altimeter", ROCKET + "device[+].run_time": "5 h",
    ROCKET + "separation.pull": "30 N measured", ROCKET + "separation.fore_anchor": "1500 N",
    ROCKET + "separation.aft_anchor": "1500 N", ROCKET + "separation.bulkhead": "1500 N",
    ROCKET + "separation.edge": "kraft", ROCKET + "retention.kind": "cap",
    ROCKET + "retention.holds": "600 N", ROCKET + "charge.wadding": "true",
    ROCKET + "part[rail guides].strength": "300 N", ROCKET + "part[canopy].lines": "6 x 1.1 m",
    ROCKET + "part[canopy].line_strength": "450 N", ROCKET + "part[cord].width": "14 mm",
    BUILD + "joint[+].parts": ("fins", "motor tube"), BUILD + "joint[+].name": "fins",
    BUILD + "joint[+].glue": "epoxy", BUILD + "glue[+].cure": "24 h",
    BUILD + "glue[+].working_time": "40 min", BUILD + "joint[+].work": "20 min",
    BUILD + "joint[+].stay[+].temperature": "18 degC", BUILD + "joint[+].stay[+].time": "7 d",
    BUILD + "painted": "false", BUILD + "fin_limit": "1 deg",
    BUILD + "check[+].name": "screws", BUILD + "check[+].state": "tight",
    BUILD + "step[+].name": "fitted", BUILD + "step[+].fits": ("cord",),
    BUILD + "step[+2].name": "closed", BUILD + "step[+2].closes": ("cord",),
}  # fmt: skip
PARTS = {
    "coupler": {
        "name": "coupler", "station": "385 mm", "length": "150 mm", "outer_diameter": "75.8 mm",
        "inner_diameter": "72.8 mm", "mass": "60 g", "material": "kraft_tube",
    },
    "ring": {
        "name": "ring", "station": "1000 mm", "thickness": "4 mm", "outer_diameter": "76 mm",
        "inner_diameter": "40.4 mm", "mass": "12 g", "material": "birch_plywood_4mm",
    },
}  # fmt: skip


def first_project(folder: Path) -> Path:
    write_project(folder / "first", project_files({}))
    return folder / "first"


def unknown(folder: Path) -> list[Evaluated]:
    rows = evaluate(fly_trials(case_of(load(folder), None), 20, 1))
    return [row for row in rows if not row.known and not row.not_here]


def test_every_row_that_is_not_known_asks_for_what_it_waits_for(tmp_path: Path) -> None:
    rows = unknown(first_project(tmp_path))
    assert len(rows) > 10
    for row in rows:
        assert row.asks, row.limit.key
        for each in row.asks:
            assert each.label and each.file and each.place and each.how, (row.limit.key, each)
            assert (each.kind in ("choice", "names", "part")) == bool(each.choices), each
            assert each.kind != "figure" or each.dimension, each


def test_no_row_says_what_is_missing_in_words_alone() -> None:
    """Rows ask through `asking`; a bare Missing("...") would have no box."""
    folder = Path(goodflight.studies.rows.__file__).parent
    found = [
        f"{path.name}: {line.strip()}"
        for path in (*folder.glob("*.py"), folder.parent / "packing.py")
        for line in path.read_text("utf-8").split("\n")
        if re.search(r"\bMissing\(", line)
    ]
    assert found == []


def test_a_new_project_is_answered_to_the_end(tmp_path: Path) -> None:
    folder = first_project(tmp_path)
    wanted = {
        f"{e.file}:{e.place}" for row in unknown(folder) for e in row.asks if e.kind != "part"
    }
    assert set(ANSWERS) - {PLAN + f"confirmed[{key}]" for key in CONFIRM} <= wanted | {
        FIELD + "spectators", PLAN + "day.cloud_cover",  # asked once the code set is named
    }  # fmt: skip
    project = answer(load(folder), ANSWERS)
    for kind, entries in PARTS.items():
        project = new_part(project, kind, entries, "aft tube")
    left = {f"{e.file}:{e.place}" for row in unknown(folder) for e in row.asks}
    rules = {PLAN + f"confirmed[{key}]": "confirmed" for key in CONFIRM.split()}
    assert left == {*rules, FIELD + "airport"} and "spectators" not in str(left)
    answer(load(folder), rules)
    assert [row.limit.key for row in unknown(folder)] == []


def test_new_tables_lists_and_answers_are_written_in_their_place(tmp_path: Path) -> None:
    folder = first_project(tmp_path)
    old = (folder / "rocket.toml").read_text("utf-8")
    answer(load(folder), ANSWERS)
    build = (folder / "build.toml").read_text("utf-8")
    assert 'stay = [{ temperature = "18 degC", time = "7 d" }]' in build
    assert '[[glue]]\nname = "epoxy"' in build and build.count("[[step]]") == 2
    new = (folder / "rocket.toml").read_text("utf-8")
    assert [line for line in old.split("\n") if "#" in line] == [
        line for line in new.split("\n") if "#" in line
    ]
    ring = json.loads((folder / "sites" / "field.geojson").read_text("utf-8"))["features"][0]
    assert ring["properties"] == {"role": "field"}
    assert ring["geometry"]["coordinates"][0][2] == [500.0, 450.0]
    keep_out = "maize: 500 -110; 700 -110; 700 450; 500 450"
    answer(load(folder), {FIELD + "outline[keep_out]": keep_out})
    site = load(folder).site("field")
    assert [name for name, _ in site.keep_outs_m] == ["maize"] and len(site.outline_m) == 4


def test_a_rule_moves_from_one_list_to_the_other(tmp_path: Path) -> None:
    folder = first_project(tmp_path)
    answer(
        load(folder), {PLAN + "confirmed[fire]": "denied", PLAN + "confirmed[night]": "confirmed"}
    )
    says = load(folder).plan().says
    assert (says.confirmed, says.denied) == (["night"], ["fire"])
    answer(load(folder), {PLAN + "confirmed[fire]": "confirmed"})
    says = load(folder).plan().says
    assert (sorted(says.confirmed), says.denied) == (["fire", "night"], [])


def test_a_fault_is_told_at_its_box_and_nothing_is_written(tmp_path: Path) -> None:
    folder = first_project(tmp_path)
    before = {path: path.read_bytes() for path in folder.rglob("*.toml")}
    typed = {
        FIELD + "ceiling": "high", BUILD + "joint[+].name": "fins", BUILD + "joint[+].glue": "none",
        BUILD + "joint[+].parts": ("fins",), BUILD + "joint[+].stay[+].time": "soon",
        ROCKET + "device[+].run_time": "5 h",
    }  # fmt: skip
    with pytest.raises(ProjectErrors) as caught:
        answer(load(folder), typed)
    at = [home_of(fault, tuple(typed)) for fault in caught.value.faults]
    assert FIELD + "ceiling" in at and BUILD + "joint[+].stay[+].time" in at
    assert ROCKET + "device[+].run_time" in at and None not in at  # a device without a name
    assert {path: path.read_bytes() for path in folder.rglob("*.toml")} == before
    with pytest.raises(SaveRefused, match=r"no file motors/none\.toml"):
        answer(load(folder), {"motors/none.toml:charge": "1 g"})
    elsewhere = Fault("plans.toml", 3, "plan[first flight].rail", "x", "y", "z")
    assert home_of(elsewhere, tuple(typed)) is None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("500 -110; 700 -110; 700 450", ("", ((500.0, -110.0), (700.0, -110.0), (700.0, 450.0)))),
        ("maize: (0, 0)\n10 0\n10 10\n0 0", ("maize", ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)))),
        ("west 10 m, east 100 ft, south 5 m, north 1 m",
         ("", ((-10.0, -5.0), (30.48, -5.0), (30.48, 1.0), (-10.0, 1.0)))),
    ],
)  # fmt: skip
def test_corners_are_read_as_typed(text: str, found: object) -> None:
    name, corners = corners_of(text)
    assert (name, tuple((round(x, 6), round(y, 6)) for x, y in corners)) == found


@pytest.mark.parametrize(
    ("text", "words"),
    [("500 -110; 700 -110", "2 corners"), ("1 2; here; 3 4", "here"), ("west 5 m", "west"),
     ("west five m, east 1 m, south 1 m, north 1 m", "west five m")],
)  # fmt: skip
def test_what_is_no_outline_is_named(tmp_path: Path, text: str, words: str) -> None:
    folder = first_project(tmp_path)
    with pytest.raises(ProjectErrors) as caught:
        answer(load(folder), {FIELD + "outline[field]": text})
    (fault,) = caught.value.faults
    assert words in fault.found and "west 140 m" in fault.expected
    assert home_of(fault, (FIELD + "outline[field]",)) == FIELD + "outline[field]"


def test_what_is_missing_in_two_places_is_asked_for_at_once() -> None:
    def box(key: str) -> Entry:
        return entry(f"rocket.toml:{key}", f"the {key}", "measure it", "mass", "scale", 1.0)

    first, second = asked("do one", box("a")), asked("do two", box("b"), box("a"))
    both = together(first, 3.0, None, second)
    assert both is not None and both.words == "do one; also needed: the b"
    assert [each.place for each in both.asks] == ["a", "b"]
    again = together(both, asked("do three", box("c")))
    assert again is not None and again.words == "do one; also needed: the b, the c"
    assert together(1.0, None) is None and together(None, first) is first
