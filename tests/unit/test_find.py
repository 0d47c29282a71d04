"""Finding a rocket: what is typed, what it narrows, what contradicts, and every way it is shown."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest

from goodflight.cli.shell import run
from goodflight.outputs.find.find_words import light_words, ways_words
from goodflight.outputs.find.gpx import find_gpx
from goodflight.outputs.find.map_svg import SHAPES, find_svg
from goodflight.outputs.find.sheet import find_pdf
from goodflight.outputs.find.text import find_text
from goodflight.outputs.text_page import Terminal
from goodflight.physics.bearings import carried_m
from goodflight.physics.flight import fly_history
from goodflight.physics.flight.registry import PARAMETER_INDEX
from goodflight.physics.sightings import descent_place_m, effective_count, weights_of
from goodflight.project import Project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.finding.asked import Asked, search_of
from goodflight.studies.finding.flock import OPEN, entries_of, flown, gathered, log_weights
from goodflight.studies.finding.sightings import NotSeenError, sightings_of
from goodflight.studies.questions.find import FEW, FindStudy, find
from goodflight.studies.sampling.trials import make_trials, nominal

SEEN = {"apogee": "11.0 s", "canopy": "12.5 s", "landing": "104 s"}
BEARINGS = ("pad: 47 deg compass", "hut (-60, 40): 55 deg true")
GPX = "{http://www.topografix.com/GPX/1/1}"


@pytest.fixture(scope="module")
def found(demo: Project) -> FindStudy:
    """Times by watch, two bearings, place and clock, 600 flights a round."""
    return find(
        demo,
        "midday",
        SEEN,
        bearings=BEARINGS,
        declination="3 deg east",
        pad="11.58, 52.13",
        at="2026-10-17 14:20",
        zone="+2",
        flights=600,
    )


def test_the_patch_shrinks_and_bearings_narrow_it_most(found: FindStudy) -> None:
    areas = [step.area_m2 for step in found.steps]
    assert len(areas) == 7 and all(step.agrees for step in found.steps)
    assert areas[-1] < 0.25 * areas[0]
    assert areas[-1] < areas[-2] < 0.6 * areas[-3]
    assert not found.warnings


def test_the_middle_lies_where_the_bearings_cross_the_flights(found: FindStudy) -> None:
    pad, hut = found.places
    assert math.degrees(pad.bearing_rad) == pytest.approx(50.0, abs=5.0)  # 47 + 3 deg east
    assert math.degrees(hut.bearing_rad) == pytest.approx(55.0, abs=4.0)
    assert found.patches[0].area_m2 < found.search.area_m2


def test_lanes_run_out_along_the_patch_and_start_with_the_likeliest(found: FindStudy) -> None:
    shares = [lane.share for lane in found.lanes]
    assert shares == sorted(shares, reverse=True) and found.left_out == 0
    assert 0.87 < sum(shares) < 1.0  # the patch, and half a spacing beyond its edge
    assert found.spacing_m == 20.0
    away = abs(math.remainder(found.lane_bearing_rad - found.places[0].bearing_rad, 2 * math.pi))
    assert away < math.radians(20.0)
    walked = sum(math.dist(lane.start_m, lane.end_m) for lane in found.lanes)
    assert found.walk_s == pytest.approx(walked / 0.8)


def test_a_walk_finds_no_more_than_lies_near_its_lanes(found: FindStudy) -> None:
    # Koopman's chance is that of a rocket in the patch; the lanes hold `near` of the flights
    near = sum(lane.share for lane in found.lanes)
    strips = found.spacing_m * sum(lane.length_m for lane in found.lanes)
    searched = 1.0 - math.exp(-strips / found.search.area_m2)
    assert found.found == pytest.approx(near * searched, rel=1e-6)


def test_last_light_is_told_with_the_time_left(found: FindStudy) -> None:
    light = found.light
    assert light is not None
    # 17 October at 52.1 N 11.6 E: sunset 18:13 summer time in any almanac, memory; 3 minutes
    hours, minutes = map(int, light.sunset.split(":"))
    assert abs(60 * hours + minutes - (18 * 60 + 13)) <= 3
    last = [int(each) for each in light.last.split(":")]
    assert light.left_s == pytest.approx(60.0 * (60 * last[0] + last[1] - 14 * 60 - 20), abs=60.0)


def test_where_the_sun_does_not_sink_past_dusk_nothing_is_promised(found: FindStudy) -> None:
    light = found.light
    assert light is not None and "left at 14:20" in light_words(found)
    polar = replace(found, light=replace(light, sunset="", last="", left_s=None))
    assert "dark all day" in light_words(polar)  # 21 December at 75 N as well as 21 June


@pytest.mark.parametrize(
    ("at", "zone"), [("2026-10-17 14:20", "+200"), ("2026-10-17 14:20", "1e8"),
                     ("2026-10-17 14:20", "nan"), ("9999-12-31 23:00", "+14")]
)  # fmt: skip
def test_a_clock_that_cannot_be_is_refused(demo: Project, at: str, zone: str) -> None:
    asked = Asked(pad="-179, 52", at=at, zone=zone)
    with pytest.raises(NotSeenError, match="like \\+2"):
        search_of(demo, case_of(demo, "midday"), asked)


def test_every_fault_is_told_at_once(demo: Project) -> None:
    with pytest.raises(NotSeenError) as refusal:
        find(
            demo, "midday", {"apogee": "11 m", "splash": "3 s", "landing": "-4 s"},
            bearings=["52 degrees", "pad: 52 deg compass", "hut: 40 deg true"], wind="4,5 m/s",
            cover="reeds", pad="52", at="noon",
        )  # fmt: skip
    keys = [each["key"] for each in refusal.value.records]
    assert keys == [
        "apogee", "seen", "landing", "bearing", "declination", "bearing", "wind", "cover", "pad",
        "at",
    ]  # fmt: skip


def test_a_compass_bearing_needs_a_declination_and_a_landmark_none() -> None:
    with pytest.raises(NotSeenError, match="without it"):
        sightings_of({}, ["pad: 52 deg compass"])
    west = sightings_of({}, ["pad: 52 deg compass"], "3 deg west").sights[0]
    assert west.degrees == pytest.approx(49.0)
    mark = sightings_of({}, ["hut (0, 100): over 300, 400"]).sights[0]
    assert mark.degrees == pytest.approx(45.0)
    assert mark.error_rad < west.error_rad


def test_a_landing_before_the_canopy_is_refused() -> None:
    with pytest.raises(NotSeenError, match="earlier than the event before it"):
        sightings_of({"canopy": "20 s", "landing": "12 s"})
    early = sightings_of({"apogee": "11 s", "ejection": "10 s"})  # a short delay: it happens
    assert len(early.timed) == 2


def test_a_bearing_of_the_last_sight_needs_its_time() -> None:
    with pytest.raises(NotSeenError, match="the time of that"):
        sightings_of({}, ["last seen pad: 52 deg true"])


def test_what_the_real_wind_outside_its_spread_does_is_said(demo: Project) -> None:
    # planned from 230 deg +- 12: a landing to the south-west, on two bearings, is 15 spreads out
    study = find(
        demo,
        "midday",
        SEEN,
        bearings=["pad: 230 deg true", "hut (-60, 40): 232 deg true"],
        flights=400,
    )
    assert study.effective < FEW
    assert any("wind, motor or delay were not as planned" in each for each in study.warnings)
    assert any("Do not trust" in each for each in study.warnings)
    assert not study.steps[-2].agrees or not study.steps[-1].agrees
    said = find_text(study, Terminal(colour=True))
    assert "contradicts" in said and "padsignal" not in said
    assert "e-" not in ways_words(study) and "under 0.1 %" in ways_words(study)
    right = find(
        demo,
        "midday",
        SEEN,
        bearings=["pad: 230 deg true"],
        wind_from="50 deg ± 12 deg",
        flights=400,
    )
    assert all(step.agrees for step in right.steps)


def test_a_wind_that_was_not_measured_is_said(demo: Project, found: FindStudy) -> None:
    assert found.cautions[0].startswith("The wind is the plan's")
    measured = find(demo, "midday", wind="4 m/s ± 0.4 m/s", flights=100)
    assert measured.cautions[0].startswith("Never take a rocket down")
    assert measured.wind_m_s == 4.0


def test_a_landing_too_soon_for_a_canopy_means_nothing_opened(demo: Project) -> None:
    study = find(demo, "midday", {"apogee": "10.8 s", "landing": "22.5 s"}, flights=400)
    shares = {way.words: way.share for way in study.ways}
    assert shares["canopy open"] < 0.01
    assert study.places[0].distance_m < 250.0  # ballistic: near the pad, not half a kilometre off


def test_more_flights_are_flown_where_few_agree(demo: Project) -> None:
    asked = Asked({"apogee": "11.2 s", "canopy": "12.6 s", "landing": "98 s"},
                  ["pad: 55 deg true"])  # fmt: skip
    search = search_of(demo, case_of(demo, "midday"), asked)
    entries = entries_of(search.sightings)
    near, plain = gathered(search.case, entries, 1500), gathered(search.case, (), 10000, seed=9)
    assert near.prior.size > 3000  # another round or more
    assert near.prior.sum() == pytest.approx(1.0, abs=0.05)  # counted as one population
    middles, variances = [], []
    for flock in (near, plain):
        weights = weights_of(log_weights(flock, entries), flock.prior)
        east = np.nan_to_num(flock.east_m)
        middles.append(float(weights @ east))
        variances.append(float(weights @ (east - middles[-1]) ** 2) / effective_count(weights))
    # the same place: 400 m or so, to three standard errors of both
    assert abs(middles[0] - middles[1]) < 3.0 * sum(variances) ** 0.5


def test_the_way_down_is_that_of_the_flight_model(demo_case: Callable[[str], Case]) -> None:
    # independent of the closed form: the kernel's own time history, without gusts
    case = demo_case("midday")
    alone = nominal(case).parameters[0]
    flown_one = fly_history(replace(case.launch, turbulence=False), alone)
    did, history = flown_one.outcomes, flown_one.history
    exponent = float(alone[PARAMETER_INDEX["wind_exponent"]])
    for share, allowed in ((0.1, 20.0), (0.25, 20.0), (0.5, 10.0), (0.75, 10.0), (0.9, 10.0)):
        time = did["ejection_s"] + share * (did["landing_s"] - did["ejection_s"])
        for way in ("east", "north"):
            opened = carried_m(
                did[f"apogee_{way}_m"],
                did[f"apogee_{way}_m_s"],
                did["ejection_s"] - did["apogee_s"],
            )
            place = descent_place_m(
                time,
                np.array([did["ejection_s"]]),
                opened,
                np.array([did["landing_s"]]),
                np.array([did[f"landing_{way}_m"]]),
                exponent,
            )
            true = float(np.interp(time, history["time_s"], history[f"{way}_m"]))
            assert float(place[0]) == pytest.approx(true, abs=allowed)


def test_a_part_of_the_sample_flies_the_same_alone(demo_case: Callable[[str], Case]) -> None:
    trials = make_trials(demo_case("midday"), 50, 3)
    flock = flown(demo_case("midday"), trials, OPEN, 0.5)
    assert flock.prior.sum() == pytest.approx(0.5)
    assert (flock.canopy[np.isfinite(flock.canopy)] > 0.0).all()


def test_lanes_for_a_receiver(found: FindStudy) -> None:
    tree = ElementTree.fromstring(find_gpx(found))
    assert tree.tag == f"{GPX}gpx" and tree.attrib["version"] == "1.1"
    order = [child.tag.removeprefix(GPX) for child in tree]
    # the schema's order: metadata, waypoints, routes, tracks
    assert order == sorted(order, key=["metadata", "wpt", "rte", "trk"].index)
    routes = tree.findall(f"{GPX}rte")
    assert len(routes) == len(found.lanes)
    first = routes[0].findall(f"{GPX}rtept")
    east, north = found.lanes[0].start_m
    # a degree of latitude at 52 deg is 111.27 km, of longitude 68.6 km, any table of WGS 84
    assert float(first[0].attrib["lat"]) == pytest.approx(52.13 + north / 111270.0, abs=2e-5)
    assert float(first[0].attrib["lon"]) == pytest.approx(11.58 + east / 68490.0, abs=2e-5)


def test_without_the_pads_place_there_is_no_route_file(demo: Project) -> None:
    study = find(demo, "midday", {"landing": "104 s"}, flights=200)
    with pytest.raises(ValueError, match="longitude and latitude"):
        find_gpx(study)
    assert study.light is None
    assert "Last light is not known" in find_text(study)


def test_maps_and_the_sheet(found: FindStudy) -> None:
    for shape in SHAPES:
        drawing = ElementTree.fromstring(find_svg(found, "metric", shape, alone=True))
        assert len(drawing.findall(".//{*}path[@class='lane']")) == len(found.lanes)
        assert len(drawing.findall(".//{*}path[@class='sight']")) == 2
    pdf = pypdfium2.PdfDocument(find_pdf(found, foot=("2026-10-17",)))
    words = pdf[0].get_textpage().get_text_range()
    assert len(pdf) == 1
    for each in ("where to look", "power line", "2026-10-17", "true"):
        assert each in words


def test_the_command_answers_as_text_and_json(
    demo_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = [
        "find",
        str(demo_folder),
        "--plan",
        "midday",
        "--seen",
        "landing=104 s",
        "--bearing",
        "pad: 50 deg true",
        "--flights",
        "200",
    ]
    out = tmp_path / "lanes.gpx"
    assert run([*asked, "--gpx", str(out), "--pad", "11.58,52.13"]) == 0
    assert "Look " in capsys.readouterr().out
    assert out.read_text("utf-8").startswith("<?xml")
    assert run([*asked, "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert record["patches"][1]["share"] == 0.9
    assert record["steps"][2]["agrees"] is True
    assert run([*asked, "--gpx", str(out)]) == 2
    assert "--pad" in capsys.readouterr().err
    assert run([*asked, "--seen", "landing"]) == 2
