"""The flight page without a browser: what its addresses answer, and what its map may not do."""

import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from starlette.testclient import TestClient

from goodflight.outputs.field_map.clip import clipped_area, clipped_line
from goodflight.outputs.field_map.field_words import landed_words, toward_words, unopened_words
from goodflight.outputs.field_map.labels import Labels, around, within
from goodflight.outputs.field_map.svg import SHAPES, field_svg
from goodflight.outputs.flight.curves import SINGLES, moment
from goodflight.outputs.flight.one_flight_words import beyond_words, failing_words, oddity_words
from goodflight.page.app import make_app
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.landings import Landings, landings_of
from goodflight.studies.questions.one_flight import Failing, Oddity, OneFlight, one_flight

HERE = "http://127.0.0.1:8311"
OURS = {"origin": HERE}
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def client(demo_folder: Path) -> Iterator[TestClient]:
    with TestClient(make_app(demo_folder, 8311), base_url=HERE) as found:
        yield found


@pytest.fixture(scope="module")
def flown(demo_case: Callable[[str], Case]) -> tuple[Landings, OneFlight]:
    case = demo_case("midday")
    return landings_of(case, flights=300), one_flight(case, 17)


def _events(client: TestClient, address: str) -> list[tuple[str, Any]]:
    with client.stream("GET", address) as answer:
        text = "".join(answer.iter_text())
    pairs = [block.split("\n") for block in text.strip().split("\n\n")]
    return [(a.removeprefix("event: "), json.loads(b.removeprefix("data: "))) for a, b in pairs]


def test_bands_then_map_then_delays(client: TestClient) -> None:
    found = _events(client, "/flown?plan=midday&tab=t&wind=5&number=3")
    kept = [(name, sorted(data)) for name, data in found if name != "progress"]
    assert kept == [
        ("part", ["bands", "planned", "times"]),
        ("part", ["field"]),
        ("done", ["delays"]),
    ]
    bands = next(data for name, data in found if "bands" in data)
    height = bands["bands"]["curves"][0]
    assert len(height["close"]["flights"]) == SINGLES and len(bands["bands"]["curves"]) == 5
    assert [c["name"] for c in bands["bands"]["curves"] if "whole" in c] == ["up_m", "speed_m_s"]
    assert bands["planned"]["close"]["up_m"] != bands["bands"]["middle"]["close"]["up_m"]
    field = next(data for name, data in found if "field" in data)["field"]
    assert "flight 3" in field and "outside it" in field


def test_a_moved_control_moves_every_curve_and_the_events(client: TestClient) -> None:
    answer = client.get("/moved?plan=midday&on=flight&tab=u&wind=5").json()["curve"]
    assert len(answer["flight"]["close"]) == 5
    top = re.search(r"apogee <span[^>]*>was [0-9.]+ s, ([0-9]+ m)", answer["parts"]["events"])
    assert top is not None
    assert f"was {top[1]}" in answer["parts"]["middle"]
    still = client.get("/moved?plan=midday&on=flight&tab=u").json()["curve"]
    assert "was" not in still["parts"]["events"] + still["parts"]["middle"]


def test_a_draw_is_told_in_words(client: TestClient) -> None:
    found = client.get("/one-flight?plan=midday&number=17").json()
    assert found["number"] == 17 and "Flight 17 of 2000" in found["words"]
    assert "Lands outside the field" in found["words"] and "What is unusual" in found["words"]
    assert found["line"]["events"][-1]["words"] == "on the ground"


@pytest.mark.parametrize("text", ["0", "2001", "abc", "", "<b>"])
def test_a_number_that_is_no_draw_gets_one_message(client: TestClient, text: str) -> None:
    answer = client.get("/one-flight", params={"plan": "midday", "number": text})
    assert answer.status_code == 200
    assert "a whole number from 1 to 2000" in answer.json()["fault"]
    sheet = client.get("/flight", params={"plan": "midday", "number": text})
    assert sheet.status_code == 200 and "<b>" not in sheet.text.split("fly_one")[1][:600]


def test_stop_is_taken_from_our_own_pages_only(client: TestClient) -> None:
    assert client.post("/stop?tab=x").status_code == 403
    assert client.post("/stop?tab=x", headers=OURS).json() == {"stopped": False}


def _boxes(svg: str) -> list[tuple[str, float, float, float, float]]:
    found = []
    for text in ET.fromstring(svg).iter(f"{SVG}text"):
        words, x, y = text.text or "", float(text.get("x", "0")), float(text.get("y", "0"))
        wide = 6.0 * len(words)  # a little under the mean width of the font at 13 px
        left = {"middle": x - wide / 2, "end": x - wide}.get(text.get("text-anchor", ""), x)
        found.append((words, left, y - 10.0, left + wide, y + 2.0))
    return found


@pytest.mark.parametrize("shape", list(SHAPES))
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_no_name_on_the_map_stands_on_another_or_outside(
    flown: tuple[Landings, OneFlight], shape: str, units: str
) -> None:
    landings, chosen = flown
    text = field_svg(landings, units, shape, chosen)
    svg = text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    boxes, root = _boxes(svg), ET.fromstring(svg)
    width, height = (float(v) for v in root.get("viewBox", "").split()[2:])
    names = [box[0] for box in boxes]
    assert {"pad", "standing maize", "poplar row", "drainage ditch", "flight 17"} <= set(names)
    assert sum(name.endswith((" m", " ft")) for name in names) >= 2  # rings with their distance
    for i, (name, left, top, right, bottom) in enumerate(boxes):
        assert left >= 0 and top >= 0 and right <= width and bottom <= height, name
        for other, l2, t2, r2, b2 in boxes[i + 1 :]:
            assert not (left < r2 and l2 < right and top < b2 and t2 < bottom), (name, other)


def test_the_map_says_how_many_leave_the_field(flown: tuple[Landings, OneFlight]) -> None:
    landings, _ = flown
    said, off = landed_words(landings), int(landings.off_field.sum())
    assert said.startswith(f"{off} of 300 simulated landings under parachute are outside it: ")
    counts = [int(n) for n in re.findall(r"(\d+) (?:over|into)", said)]
    assert sum(counts) == off and counts == sorted(counts, reverse=True)
    assert "bearing" in said and said in field_svg(landings)
    assert "range safety officer" in unopened_words(landings)


def test_a_field_that_is_not_known_is_said_and_how_to_enter_it(
    flown: tuple[Landings, OneFlight],
) -> None:
    landings, _ = flown
    nowhere = np.zeros_like(landings.off_field)
    bare = replace(landings, outline_m=(), keep_outs_m=(), over=(), off_field=nowhere)
    said = landed_words(bare)
    assert "not known" in said and "enter them in the Ledger" in said
    svg = field_svg(bare)
    assert 'class="field"' not in svg and 'class="landed"' in svg


def test_names_find_room_beside_each_other() -> None:
    labels = Labels((0.0, 0.0, 200.0, 100.0))
    spot = (100.0, 50.0)
    places = [labels.place("maize", [spot, *around(spot, "maize")]) for _ in range(4)]
    assert places[0] == spot and None not in places and len(set(places)) == 4
    assert labels.place("a name much longer than its whole map", [spot]) is None


def test_a_name_is_put_inside_what_can_hold_it() -> None:
    frame = (0.0, 0.0, 500.0, 500.0)
    ring = [(100.0, 100.0), (300.0, 100.0), (300.0, 200.0), (100.0, 200.0)]
    assert within(ring, "maize", frame)[0] == (200.0, 150.0)
    assert within([(x, 100.0 + 0.1 * (y - 100.0)) for x, y in ring], "maize", frame) == []


@pytest.mark.parametrize(
    ("odd", "words"),
    [
        (
            Oddity("wind", "value", 6.1, 3.5, "speed", 2.0, 0.95),
            "6.10 m/s, where the middle is 3.50 m/s",
        ),
        (Oddity("drag", "share", 0.12, None, "ratio", 2.0, 0.95), "12 % more"),
        (Oddity("drag", "share", -0.12, None, "ratio", -2.0, 0.95), "12 % less"),
        (
            Oddity("drill", "off", 0.3, None, "time", 2.0, 0.95),
            "0.300 s more than its middle",
        ),
        (
            Oddity("gear", "off", -7.88, None, "speed", -2.0, 0.95),
            "7.88 m/s less than its middle",  # not "-7.88 m/s", which is no speed
        ),
        (
            Oddity("roll", "spreads", -2.0, None, "ratio", -2.0, 0.95),
            "2.0 spreads below its middle",
        ),
    ],
)  # fmt: skip
def test_what_is_odd_is_said_in_the_builders_units(odd: Oddity, words: str) -> None:
    assert oddity_words(odd) == words
    assert beyond_words(odd) == "1 flight in 20 lies as far out"


def test_a_failing_row_says_by_how_much() -> None:
    def row(demand: float, capacity: float, unit: str, worse: bool) -> Failing:
        return Failing("k", "t", "coast", demand, capacity, unit, worse)

    assert failing_words(row(19.0, 18.0, "speed", True)) == (
        "19.0 m/s, where at most 18.0 m/s is allowed"
    )
    assert "at least 1.00 cal" in failing_words(row(0.5, 1.0, "calibre", False))
    assert failing_words(row(76.2, 0.0, "length", True)) == "by 76.2 m"
    assert failing_words(row(1.0, 0.0, "count", True)) == ""


def test_moments_and_bearings_are_short() -> None:
    assert (moment(0.0042), moment(0.2333), moment(108.04)) == ("0 s", "0.23 s", "108 s")
    assert (moment(0.0998), moment(0.996), moment(0.0648)) == ("0.10 s", "1.00 s", "0.06 s")
    assert toward_words(6.28) == "north (bearing 000 deg)"


def test_lines_and_areas_are_cut_at_the_frame() -> None:
    frame = (0.0, 0.0, 10.0, 10.0)
    assert clipped_line([(-5.0, 5.0), (15.0, 5.0)], frame, False) == "M0.0 5.0L10.0 5.0"
    assert clipped_line([(2.0, 2.0), (4.0, 2.0), (4.0, 4.0)], frame) == (
        "M2.0 2.0L4.0 2.0L4.0 4.0L2.0 2.0"
    )
    assert clipped_line([(20.0, 0.0), (20.0, 9.0)], frame) == ""
    corner = clipped_area([(5.0, 5.0), (15.0, 5.0), (15.0, 15.0), (5.0, 15.0)], frame)
    assert sorted(corner) == [(5.0, 5.0), (5.0, 10.0), (10.0, 5.0), (10.0, 10.0)]
    assert clipped_area([(11.0, 1.0), (12.0, 1.0), (12.0, 2.0)], frame) == []
