"""Reading a project: the demo's numbers, figures and their spreads, schemas, first questions."""

import json
import math
import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from goodflight.physics.motor import grain_item, motor_case_item, total_impulse_ns
from goodflight.physics.vehicle import combine, mass_items
from goodflight.physics.vehicle import parts as p
from goodflight.project import Project, ProjectErrors, load, read_project, sheets
from goodflight.project.demo import demo_files, write_demo
from goodflight.project.lines import lines_of
from goodflight.project.newcomer import QUESTIONS, project_files
from goodflight.project.newcomer_fit import AnswersError
from goodflight.project.outlines import metres_per_degree, read_outline
from goodflight.project.schemas import MODELS, packaged, schema_text
from goodflight.quantity import QuantityError


def test_the_demo_is_the_scenario(demo: Project) -> None:
    """Mass 1.461 kg dry, 1.766 kg and 771.1 mm at lift-off: the scenario's own hand check."""
    assert demo.invented
    assert demo.plans[0].name == "morning"
    assert combine(mass_items(demo.rocket())).mass_kg == pytest.approx(1.461, abs=0.0005)
    motor = demo.motor("H-b")
    tube = next(part for part in demo.rocket().parts if isinstance(part, p.MotorTube))
    whole = combine(
        [
            *mass_items(demo.rocket()),
            motor_case_item(motor, tube.motor_aft_m),
            grain_item(motor, tube.motor_aft_m),
        ]
    )
    assert whole.mass_kg == pytest.approx(1.766, abs=0.0005)
    assert whole.cg_m == pytest.approx(0.7711, abs=0.0005)


def test_the_demo_has_its_invented_motors(demo: Project) -> None:
    """Impulses as printed in the scenario, whole tenths of a newton second."""
    for name, impulse, delay, delays in (("H-a", 168.0, 10, 7), ("H-b", 256.9, 11, 8),
                                        ("I-c", 394.3, 14, 11)):  # fmt: skip
        motor = demo.motors[name]
        assert total_impulse_ns(motor) == pytest.approx(impulse, abs=0.06)
        assert motor.delay_s == delay
        assert motor.delay_out_allowed_s == tuple(float(out) for out in range(delays))
        assert motor.delay_sigma == 0.08
        assert "invented" in motor.source


def test_the_demo_field(demo: Project) -> None:
    site = demo.sites["larkrise"]
    xs, ys = zip(*site.outline_m)
    assert (min(xs), max(xs), min(ys), max(ys)) == (-140, 500, -110, 450)
    assert {name for name, _ in site.keep_outs_m} >= {"standing maize", "drainage ditch"}
    assert (site.elevation_m, site.ceiling_m, site.rail_lengths_m) == (12.0, 760.0, (2.4, 3.0))


def test_a_plan(demo: Project) -> None:
    plan = demo.plan("small motor")
    assert (plan.motor, plan.delay_out_s, plan.rail_length_m, plan.level) == ("H-a", 3.0, 3.0, "L1")
    assert plan.rail_tilt_rad == 0.0
    assert demo.plan("midday").rail_tilt_rad == pytest.approx(math.radians(3))
    assert plan.rail_azimuth_rad is None
    assert plan.day.wind_m_s == 4.5
    assert plan.day.wind_from_sigma_rad == pytest.approx(math.radians(12))
    assert plan.day.temperature_k == pytest.approx(286.15)
    with pytest.raises(KeyError, match=r"plans\.toml has: morning, cloudy, midday"):
        demo.plan("storm")


def test_only_the_plan_s_canopy_flies(demo: Project) -> None:
    canopies = [part.name for part in demo.rocket().parts if isinstance(part, p.Canopy)]
    assert canopies == ["large"]


def test_overrides_reach_physics(demo: Project) -> None:
    changed = demo.rocket(
        {
            "rocket.toml:part[nose].mass": 0.2,
            "rocket.toml:part[nose].length": 0.25,
            "rocket.toml:part[fins].span": 0.09,
            "rocket.toml:part[fins].material.density": 700.0,
        }
    )
    nose, _, main, fins = changed.parts[:4]
    assert nose.mass_kg == 0.2
    assert main.station_m == pytest.approx(0.47)  # the body follows the longer nose
    assert isinstance(fins, p.Fins)
    assert max(y for _, y in fins.outline_m) == 0.09
    assert fins.material is not None
    assert fins.material.density_kg_m3 == 700.0
    assert demo.motor("H-b", {"motors/H-b.toml:loaded": 0.31}).loaded_kg == 0.31
    assert demo.plan("morning", {"plans.toml:plan[morning].day.wind": 9.0}).day.wind_m_s == 9.0
    assert demo.site("larkrise", {"sites/larkrise.toml:ceiling": 500.0}).ceiling_m == 500.0


def test_every_uncertain_path_is_an_override(demo: Project) -> None:
    """Each figure with a spread changes the record it belongs to, and stands on a line."""
    plan = demo.plan("morning")
    before = (demo.rocket(), demo.motor(plan.motor), plan)
    for each in demo.uncertain(plan):
        moved = {each.path: each.value + each.sigma}
        after = (demo.rocket(moved), demo.motor(plan.motor, moved), demo.plan("morning", moved))
        if each.path not in ("motors/H-b.toml:impulse", "rocket.toml:part[large].cloth"):
            assert after != before, each.path
        assert demo.line(each.path) is not None, each.path
        assert each.sigma > 0
        assert math.isfinite(each.value)


def test_spreads_stated_and_by_default(demo: Project) -> None:
    found = {each.path: each for each in demo.uncertain()}
    nose = found["rocket.toml:part[nose].mass"]
    assert (nose.known, nose.sigma) == ("measured", 0.001)  # 1 g is more than 0.5 %
    main = found["rocket.toml:part[main tube].mass"]
    assert (main.known, main.sigma) == ("label", pytest.approx(0.03 * 0.236))
    coupler = found["rocket.toml:part[coupler].mass"]
    assert (coupler.known, coupler.sigma) == ("guess", pytest.approx(0.0095))
    assert found["rocket.toml:part[cord].strength"].sigma == pytest.approx(650.0)
    assert sum(demo.figures.values()) == len(found)
    assert demo.figures["measured"] > 0


def test_imperial_project_is_the_same_rocket() -> None:
    files = demo_files()
    text = files["rocket.toml"].replace('"240 mm"', '"9.448818898 in"')
    files["rocket.toml"] = text.replace('"144 g measured"', '"5.079450514 oz measured"')
    nose = read_project(files).rocket().parts[0]
    assert isinstance(nose, p.Nose)
    assert nose.length_m == pytest.approx(0.24, abs=1e-9)
    assert nose.mass_kg == pytest.approx(0.144, abs=1e-9)


def test_outline_polygon_fins_and_dual_deployment() -> None:
    files = demo_files()
    four = 'root = "150 mm"\ntip = "60 mm"\nspan = "80 mm"\nsweep = "70 mm"'
    polygon = (
        'outline = [["0 mm", "0 mm"], ["70 mm", "80 mm"], ["130 mm", "80 mm"], ["150 mm", "0 mm"]]'
    )
    same = {**files, "rocket.toml": files["rocket.toml"].replace(four, polygon)}
    plain, drawn = read_project(files).rocket(), read_project(same).rocket()
    assert plain == drawn
    dual = files["plans.toml"].replace(
        'canopy = "large"', 'canopy = "small"\nmain = "large"\nmain_height = "150 m"', 1
    )
    dual = dual.replace('deployment = "delay"', 'deployment = "altimeter"', 1)
    plan = read_project({**files, "plans.toml": dual}).plan()
    assert (plan.main, plan.main_height_m, plan.deployment) == ("large", 150.0, "altimeter")
    project = read_project({**files, "plans.toml": dual})
    assert [x.name for x in project.rocket().parts if isinstance(x, p.Canopy)] == [
        "large",
        "small",
    ]


def test_longitude_and_latitude() -> None:
    """At 45 deg a degree is 111 132 m north, 78 847 m east (WGS 84 tables, memory)."""
    per_lon, per_lat = metres_per_degree(45.0)
    assert per_lat == pytest.approx(111132, abs=1)
    assert per_lon == pytest.approx(78847, abs=1)
    ring = [[6.999, 44.999], [7.001, 44.999], [7.001, 45.001], [6.999, 45.001], [6.999, 44.999]]
    feature = {
        "type": "Feature",
        "properties": {"role": "field"},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }
    text = json.dumps({"type": "FeatureCollection", "features": [feature]})
    outline, faults = read_outline("sites/x.geojson", text, True, (7.0, 45.0))
    assert not faults
    assert outline is not None
    assert outline.field_m[0] == pytest.approx((-78.847, -111.132), abs=0.01)


def test_schemas_are_fresh() -> None:
    """Renew with: python -m goodflight.project.schemas"""
    for name, text in packaged().items():
        assert text == schema_text(name), f"{name} is stale"


def test_written_files_hold_to_their_schemas(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    seen = set()
    for path in (tmp_path / "demo").rglob("*.toml"):
        text = path.read_text("utf-8")
        head = text.splitlines()[0]
        assert head.startswith("#:schema ")
        schema_path = (path.parent / head.removeprefix("#:schema ")).resolve()
        schema = json.loads(schema_path.read_text("utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.validate(tomllib.loads(text), schema)
        seen.add(schema_path.name)
    assert seen == {
        "rocket.json",
        "plans.json",
        "motor.json",
        "site.json",
        "weighings.json",
        "build.json",
        "day.json",
    }
    assert seen < set(MODELS)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(
            {"name": "x", "part": [{"kind": "wing"}]}, json.loads(packaged()["rocket.json"])
        )


def test_bench_files() -> None:
    files = demo_files()
    files["build.toml"] = (
        'launch_day = "2030-10-12"\n[[workplace]]\nname = "shed"\ntemperature = "9 degC ± 1"\n'
        '[[step]]\nname = "fillets"\ndone = true\nhours = 3\n[sometable]\nx = 1\n'
    )
    files["flights/one/notes.toml"] = 'plan = "morning"\napogee = "551 m"\nlog = ["log.csv"]\n'
    project = read_project(files)
    assert project.build is not None
    assert project.build.step[0].done
    assert project.notes["one"].log == ["log.csv"]
    assert project.weighings.weighing[1].what == ["all"]
    files["weighings.toml"] += '[[weighing]]\nwhat = ["all"]\n'
    with pytest.raises(ProjectErrors, match="mass, balance or swing"):
        read_project(files)


def test_questions() -> None:
    assert 18 <= len(QUESTIONS) <= 30
    project = read_project(project_files({}))
    assert project.figures["guess"] == sum(project.figures.values())
    whole = combine(mass_items(project.rocket()))
    assert whole.mass_kg == pytest.approx(1.4, abs=0.0005)
    assert whole.cg_m == pytest.approx(0.700, abs=0.0005)


def test_answers_are_checked() -> None:
    with pytest.raises(QuantityError):
        project_files({"mass": "1,4 kg"})
    with pytest.raises(AnswersError, match="between the nose and the tail"):
        project_files({"separation": "3 m"})
    with pytest.raises(AnswersError) as found:
        project_files({"fin_root": "2 m", "balance": "2 m", "body_length": "-980 mm"})
    assert "body_length" in found.value.faults
    files = project_files(
        {"name": 'The "Big" [one]', "diameter": "4 in", "inner_diameter": "3.9 in"}
    )
    assert read_project(files).name == "The Big one"


def test_every_answer_that_does_not_fit_is_named_at_once() -> None:
    """The separation is at 460 mm of 1220 mm, so 760 mm of tube carry the fins."""
    with pytest.raises(AnswersError) as found:
        project_files({"fin_root": "2 m", "balance": "2 m", "wind": "1e9 m/s", "fin_tip": "-1 mm"})
    faults = found.value.faults
    assert set(faults) == {"fin_root", "balance", "wind", "fin_tip"}  # and not the gap behind them
    assert "less than the tube behind it, 760 mm" in faults["fin_root"]
    assert "0 mm to 1220 mm" in faults["balance"]
    assert faults["fin_tip"] == "wanted: 0 or more"


def test_a_whole_that_was_weighed_stays_weighed() -> None:
    """1350 g less canopy (100 g at 1 m) and cord (140 g, as tested) is 1110 g; 5 g stay 5 g.

    The balance of the rest moves 1350/1110 as far as that of the whole: 2.2 mm become 2.68 mm.
    """
    files = project_files({"mass": "1.35 kg ± 5 g measured", "balance": "700 mm ± 2.2 mm measured"})
    rocket = files["rocket.toml"]
    assert 'mass = "1110 g ± 5 g measured"' in rocket
    assert re.search(r'balance = "[0-9.]+ mm ± 2\.68 mm measured"', rocket)
    assert 'mass = "1160 g"' in project_files({})["rocket.toml"]  # a guess stays one


@given(
    st.fixed_dictionaries(
        {
            "diameter": st.integers(60, 160),
            "nose": st.integers(100, 600),
            "fore": st.integers(50, 800),
            "aft": st.integers(400, 1500),
            "mass": st.integers(600, 9000),
            "balance": st.floats(0.3, 0.8),
            "canopy": st.integers(300, 1000),
        }
    )
)
@settings(max_examples=60, deadline=None)
def test_sensible_answers_always_load(values: dict[str, float]) -> None:
    tail = values["nose"] + values["fore"] + values["aft"]
    answers = {
        "diameter": f"{values['diameter']} mm",
        "inner_diameter": f"{values['diameter'] - 3} mm",
        "nose_length": f"{values['nose']} mm",
        "body_length": f"{values['fore'] + values['aft']} mm",
        "separation": f"{values['nose'] + values['fore']} mm",
        "mass": f"{max(values['mass'], 1100)} g",
        "balance": f"{tail * values['balance']:.1f} mm",
        "canopy": f"{values['canopy']} mm across flats",
        "guide_fore": f"{tail * 0.6:.1f} mm",
        "guide_aft": f"{tail - 30} mm",
    }
    project = read_project(project_files(answers))
    assert combine(mass_items(project.rocket())).cg_m == pytest.approx(
        tail * values["balance"] / 1000, rel=2e-3
    )


LINES = """\
# head
a = 1
b.c = "x"     # comment with [brackets] and "quotes"
list = [
  "one",  # first
  { k = 1, m = [1,
     2] },
]
text = \"\"\"
[not a table]
x = 1 \\\"\"\" still\"\"\"

[[part]]
name = 'n1'
[part.sub]
z = 1
[[part]]
"name" = "n2"
[[part.inner]]
q = 2
[[part.inner]]
q = 3
[x.y]
w = 2030-01-01
"""


def test_lines_of_every_key() -> None:
    tomllib.loads(LINES)
    lines = lines_of(LINES)
    wanted = {
        ("a",): 2, ("b", "c"): 3, ("list",): 4, ("list", 0): 5, ("list", 1, "k"): 6,
        ("list", 1, "m", 1): 7, ("text",): 9, ("part", 0): 13, ("part", 0, "name"): 14,
        ("part", 0, "sub"): 15, ("part", 0, "sub", "z"): 16, ("part", 1): 17,
        ("part", 1, "name"): 18, ("part", 1, "inner", 0, "q"): 20,
        ("part", 1, "inner", 1, "q"): 22, ("x", "y"): 23, ("x", "y", "w"): 24,
    }  # fmt: skip
    assert {path: lines.get(path) for path in wanted} == wanted


def test_lines_are_looked_for_where_a_fault_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    looked = list[str]()

    def look(text: str) -> Any:
        looked.append(text)
        raise RecursionError

    monkeypatch.setattr(sheets, "lines_of", look)
    project = read_project(demo_files())
    assert not looked
    assert not project.lines and len(looked) > 3  # brackets within brackets: none has a line
    with pytest.raises(ProjectErrors) as told:
        read_project({**demo_files(), "plans.toml": demo_files()["plans.toml"] + "x = [[[[]]]]\n"})
    assert {fault.line for fault in told.value.faults} == {1}


def test_windows_line_ends_and_byte_order_mark(tmp_path: Path) -> None:
    for name, text in demo_files().items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert load(tmp_path).rocket() == read_project(demo_files()).rocket()
