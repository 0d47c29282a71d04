"""The search inside the card's file: no network, no server, the same patch as the program's."""

import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from browser.conftest import expect
from goodflight.page.card_file import card_html
from goodflight.page.search_file import search_data
from goodflight.physics.patch import patch_of
from goodflight.physics.sightings import COMPASS_ERROR_RAD, LANDMARK_ERROR_RAD
from goodflight.project import Project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.card import FieldCard, card, carried_for
from goodflight.studies.finding.carried import EACH, Carried, Flown, flock_of
from goodflight.studies.finding.flock import entries_of
from goodflight.studies.finding.sightings import Sight, Sightings, Timed
from goodflight.studies.questions.find import agreeing, find, grounds
from round_lines import holds

PAD = "11.5812, 52.1304"
SEEN = {"apogee": 10.9, "ejection": 11.3, "landing": 104.0}


@pytest.fixture(scope="module")
def made(demo: Project) -> FieldCard:
    return card(demo, "midday", winds=(3.5,), tilts=(), flights=20)


@pytest.fixture(scope="module")
def carried(demo: Project, made: FieldCard) -> Carried:
    return carried_for(case_of(demo, "midday"), made)[0][1]


@pytest.fixture(scope="module")
def phone(
    browser: Any, demo: Project, made: FieldCard, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Any]:
    file: Path = tmp_path_factory.mktemp("search") / "card.html"
    file.write_text(card_html(demo, made, day="2026-03-01"), "utf-8")
    assert file.stat().st_size < 1_000_000
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        offline=True,
        accept_downloads=True,
        timezone_id="Europe/Berlin",
    )
    page, wrong = context.new_page(), []
    page.set_default_timeout(120_000)
    page.on("console", lambda m: wrong.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(file.as_uri())
    yield page
    assert not wrong
    context.close()


def looked(phone: Any, day: Flown, sightings: Sightings, spacing: float = 20.0) -> dict[str, Any]:
    """What the script finds of a day and what was seen."""
    timed = [
        {"event": t.event, "label": t.event, "time": t.time_s, "error": t.error_s}
        for t in sightings.timed
    ]
    last = sightings.time_of("last_seen")
    sights = [
        {
            "who": s.who,
            "from": s.from_m,
            "bearing": s.bearing_rad,
            "error": s.error_rad,
            "last": None if s.landing or last is None else last.time_s,
        }
        for s in sightings.sights
    ]
    asked = {
        "wind": day.wind_m_s,
        "windError": day.wind_sigma_m_s,
        "from": day.wind_from_rad,
        "fromError": day.wind_from_sigma_rad,
        "tilt": day.tilt_rad,
        "azimuth": day.azimuth_rad,
        "opened": sightings.opened,
        "timed": timed,
        "sights": sights,
        "spacing": spacing,
        "people": 1,
    }
    script = """(asked) => {
      const find = JSON.parse(document.getElementById("search").textContent);
      const { in90, in50, points, ...found } = search.look(find, find.carried[0], asked);
      found.steps = found.steps.map((each) => each.area);
      const spots = [];
      for (let e = -1500; e <= 1500; e += 25)
        for (let n = -1500; n <= 1500; n += 25) if (in90(e, n)) spots.push([e, n]);
      return { ...found, spots };
    }"""
    found: dict[str, Any] = phone.evaluate(script, asked)
    return found


def pad_sight(degrees: float, error: float, landing: bool = True) -> Sight:
    return Sight("pad", (0.0, 0.0), math.radians(degrees), error, landing)


TIMES = tuple(Timed(event, time, 0.3) for event, time in SEEN.items())
WIND = (3.5, 0.3, math.radians(230.0), math.radians(12.0))
DAYS = {
    "nothing seen": (Flown(*WIND, math.radians(3.0)), Sightings()),
    "times and a bearing": (
        Flown(*WIND, math.radians(3.0)),
        Sightings(TIMES, (pad_sight(52.0, LANDMARK_ERROR_RAD),)),
    ),
    "leaning across another wind, two observers": (
        Flown(
            5.2, 0.5, math.radians(200.0), math.radians(8.0), math.radians(5.0), math.radians(290.0)
        ),
        Sightings(
            TIMES[:1],
            (
                pad_sight(25.0, COMPASS_ERROR_RAD),
                Sight("hut", (-60.0, 40.0), math.radians(29.0), LANDMARK_ERROR_RAD),
            ),
        ),
    ),
    "lost from sight, no canopy": (
        Flown(*WIND, 0.0),
        Sightings(
            (Timed("last_seen", 25.0, 0.3),), (pad_sight(40.0, COMPASS_ERROR_RAD, False),), False
        ),
    ),
}


@pytest.mark.parametrize("which", DAYS)
def test_the_file_finds_the_patch_that_the_program_finds_of_the_same_flights(
    phone: Any, carried: Carried, which: str
) -> None:
    day, sightings = DAYS[which]
    flock, entries = flock_of(carried, day), entries_of(sightings)
    weights = agreeing(flock, entries)
    ground = grounds(flock, weights, EACH)
    patches = [patch_of(ground, share) for share in (0.5, 0.9)]
    found = looked(phone, day, sightings)
    # two ways of measuring one area on cells of 1/48: by its line, and by points of it
    assert found["area"] == pytest.approx(patches[1].area_m2, rel=0.02)
    assert found["half"] == pytest.approx(patches[0].area_m2, rel=0.04)
    known = np.isfinite(flock.east_m) & (weights > 0.0)
    middle = [
        float(np.average(each[known], weights=weights[known]))
        for each in (flock.east_m, flock.north_m)
    ]
    assert found["middle"] == pytest.approx(middle, abs=0.5)
    ways = [float(weights[flock.kind == kind].sum()) for kind in range(3)]
    assert found["ways"] == pytest.approx(ways, abs=1e-4)
    lines = patches[1].lines_m
    held = {
        (east, north)
        for east in range(-1500, 1501, 25)
        for north in range(-1500, 1501, 25)
        if holds(lines, (float(east), float(north)))
    }
    mine = {(east, north) for east, north in found["spots"]}
    assert len(held ^ mine) <= max(0.03 * len(held), 2)


def test_the_file_agrees_with_a_search_flown_for_the_day(phone: Any, demo: Project) -> None:
    day, sightings = DAYS["times and a bearing"]
    study = find(
        demo,
        "midday",
        {event: f"{time} s" for event, time in SEEN.items()},
        bearings=("pad: 52 deg true",),
        wind="3.5 m/s ± 0.3 m/s",
        wind_from="230 deg ± 12 deg",
        flights=1000,
    )
    found = looked(phone, day, sightings)
    # other flights: 480 put together against some thousand flown where they agree; the patch is
    # about 600 m long, and its middle may lie a tenth of that off
    assert math.dist(found["middle"], study.middle_m) < 60.0
    # of 480 some 13 agree: the area of a normal scatter by its share p, dA / A =
    # sqrt(p / (1 - p) / n) / -ln(1 - p), leaves 36 in 100 open; two of these
    assert found["area"] == pytest.approx(study.search.area_m2, rel=0.72)
    assert found["steps"][0] == pytest.approx(study.steps[0].area_m2, rel=0.15)
    assert found["bearing"] % math.pi == pytest.approx(study.lane_bearing_rad % math.pi, abs=0.15)


def test_it_is_entered_with_a_thumb_kept_and_taken_along(phone: Any, tmp_path: Path) -> None:
    phone.tap("#finding > summary")
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    first, answer = phone.locator("#s-first"), phone.locator("#s-answer")
    expect(first).to_have_text(re.compile("^Look "))  # a fold tells that it opened a moment later
    before = first.text_content()
    expect(answer).to_contain_text("Enter the wind as measured")
    phone.tap("#s-flown button >> nth=0")
    phone.fill("#s-landing", "104")
    phone.fill("#s-bearing1", "52")
    phone.locator("#s-bearing1").blur()
    expect(phone.locator("#s-fault")).to_contain_text("declination")
    expect(first).to_be_empty()
    phone.select_option("#s-kind1", "true")
    phone.fill("#s-wind", "3.5")
    phone.fill("#s-pad", PAD)
    phone.locator("#s-pad").blur()
    expect(first).not_to_be_empty()
    assert first.text_content() != before and not phone.is_visible("#s-fault")
    areas = [
        float(text.split()[0])
        for text in phone.locator("#s-shrinks td:nth-child(2)").all_text_contents()
    ]
    assert len(areas) == 3 and areas == sorted(areas, reverse=True)
    expect(answer).to_contain_text("last light")
    with phone.expect_download() as taken:
        phone.tap("#s-gpx")
    assert taken.value.suggested_filename == "lanes.gpx"
    taken.value.save_as(tmp_path / "lanes.gpx")
    gpx = (tmp_path / "lanes.gpx").read_text("utf-8")
    assert gpx.count("<rte>") == phone.locator("#s-lanes tr").count() > 2
    assert 'lat="52.1304000" lon="11.5812000"><name>pad' in gpx
    kept = first.text_content()
    phone.reload()
    expect(first).to_have_text(kept)
    expect(phone.locator("#s-landing")).to_have_value("104")
    sizes = phone.locator("#seek button:visible, #seek input:visible").evaluate_all(
        "all => all.map((each) => each.getBoundingClientRect())"
        ".map((box) => Math.min(box.width, box.height))"
    )
    assert min(sizes) >= 48
    phone.tap("#s-liftoff")
    phone.tap("[data-stamp=apogee]")
    expect(phone.locator("#s-apogee")).not_to_have_value("")
    expect(phone.locator("#s-landing")).to_have_value("")


def test_what_is_handed_on_is_whole_steps(demo: Project, made: FieldCard, carried: Carried) -> None:
    data = search_data(demo, made)
    assert data["carried"][0]["name"] == "H-b, 2 s out"
    assert sum(data["counts"]) == len(carried.kind) and carried.nodes.dtype == np.int16
