"""What a row asks for is written where it stands, and a new project can be answered to the end."""

import json
import re
from pathlib import Path

import pytest

import goodflight.studies.rows
from goodflight import load
from goodflight.project import ProjectErrors, SaveRefused, write_files, write_project
from goodflight.project.answering import answer, home_of
from goodflight.project.faults import Fault
from goodflight.project.newcomer import project_files
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.newcomer_known import KNOWN, check_known
from goodflight.project.outline_typed import corners_of
from goodflight.quantity import QuantityError
from goodflight.studies.asking import asked, entry, together
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.questions.scale import entered
from goodflight.studies.results import Entry
from goodflight.studies.sampling.flights import fly_trials
from sample_case import KNOWN_ANSWERS, MOTOR_TOLD

PLAN, FIELD, BUILD, ROCKET = (
    "plans.toml:plan[first flight].",
    "sites/field.toml:",
    "build.toml:",
    "rocket.toml:",
)
CONFIRM = "night airport visibility notice airspace permission responsible fire"
ANSWERS: dict[str, str | tuple[str, ...]] = {
    "motors/H-told.toml:max_liftoff_mass": "4 kg", "motors/H-told.toml:charge": "1 g",
    FIELD + "code": "us", FIELD + "ceiling": "800 m", FIELD + "people": "500 m",
    FIELD + "spectators": "60 m",
    FIELD + "outline[field]": "west 140 m, east 500 m, south 110 m, north 450 m",
    FIELD + "nothing_to_avoid": "true", PLAN + "day.cloud_base": "900 m",
    PLAN + "day.cloud_cover": "0.4", PLAN + "pad_wait": "30 min",
    ROCKET + "device[+].name": "altimeter", ROCKET + "device[+].run_time": "5 h",
    ROCKET + "device[+].recording": "4 h",
    ROCKET + "separation.pull": "30 N measured", ROCKET + "separation.fore_anchor": "1500 N",
    ROCKET + "separation.aft_anchor": "1500 N", ROCKET + "separation.bulkhead": "1500 N",
    ROCKET + "separation.fixed_joint": "700 N", ROCKET + "retention.kind": "cap",
    ROCKET + "retention.holds": "600 N", ROCKET + "charge.wadding": "true",
    ROCKET + "part[rail guides].strength": "300 N", ROCKET + "part[canopy].lines": "6 x 1.1 m",
    ROCKET + "part[canopy].line_strength": "450 N", ROCKET + "part[cord].width": "14 mm",
    ROCKET + "part[parachute bay].electronics": "false",
    BUILD + "joint[+].parts": ("fins", "forward ring", "middle ring", "rear ring"),
    BUILD + "joint[+].name": "fins",
    BUILD + "joint[+].glue": "epoxy", BUILD + "glue[+].cure": "24 h",
    BUILD + "glue[+].working_time": "40 min", BUILD + "joint[+].work": "20 min",
    BUILD + "joint[+].stay[+].temperature": "18 degC", BUILD + "joint[+].stay[+].time": "7 d",
    BUILD + "painted": "false", BUILD + "fin_limit": "1 deg",
    BUILD + "check[+].name": "screws", BUILD + "check[+].state": "tight",
    BUILD + "step[+].name": "fitted", BUILD + "step[+].fits": ("cord",),
    FIELD + "rail_kind": "25 mm, slot 6 mm",
    ROCKET + "part[rail guides].made_for": "25 mm, slot 6 mm",
    BUILD + "step[+2].name": "closed", BUILD + "step[+2].closes": ("cord",),
}  # fmt: skip


def first_project(folder: Path) -> Path:
    write_project(folder / "first", project_files(MOTOR_TOLD))
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
            assert (each.kind in ("choice", "names", "part", "weighing")) == bool(each.choices), (
                each
            )
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
        FIELD + "spectators",
        PLAN + "day.cloud_cover",  # asked once the code set is named
    }
    answer(load(folder), ANSWERS)
    told = load(folder)
    write_files(told, entered(told, None, ["nose"], {"mass": "210 g"}))
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


def test_a_file_walked_on_a_field_in_metres_brings_its_own_pad(tmp_path: Path) -> None:
    folder = first_project(tmp_path)
    field = folder / "sites" / "field.toml"
    old = field.read_text("utf-8")
    field.write_text(f"pad = [20.0, 10.0]\n{old}", "utf-8")  # metres, no longitude and latitude
    ring = "".join(
        f'<trkpt lon="{x}" lat="{y}"/>'
        for x, y in ((8.998, 49.999), (9.004, 49.999), (9.004, 50.003), (8.998, 50.003))
    )
    drawn = f'<gpx><wpt lon="9" lat="50"/><trk><trkseg>{ring}</trkseg></trk></gpx>'
    answer(load(folder), {FIELD + "outline[field]": drawn})
    # by hand at 50 deg: 0.004 deg of longitude are 287 m, 0.003 deg of latitude 334 m
    assert load(folder).site("field").outline_m[2] == pytest.approx((286.8, 333.7), abs=0.5)


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
    typed: dict[str, str | tuple[str, ...]] = {
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
    elsewhere = Fault(
        "plans.toml", 3, "plan[first flight].rail", found="x", expected="y", advice="z"
    )
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
        return entry(
            f"rocket.toml:{key}",
            f"the {key}",
            how="measure it",
            dimension="mass",
            instrument="scale",
            minutes=1.0,
        )

    first, second = asked("do one", box("a")), asked("do two", box("b"), box("a"))
    both = together(first, 3.0, None, second)
    assert both is not None and both.words == "do one; also needed: the b"
    assert [each.place for each in both.asks] == ["a", "b"]
    again = together(both, asked("do three", box("c")))
    assert again is not None and again.words == "do one; also needed: the b, the c"
    assert together(1.0, None) is None and together(None, first) is first


def test_after_the_form_at_most_eleven_rows_are_not_known(tmp_path: Path) -> None:
    """What is left is asked for in the ledger: glue, steps and fasteners of a rocket not built."""
    assert set(KNOWN_ANSWERS) == {each.id for each in KNOWN}
    write_project(tmp_path / "told", project_files(MOTOR_TOLD | KNOWN_ANSWERS))
    left = unknown(tmp_path / "told")
    assert {row.limit.key for row in left} == {
        "cure", "glue_cold", "working_time", "closed_in", "fasteners",
        "fin_bond", "fin_strike", "thrust_ring", "anchor",  # glue nobody speaks of
        "recording", "electronics_vents",  # of the device whose battery is told
    }  # fmt: skip
    assert all(row.asks for row in left)


def test_what_the_nose_weighs_alone_comes_out_of_the_whole() -> None:
    """1400 g less 240 g of gear by the form, less 180 g: 980 g; more than 1160 g is refused."""
    rocket = project_files({"nose_mass": "180 g ± 2 g measured"})["rocket.toml"]
    nose = rocket.partition('name = "nose"')[2].partition("[[part]]")[0]
    assert 'mass = "180 g ± 2 g measured"' in nose and "within the whole" not in nose
    assert 'mass = "980 g"' in rocket.partition('role = "whole"')[2]
    for wrong, told in (("1200 g", "part of the whole"), ("0 g", "more than 0")):
        with pytest.raises(AnswersError, match=told) as refused:
            project_files({"nose_mass": wrong})
        assert refused.value.question == "nose_mass"


def test_what_stays_empty_is_not_assumed(tmp_path: Path) -> None:
    bare, none = project_files({}), project_files({"battery": "none"})
    assert "build.toml" not in bare and "pull" not in bare["rocket.toml"].split("[separation]")[1]
    assert 'kind = "none"' in none["rocket.toml"]
    assert "each with where to change it" in load(first_project(tmp_path)).head.about


@pytest.mark.parametrize(
    ("answers", "key"),
    [
        ({"edges": "west 10 m, east 5 m, south 1 m, north 900 km"}, "edges"),
        ({"edges": "100 100; 200 100; 200 200"}, "edges"),  # the pad is not inside
        ({"ceiling": "900 km"}, "ceiling"),
    ],
)
def test_an_answer_that_cannot_stand_is_told_at_its_question(
    answers: dict[str, str], key: str
) -> None:
    with pytest.raises(AnswersError) as caught:
        project_files({**answers, "people": "500 m"})
    assert list(caught.value.faults) == [key]


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [("code", "here", "one of: "), ("rules", "all", "some of: night"), ("pull", "hard", "a force"),
     ("edges", "wide", "west 140 m"), ("shield", "none", "an area")],
)  # fmt: skip
def test_what_is_no_answer_is_refused(key: str, text: str, words: str) -> None:
    question = next(each for each in KNOWN if each.id == key)
    with pytest.raises(QuantityError) as caught:
        check_known(question, text)
    assert words in caught.value.expected
    assert check_known(question, "  ") == ""
