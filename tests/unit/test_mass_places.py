"""Where the mass of a part lies that nobody balanced: no surer than a guess of it."""

from collections.abc import Mapping
from functools import cache
from math import hypot, sqrt
from typing import Any

import pytest
import tomlkit

from goodflight.physics.vehicle import MassItem, mass_items
from goodflight.project import read_project
from goodflight.project.demo import demo_files

GUESS_MM = 10.0  # one standard deviation of a balance point that is guessed (defaults.py)


def items(change: Mapping[str, Mapping[str, Any]]) -> dict[str, MassItem]:
    """Masses of the demo with keys of its parts changed; None takes one out."""
    rocket = tomlkit.parse(demo_files()["rocket.toml"])
    for part in rocket["part"]:
        for key, value in change.get(part["name"], {}).items():
            if value is None:
                part.pop(key, None)
            else:
                part[key] = value
    texts = {**demo_files(), "rocket.toml": tomlkit.dumps(rocket)}
    return {each.name: each for each in mass_items(read_project(texts).rocket(plan="morning"))}


@cache
def unbalanced() -> dict[str, MassItem]:
    names = items({})
    return items({name: {"balance": None} for name in names})


@pytest.mark.parametrize(
    ("name", "sigma_mm"),
    [
        ("nose", GUESS_MM),
        ("sled, logger, battery, camera", GUESS_MM),
        ("coupler", GUESS_MM),  # its bulkheads and bolt lie where they lie
        ("links", 20.0 / sqrt(12.0)),  # anywhere along 20 mm, a flat law
        ("large", GUESS_MM),
        ("main tube", 0.0),  # one wall all along
        ("fins", 0.0),  # a plate, rounded all round
        ("rail guides", 0.0),  # two alike
    ],
)
def test_spread_of_a_balance_point_that_nobody_found(name: str, sigma_mm: float) -> None:
    assert 1e3 * unbalanced()[name].station_sigma_m == pytest.approx(sigma_mm, rel=1e-3)


def test_no_balance_is_no_surer_than_a_guessed_one() -> None:
    names = ("nose", "coupler", "sled, logger, battery, camera", "cord")
    guessed = items({name: {"balance": "400 mm guess"} for name in names})
    for name in names:
        assert unbalanced()[name].station_sigma_m >= guessed[name].station_sigma_m


def test_fins_of_unknown_edges_lie_no_surer_than_a_guess() -> None:
    found = items({"fins": {"balance": None, "edges": None}})["fins"]
    assert 1e3 * found.station_sigma_m == pytest.approx(GUESS_MM)


def test_what_weighs_nothing_has_no_place() -> None:
    found = items({"nose": {"balance": None, "mass": "0 g guess"}})["nose"]
    assert found.station_sigma_m == 0.0


@pytest.mark.parametrize(
    ("name", "key", "front_mm"), [("large", "roll", 580.0), ("cord", "stowed_length", 600.0)]
)
def test_a_pack_of_unknown_length_lies_in_the_middle_of_where_it_may(
    name: str, key: str, front_mm: float
) -> None:
    """By hand: its bay ends at 945 mm; its middle is anywhere up to half the room behind its front.

    A flat law over half the room: its middle a quarter of it on, its spread that half / sqrt(12).
    """
    found = items({name: {"balance": None, key: None}})[name]
    room = 945.0 - front_mm
    assert 1e3 * found.station_m == pytest.approx(front_mm + room / 4.0)
    assert 1e3 * found.station_sigma_m == pytest.approx(
        hypot(GUESS_MM, room / 2.0 / sqrt(12.0)), rel=1e-3
    )


def test_a_pack_in_no_bay_lies_ahead_of_what_stops_it() -> None:
    """By hand: the motor tube's front is at 960 mm, the forward ring at 963 mm."""
    bay = {"parachute bay": {"holds": None, "station": "700 mm", "length": "100 mm"}}
    found = items({**bay, "large": {"balance": None, "roll": None}})["large"]
    assert 1e3 * found.station_m == pytest.approx(580.0 + (960.0 - 580.0) / 4.0)
