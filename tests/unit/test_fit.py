"""What cannot be built is a fault with its place; what is doubtful is said beside the answer.

The demo, spoilt in one place each. Expected lengths are sums of its own stations, worked out here.
"""

import re
from pathlib import Path

import pytest

from goodflight.page.view import box_of
from goodflight.project import Fault, ProjectErrors, read_project
from goodflight.project.demo import demo_files
from goodflight.project.saving import write_project
from goodflight.quantity.said import placed, told
from goodflight.studies.case.doubts import doubts_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.motors import motors
from page_client import Page

HEAD = "motors/H-b.toml"
BULKHEAD = """
[[part]]
kind = "bulkhead"
name = "plate"
station = "950 mm"
thickness = "6 mm"
diameter = "75 mm"
mass = "20 g"
"""
TAIL = """
[[part]]
kind = "transition"
name = "boat-tail"
length = "60 mm"
fore_diameter = "79 mm"
aft_diameter = "34 mm"
wall = "2 mm"
mass = "30 g"

# --- fins ---
"""


def spoilt(*changes: tuple[str, str, str]) -> dict[str, str]:
    """The demo's files with texts put in place of others, file by file."""
    files = demo_files()
    for file, find, put in changes:
        assert find in files[file], find
        files[file] = files[file].replace(find, put, 1)
    return files


def faults(*changes: tuple[str, str, str]) -> tuple[Fault, ...]:
    with pytest.raises(ProjectErrors) as caught:
        read_project(spoilt(*changes))
    return caught.value.faults


def long(text: str) -> tuple[str, str, str]:
    return (HEAD, 'length = "203 mm"', f'length = "{text}"')


def test_a_motor_of_900_mm_in_a_mount_of_260_mm_meets_the_coupler() -> None:
    """The coupler ends at 385 + 150 = 535 mm, the motor's aft end is at 1220: 685 mm of way."""
    found = faults(long("900 mm"))
    assert {(f.file, f.key) for f in found} == {
        ("plans.toml", f"plan[{name}].motor") for name in ("morning", "cloudy", "midday", "breezy")
    }
    assert "too long: 900 mm, and coupler is 685 mm ahead of its aft end" in found[0].found
    assert all(f.line > 1 for f in found)


def test_a_bulkhead_ahead_of_the_mount_stops_a_motor_and_a_shorter_one_flies() -> None:
    """The plate's rear face is at 956 mm: 264 mm of way; 258 mm (I-c) goes, 270 mm does not."""
    plate = ("rocket.toml", 'kind = "motor_tube"', 'kind = "motor_tube"')
    add = ("rocket.toml", "# --- fins ---", "# --- fins ---\n" + BULKHEAD)
    read_project(spoilt(plate, add))
    found = faults(add, long("270 mm"))
    assert "plate is 264 mm ahead" in found[0].found
    assert motors(read_project(spoilt(add)), flights=20).rows


def test_a_motor_that_stands_out_of_its_mount_is_said() -> None:
    """Tube from 960 mm, aft end at 1220: of 270 mm, 10 mm stand ahead; the bay ends at 945 mm."""
    said = [str(each) for each in doubts_of(case_of(read_project(spoilt(long("270 mm")))))]
    assert any("10 mm of it stands ahead of motor tube" in each for each in said)
    assert not any("ahead of" in str(each) for each in doubts_of(case_of(read_project(spoilt()))))


def test_an_adapter_makes_a_smaller_motor_fit_and_weighs() -> None:
    thin = (HEAD, 'diameter = "38 mm"', 'diameter = "29 mm"')
    found = faults(thin)
    assert "too narrow: 29 mm wide in a tube of 38.4 mm, it needs an adapter" in found[0].found
    assert "add [adapter] with outer_diameter and mass to motors/H-b.toml" in found[0].advice
    end = 'charge = "1.0 g"                # black powder that fires at the end of the delay\n'
    adapter = (HEAD, end, end + '\n[adapter]\nouter_diameter = "38 mm"\nmass = "60 g"\n')
    project = read_project(spoilt(thin, adapter))
    assert project.motor("H-b").loaded_kg == pytest.approx(0.305 + 0.060)
    wide = (HEAD, end, end + '\n[adapter]\nouter_diameter = "54 mm"\nmass = "60 g"\n')
    assert "54 mm wide with its adapter in a tube of 38.4 mm" in faults(thin, wide)[0].found


def test_a_motor_outside_its_tube_is_a_fault() -> None:
    found = faults(("rocket.toml", 'motor_aft = "1220 mm"', 'motor_aft = "950 mm"'))
    assert "lies outside motor tube" in found[0].found


def test_a_motor_tube_through_a_narrow_tail() -> None:
    """A boat-tail of 34 mm with walls of 2 mm leaves 30 mm for a tube of 41 mm."""
    found = faults(
        ("rocket.toml", 'length = "760 mm"', 'length = "700 mm"'),
        ("rocket.toml", "# --- fins ---", TAIL),
    )
    tube = next(f for f in found if f.key == "part[motor tube].outer_diameter")
    assert tube.expected.startswith("at most 30.0 mm")
    # a solid tail is bored through: its outside counts
    solid = TAIL.replace('wall = "2 mm"', 'wall = "0 mm"')
    found = faults(
        ("rocket.toml", 'length = "760 mm"', 'length = "700 mm"'),
        ("rocket.toml", "# --- fins ---", solid),
    )
    tube = next(f for f in found if f.key == "part[motor tube].outer_diameter")
    assert tube.expected.startswith("at most 34.0 mm")


@pytest.mark.parametrize(
    ("find", "put", "key", "wanted"),
    [
        ('inner_diameter = "41.2 mm"', 'inner_diameter = "40.0 mm"',
         "part[forward ring].inner_diameter", "at least 41.0 mm, the outside of motor tube"),
        ('outer_diameter = "75.9 mm"\ninner_diameter = "41.2 mm"',
         'outer_diameter = "90 mm"\ninner_diameter = "80 mm"',
         "part[forward ring].outer_diameter", "at most 76.0 mm"),
        ('tab = "118 mm x 19 mm"', 'tab = "118 mm x 21 mm"', "part[fins].tab",
         "at most 19.0 mm of depth, from the outside of the body to motor tube"),
    ],
)  # fmt: skip
def test_rings_and_tabs(find: str, put: str, key: str, wanted: str) -> None:
    """Tab: (79.0 - 41.0) / 2 = 19.0 mm."""
    found = next(f for f in faults(("rocket.toml", find, put)) if f.key == key)
    assert found.expected.startswith(wanted)


def test_all_that_does_not_fit_comes_at_once() -> None:
    found = faults(
        ("rocket.toml", 'inner_diameter = "41.2 mm"', 'inner_diameter = "40.0 mm"'),
        ("rocket.toml", 'tab = "118 mm x 19 mm"', 'tab = "118 mm x 21 mm"'),
    )
    assert {f.key for f in found} == {"part[forward ring].inner_diameter", "part[fins].tab"}


TAB, BORE = 'tab = "118 mm x 19 mm"', 'inner_diameter = "41.2 mm"'
WIDE = 'outer_diameter = "75.9 mm"'
CUT = 'separates_at = "460 mm"'
SHAPE = 'shape = "flat_hexagonal"\nacross = "1.00 m across flats"'
EDGE = 'edge = "kraft_glassed"'
ROOM = 'holds = ["blanket", "large", "cord", "links"]'
ROUND = 'across = "1.00 m across flats"'
SHUT = 'mass = "95 g"                 # with both bulkheads and the eyebolt'


@pytest.mark.parametrize(
    ("find", "put", "words"),
    [
        (TAB, 'tab = "118 mm x 15 mm"', "tab of fins: ends 4 mm short of motor tube"),
        (TAB, 'tab = "122 mm x 19 mm"', "tab of fins: stands where rear ring is"),
        (BORE, 'inner_diameter = "44.0 mm"', "bore of forward ring: 3 mm of play on motor tube"),
        (WIDE, 'outer_diameter = "74.0 mm"', "outside of forward ring: 2 mm of play in the body"),
        (CUT, 'separates_at = "490 mm"', "it separates at 490 mm, inside main tube, which is one"),
        (CUT, 'separates_at = "456 mm"', "it separates at 456 mm, inside payload tube, which is"),
        (
            EDGE,
            'edge = "glass"',
            "the edge the cord runs over is said to be glass, main tube kraft",
        ),
        (
            EDGE,
            'edge = "phenolic"',
            "the edge the cord runs over is said to be phenolic, main tube",
        ),
        (ROOM, f'{ROOM}\nfree_volume = "1 L"', "parachute bay: its air is entered, and is read of"),
        (SHAPE, ROUND, "large: its shape is not said, a flat hexagon is taken"),
        (SHUT, "", "coupler: its mass is worked out from its wall; its bulkheads"),
    ],
)
def test_what_is_doubtful_loads_and_is_said(find: str, put: str, words: str) -> None:
    """Tab 1084 to 1206 mm, the rear ring stands at 1203 mm."""
    doubted = read_project(spoilt(("rocket.toml", find, put))).doubts()
    said = [str(each) for each in doubted]
    assert [each for each in said if each.startswith(words)], said
    assert [each for each in map(placed, doubted) if each.endswith(" in rocket.toml)")]
    assert read_project(spoilt()).doubts() == ()


def test_a_doubt_leads_to_its_box_on_the_page_and_names_no_file(tmp_path: Path) -> None:
    write_project(tmp_path / "rocket", spoilt(("rocket.toml", BORE, 'inner_diameter = "44.0 mm"')))
    shown = Page(tmp_path / "rocket").get("/ledger").raw
    words, _, after = shown.partition("it centres nothing until that is filled")
    assert words.endswith("bore of forward ring: 3 mm of play on motor tube; ")
    assert re.match(r' <a href="/drawing\?[^"]*part=forward\+ring#partform">change it</a>', after)


def test_a_doubt_about_no_part_leads_to_its_form_too() -> None:
    assert box_of("rocket.toml:separates_at", None) == "/drawing?head=1#headform"
    assert box_of("rocket.toml:main_separation.at", None) == "/drawing?head=1#headform"
    assert box_of("weighings.toml:weighing[#1].balance", "breezy") == "/scale?plan=breezy"
    assert box_of("rocket.toml:name", None) == ""  # changed in the file


def test_a_label_that_the_curve_misses_is_said_with_the_figure() -> None:
    """The curve of H-b has 256.9 N s; 240 N s on the label is 7 % off, 20 % stays a fault."""
    off = (HEAD, 'impulse = "256.9 N s"', 'impulse = "240 N s"\ndesignation = "I110"')
    said = " ".join(map(str, doubts_of(case_of(read_project(spoilt(off))))))
    assert "its label 240 N s, +7 %" in said
    assert "of mean thrust, its label 110 N" in said and "more than the 20 %" in said
    assert "by its curve a motor of class H, by its label of class I" in said
    assert doubts_of(case_of(read_project(spoilt()))) == ()
    assert faults((HEAD, 'impulse = "256.9 N s"', 'impulse = "205 N s"'))[0].key == "impulse"


@pytest.mark.parametrize("text", ["128", "H", "HB128", "H128-12", "Z9"])
def test_a_designation_is_letter_and_number(text: str) -> None:
    found = faults((HEAD, 'delay = "11 s"', f'designation = "{text}"\ndelay = "11 s"'))
    assert found[0].key == "designation" and "like H128" in found[0].expected


FIELD, PLANS = "sites/larkrise.toml", "plans.toml"
DAY = 'time = "09:00"\n'


def at(height: str, entry: str) -> tuple[tuple[str, str, str], ...]:
    return (
        (FIELD, 'elevation = "12 m measured"', f'elevation = "{height}"'),
        (PLANS, DAY, f"{DAY}{entry}\n"),
    )


def test_a_sea_level_setting_at_a_high_field_is_asked_about() -> None:
    """1013 hPa at 1500 m is 1214 hPa at sea level: no weather has that; standard is 846 hPa."""
    (found,) = faults(*at("1500 m", 'pressure = "1013 hPa"'))
    assert found.key == "plan[morning].day.pressure" and found.line > 1
    assert "about 845.6 hPa" in found.expected
    assert "is it the sea-level setting (QNH)" in found.advice
    assert 'sea_level_pressure = "1013 hPa"' in found.advice


def test_the_setting_gives_the_pressure_at_the_field() -> None:
    """By the standard atmosphere: 1013.25 hPa at sea level, 845.6 hPa at 1500 m."""
    project = read_project(spoilt(*at("1500 m", 'sea_level_pressure = "1013.25 hPa"')))
    assert project.plan().day.pressure_pa == pytest.approx(84556.0, abs=40.0)
    low = read_project(spoilt(*at("1500 m", 'pressure = "846 hPa"')))
    assert low.plan().day.pressure_pa == pytest.approx(84600.0) and low.doubts() == ()


def test_a_pressure_that_is_only_unusual_is_asked_about_and_loads() -> None:
    """1013 hPa at 300 m is 1050 hPa at sea level."""
    said = read_project(spoilt(*at("300 m", 'pressure = "1013 hPa"'))).doubts()
    assert len(said) == 1 and "would be 1050 hPa at sea level" in told(said[0])
    assert told(said[0]).startswith("air pressure of the day: 1013 hPa at a field 300 m above")
    assert "a field 984 ft above the sea would be 31 inHg" in told(said[0], "imperial")
    assert placed(said[0]).endswith("(plan[morning].day.pressure in plans.toml)")
    assert "sea-level setting (QNH)" in told(said[0])
    assert read_project(spoilt(*at("12 m", 'pressure = "1013 hPa"'))).doubts() == ()


def test_two_pressures_and_an_impossible_setting_are_faults() -> None:
    both = faults(*at("1500 m", 'pressure = "846 hPa"\nsea_level_pressure = "1013 hPa"'))
    assert both[0].expected == "one of the two"
    odd = faults(*at("1500 m", 'sea_level_pressure = "846 hPa"'))
    assert "Then write it as pressure" in odd[0].sentence
