"""The scale page: weighings entered with ticks, refused where they contradict."""

import html
import pkgutil
import re
from importlib import import_module
from pathlib import Path
from urllib.parse import unquote_plus

import pytest
from starlette.testclient import TestClient

from goodflight.interface import new
from goodflight.outputs.scale.instruments import KINDS, SAID, drawing_of
from goodflight.page.app import make_app
from goodflight.page.scale_page import FIELD_PAPERS
from goodflight.physics.vehicle import combine
from goodflight.project import load
from goodflight.studies import sampling
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling.quantity import Measured
from sample_case import MOTOR_TOLD

HERE = "http://127.0.0.1:8311"


@pytest.fixture
def page(folder: Path) -> TestClient:
    return TestClient(make_app(folder, 8311, flights=200), base_url=HERE, headers={"origin": HERE})


def form_of(text: str) -> dict[str, str]:
    found = re.search(r'name="hash" value="(\w+)"', text[text.index('action="/weigh') :])
    assert found
    ticked = re.findall(r'name="(on:[^"]+)"[^>]* checked', text)
    return {"hash": found[1], "state": "all", **{html.unescape(n): "on" for n in ticked}}


def test_a_whole_without_a_part_is_entered(page: TestClient, folder: Path) -> None:
    text = page.get("/scale").text
    assert "whole rocket without motor" in text and "What this changed" in text
    form = form_of(text)
    assert "on:large" in form and "on:small" not in form  # as the first plan flies it
    del form["on:cord"]
    # 1461 g less the 150 g of the cord
    answer = page.post("/weigh", data={**form, "mass": "1311 g ± 2 g"}, follow_redirects=False)
    assert answer.status_code == 303
    last = load(folder).weighings.weighing[-1]
    assert (last.what, last.without) == (["all"], ["cord"])
    assert "without cord" in page.get("/scale").text


def test_what_contradicts_the_rest_comes_back_with_the_reason(
    page: TestClient, folder: Path
) -> None:
    before = (folder / "weighings.toml").read_text(encoding="utf-8")
    form = form_of(page.get("/scale").text)
    answer = page.post("/weigh", data={**form, "mass": "1200 g ± 2 g"})
    assert answer.status_code == 422
    assert "left off the scale" in answer.text and 'value="1200 g ± 2 g"' in answer.text
    wrong = page.post("/weigh", data={**form, "mass": "heavy"})
    assert wrong.status_code == 422 and "expected" in wrong.text
    nothing = page.post("/weigh", data={"hash": form["hash"], "mass": "10 g"})
    assert nothing.status_code == 422 and "Tick what was on the scale" in nothing.text
    assert (folder / "weighings.toml").read_text(encoding="utf-8") == before


def test_the_picture_shows_what_is_on_the_scale(page: TestClient) -> None:
    text = page.get("/scale").text
    lit = set(re.findall(r'data-part="([^"]+)" class="part [a-z_]+ on"', text))
    dark = set(re.findall(r'data-part="([^"]+)" class="part [a-z_]+"', text))
    assert {"nose", "main tube", "fins", "cord", "rail guides"} <= lit
    assert dark == {"motor"}
    form = form_of(text)
    del form["on:cord"]  # a text that is no mass: the form comes back with the picture as it was
    again = page.post("/weigh", data={**form, "motor": "H-b", "mass": "heavy"}).text
    assert 'data-part="cord" class="part cord"' in again
    assert 'data-part="motor" class="part motor on"' in again


def test_a_swing_and_an_instrument_are_entered(page: TestClient, folder: Path) -> None:
    form = form_of(page.get("/scale").text)
    swing = {"swing.spacing": "400 mm", "swing.wires": "1.2 m", "swing.period": "3.91 s ± 0.02 s"}
    new = {"new_instrument": "kitchen scale", "calibration": "0.4 %", "date": "2026-10-10"}
    answer = page.post(
        "/weigh", data={**form, **swing, **new, "motor": "H-b"}, follow_redirects=False
    )
    assert answer.status_code == 303
    known = load(folder).weighings
    assert [each.name for each in known.instrument] == ["kitchen scale"]
    last = known.weighing[-1]
    assert last.swing is not None and last.swing.period.value == pytest.approx(3.91)
    assert (last.instrument, last.motor, last.date) == ("kitchen scale", "H-b", "2026-10-10")
    text = page.get("/scale").text
    assert ", swing, 2026-10-10" in text and "<option>kitchen scale</option>" in text
    wrong = page.post("/weigh", data={**form_of(text), **swing, "swing.period": "soon"})
    assert wrong.status_code == 422 and "swing.period" in wrong.text


def test_ballast_is_asked_tried_and_kept(page: TestClient, folder: Path) -> None:
    before = (folder / "rocket.toml").read_text(encoding="utf-8")
    text = page.get("/scale?margin=2.4+cal").text
    assert "is enough for a margin of 2.40 cal" in text and "How it is fixed" in text
    assert "/ledger?plan=morning&amp;ballast=0.04" in text
    assert "no ballast is needed" in page.get("/scale?margin=1").text.lower()
    for wrong in ("much", "0", "99"):
        answer = page.get(f"/scale?margin={wrong}")
        assert answer.status_code == 200 and "expected" in answer.text
    assert (folder / "rocket.toml").read_text(encoding="utf-8") == before
    place = html.unescape(re.findall(r'action="(/keep[^"]+)"', text)[-1])
    data = {"hash": form_of(text)["hash"], "page": "scale"}
    assert page.post(place, data=data, follow_redirects=False).status_code == 303
    assert any(part.name == "added nose ballast" for part in load(folder).parts)


def test_every_instrument_of_a_quantity_has_a_drawing() -> None:
    found = set()
    for module in pkgutil.iter_modules(sampling.__path__):
        for each in vars(import_module(f"goodflight.studies.sampling.{module.name}")).values():
            way = getattr(each, "measured_by", None)
            if isinstance(way, Measured):
                found.add(way.instrument)
    assert len(found) > 20
    assert found - set(KINDS) == set()
    for kind in SAID:
        assert drawing_of(next(i for i, k in KINDS.items() if k == kind)).startswith("<svg")


def test_sheets_are_printed_and_asked_about(page: TestClient) -> None:
    text = page.get("/scale").text
    assert "out of date since the last weighing" in text
    made = page.get("/paper/labels.pdf?plan=morning")
    assert made.status_code == 200 and made.content[:5] == b"%PDF-"
    for what in FIELD_PAPERS:
        assert f"/paper/{what}.pdf" in text
    made = page.get("/paper/evidence.pdf?plan=morning")
    assert made.status_code == 200 and made.content[:5] == b"%PDF-"
    assert page.get("/paper/nothing.pdf").status_code == 404
    small = page.get("/paper/packing.pdf?paper=a5")
    box = re.search(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]", small.content)
    assert box is not None
    assert sorted(float(each) / 72 * 25.4 for each in box.groups()) == pytest.approx(
        [148.0, 210.0], abs=0.2
    )  # ISO 216, A5
    assert page.get("/paper/packing.pdf?paper=a0").status_code == 422
    now = re.findall(r"figures ([0-9A-F]{4} [0-9A-F]{4})", text)[-1]
    assert "still holds: labels" in page.get(f"/scale?stamp={now.lower()}").text
    assert "printed from other figures" in page.get("/scale?plan=morning&stamp=00000000").text
    assert "foot of the sheet" in page.get("/scale?stamp=what").text


def test_a_newcomers_weighing_is_right_at_the_first_try(tmp_path: Path) -> None:
    """What the form ticks by itself, 2150 g and 905 mm typed: that is the rocket, nothing added."""
    answers = {
        "nose_length": "400 mm", "diameter": "102 mm", "body_length": "1.2 m",
        "separation": "700 mm", "mass": "2510 g", "balance": "950 mm",
        "motor_tube": "38.4 mm", "guide_fore": "1000 mm", "guide_aft": "1500 mm",
    }  # fmt: skip
    new(tmp_path / "first", MOTOR_TOLD | answers)
    app = make_app(tmp_path / "first", 8311, flights=100)
    page = TestClient(app, base_url=HERE, headers={"origin": HERE})
    form = form_of(page.get("/scale").text)
    answer = page.post(
        "/weigh", data={**form, "mass": "2150 g", "balance": "905 mm"}, follow_redirects=False
    )
    assert answer.status_code == 303
    whole = combine(list(case_of(load(tmp_path / "first")).items))
    assert whole.mass_kg == pytest.approx(2.150, abs=0.005)
    assert whole.cg_m == pytest.approx(0.905, abs=0.002)
    text = page.get("/scale").text
    assert "360 g less and 45 mm ahead of where the design balances" in text
    assert "to look up or decide" in text  # what nobody has entered, apart from what is measured


def test_a_reading_is_entered_in_lines_and_refused_with_the_reason(
    page: TestClient, folder: Path
) -> None:
    text = page.get("/scale").text
    found = re.search(r'name="hash" value="(\w+)"', text[text.index('action="/measure') :])
    assert found and '<option value="separation.pull"' in text and "how the fins stand" in text
    assert '<option value="crush" title=' in page.get("/scale?of=crush").text
    assert re.search('value="crush"[^>]* selected', page.get("/scale?of=crush").text)
    before = (folder / "weighings.toml").read_text(encoding="utf-8")
    form = {"hash": found[1], "of": "separation.pull", "error": "1 N", "note": "two turns of tape"}
    wrong = page.post("/measure", data={**form, "read": "31 N\n33 N\n320 N"})
    assert wrong.status_code == 422 and "as the other readings have it" in wrong.text
    assert "320 N</textarea>" in wrong.text
    assert page.post("/measure", data={**form, "read": " "}).status_code == 422
    unit = page.post("/measure", data={**form, "read": "31 kg"})
    assert unit.status_code == 422 and "write kgf for a force" in unit.text
    assert (folder / "weighings.toml").read_text(encoding="utf-8") == before
    answer = page.post("/measure", data={**form, "read": "31 N\r\n33 N"}, follow_redirects=False)
    assert answer.status_code == 303
    last = load(folder).weighings.reading[-1]
    assert (last.of, last.read, last.note) == (
        "separation.pull",
        ["31 N", "33 N"],
        "two turns of tape",
    )
    shown = page.get("/scale").text
    assert "Measured, beside what the design says" in shown and "two turns of tape" in shown


def test_what_to_measure_next_leads_to_its_reading(folder: Path) -> None:
    app = make_app(folder, 8311, flights=1000)
    page = TestClient(app, base_url=HERE, headers={"origin": HERE})
    names = re.findall(r'of=([^"#]+)#measure">enter a reading<', page.get("/scale").text)
    assert names
    chosen = re.search(r'value="([^"]+)"[^>]* selected', page.get(f"/scale?of={names[0]}").text)
    assert chosen and chosen[1] == unquote_plus(names[0])
