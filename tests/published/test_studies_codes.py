"""The limits of the code set against the collected rules; each row says how it is held.

14 CFR 101 Subpart C (seen), NFPA 1127 and its distances (seen where a state's or club's text was
read, else memory). A limit in the code set must say the same word as its row.
"""

import csv
import math
import re
from pathlib import Path

import pytest

from goodflight.studies.case.codes import UNITED_STATES

DATA = Path(__file__).parent / "data"
FOOT = 0.3048


def rows(name: str, key: str) -> dict[str, dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as handle:
        return {row[key]: row for row in csv.DictReader(handle)}


CFR = rows("20_cfr_part101C.csv", "section")
NFPA = rows("17_nfpa_1127_rules.csv", "item")
DISTANCES = rows("18_min_distances.csv", "class")


def test_separation_from_property() -> None:
    row = CFR["101.25(g)"]
    assert "1/4 max expected altitude or 457 m" in row["value"]
    assert UNITED_STATES.property_m is not None and UNITED_STATES.property_share is not None
    assert UNITED_STATES.property_m.value == 457.0
    assert UNITED_STATES.property_share.value == 0.25
    assert UNITED_STATES.property_m.how == row["how"] == "seen"


def test_cloud_cover() -> None:
    row = CFR["101.25(a)"]
    assert "5/10 cloud" in row["value"]
    assert UNITED_STATES.cloud_cover_tenths is not None
    assert (UNITED_STATES.cloud_cover_tenths.value, row["how"]) == (5.0, "seen")


def test_greatest_impulse_of_class_2() -> None:
    found = re.search(r"([\d,]+) N\.s", CFR["101.22(b)"]["value"])
    assert found
    assert UNITED_STATES.level_impulse_ns["L3"].value == float(found[1].replace(",", ""))


def test_rail_angle_and_wind() -> None:
    angle, wind = NFPA["max launch angle from vertical"], NFPA["max surface wind"]
    assert UNITED_STATES.rail_tilt_rad is not None and UNITED_STATES.wind_m_s is not None
    assert math.degrees(UNITED_STATES.rail_tilt_rad.value) == pytest.approx(float(angle["value"]))
    assert UNITED_STATES.rail_tilt_rad.how == angle["how"] == "seen"
    # the row prints 20 mph as 8.9 m/s
    assert wind["unit"].startswith("mph (32 km/h, 8.9 m/s)")
    assert UNITED_STATES.wind_m_s.value == pytest.approx(8.9, abs=0.05)


def test_lift_off_weight() -> None:
    row = NFPA["liftoff weight"]
    assert row["value"] == "<= 1/3 of certified average thrust"
    assert UNITED_STATES.mass_to_thrust is not None
    assert UNITED_STATES.mass_to_thrust.value == pytest.approx(1 / 3)
    assert UNITED_STATES.mass_to_thrust.how == row["how"] == "memory"


def test_levels() -> None:
    assert "L1 up to 640 N.s (H,I); L2 to 5120" in NFPA["levels"]["value"]
    assert UNITED_STATES.level_impulse_ns["L1"].value == 640.0
    assert UNITED_STATES.level_impulse_ns["L2"].value == 5120.0
    assert UNITED_STATES.level_impulse_ns["L1"].how == NFPA["levels"]["how"] == "memory"


def test_site_size() -> None:
    row = rows("19_site_size.csv", "jurisdiction")["US organisation code"]
    assert row["min_dimension"] == "max(1500 ft, altitude/2)"
    assert UNITED_STATES.site_m is not None and UNITED_STATES.site_share is not None
    assert UNITED_STATES.site_m.value == pytest.approx(1500 * FOOT)
    assert (UNITED_STATES.site_share.value, row["how"]) == (0.5, "seen")


@pytest.mark.parametrize("key", list(DISTANCES))
def test_distance_of_the_crew(key: str) -> None:
    row = DISTANCES[key]
    found = next(lim for top, lim in UNITED_STATES.people_m if float(row["max_Ns"]) <= top)
    assert found.value == pytest.approx(float(row["people_simple_ft_seen"]) * FOOT)
