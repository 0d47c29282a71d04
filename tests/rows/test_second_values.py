"""Rows of the separation that lets the main out, by hand, on the rocket of round numbers.

A main of 60 g and its cord of 50 g lie in a bay of 160 mm behind the nose, which slides off its
tube by 80 mm of shoulder, held by 10 N and two nylon pins. Ahead of it: the nose, 0.3 kg; behind
it: 0.2 + 0.1 + 0.1 + 0.8 and the spent case of 0.2, so 1.4 kg.
"""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from pytest import approx

from goodflight.physics.recovery.parting import OUTCOME_INDEX
from goodflight.physics.vehicle import MassItem
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.parts import Bay, Canopy, Cord, Coupler, Nose
from goodflight.project.head.separation import MAIN_UNKNOWN
from goodflight.studies.case.openings import in_order
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import parting, separation_drag
from goodflight.studies.rows.model import Missing
from goodflight.studies.sampling.declared import factors_of
from one_flight import (
    ROWS,
    G,
    air_kg_m3,
    air_pa,
    hand_case,
    judged,
    one_flight,
    sound_m_s,
    with_part,
)
from sample_case import within

BORE = math.pi / 4.0 * 0.076**2
VENT = math.pi / 4.0 * 0.003**2
SOLID = 0.11 / 1140.0
PINS = 2.0 * 54e6 * math.pi / 4.0 * (0.0641 * 0.0254) ** 2  # nylon (sheet) on the root (memory)
HELD = 10.0 + PINS
NOSE, GEAR, REST = 0.3, 0.11, 1.4
FIRED = {"ejection_m": 580.0, "ejection_m_s": 8.0, "ejection_climb_m_s": -7.0, "main_m": 150.0,
         "main_opening_m_s": 18.0, "main_opening_force_n": 500.0}  # fmt: skip


def two_canopies(**changes: Any) -> Case:
    """The rocket of round numbers with a main behind its nose; `changes` to its separation."""
    case = with_part(hand_case(), Nose, shoulder_length_m=0.08)
    main = Canopy(
        "main",
        0.25,
        mass_kg=0.06,
        cloth_area_m2=2.0,
        line_count=8,
        line_strength_n=300.0,
        packed_length_m=0.10,
    )
    cord = Cord(
        "main cord",
        0.30,
        mass_kg=0.05,
        length_m=4.0,
        strength_n=1500.0,
        packed_length_m=0.05,
        elongation_at_break=0.25,
    )
    bay = Bay(
        "main bay",
        0.28,
        length_m=0.16,
        inner_diameter_m=0.076,
        vent_count=1,
        vent_diameter_m=0.003,
        holds=("main", "main cord"),
    )
    holds = replace(
        MAIN_UNKNOWN,
        pull_n=Figure(10.0, 1.0),
        pins=2,
        fore_anchor_n=Figure(800.0, 80.0),
        aft_anchor_n=Figure(900.0, 90.0),
        bulkhead_n=Figure(700.0, 70.0),
        powder_kg=Figure(0.0008, 0.0001),
        blanket_m2=Figure(0.06, 0.01),
    )
    rocket = replace(
        case.rocket,
        parts=(bay, *case.rocket.parts, cord, main),
        main_station_m=0.20,
        main_separation=replace(holds, **changes),
    )
    items = (*case.items, MassItem("main", 0.06, 0.25, 0.0, 0.0),
             MassItem("main cord", 0.05, 0.30, 0.0, 0.0))  # fmt: skip
    found = within(replace(case, rocket=rocket, items=items), "deployment", by=1)
    return within(found, "deployment", main_canopy=main, main_height_m=150.0)


def gas(powder_kg: float = 0.0008) -> tuple[float, float]:
    """Push of the main's charge at first, and its mean over 80 mm of shoulder; no motor tube.

    Step by step as in test_separation_values, with half of what 15 psi leaves of the pack.
    """
    free = BORE * 0.16 - SOLID * (1.0 + 0.5 * (1140.0 / 481.0 - 1.0))
    impetus = 0.87 * 119.26 * 1837.2
    gap = math.pi * 0.076 * 0.0002 / 2.0
    choked = math.sqrt(1.2) * (2.0 / 2.2) ** 5.5
    lost = 0.015 * 0.6 * (VENT + gap) * math.sqrt(impetus) * choked / free
    rise = powder_kg * impetus / free * (1.0 - math.exp(-lost)) / lost
    outside, grown = air_pa(150.0), free / (free + BORE * 0.08)
    work = (rise + outside) * free * (1.0 - grown**0.2) / 0.2 - outside * BORE * 0.08
    return rise * BORE, work / 0.08


def lag_n(speed: float, height: float) -> float:
    """rho / 2 (V w / A H Cd)^2 on the bore, H = R T / g, orifice 0.6 (derived)."""
    hole = (BORE * 0.16 - SOLID) / VENT * speed / (287.053 * 288.15 / G * 0.6)
    return 0.5 * air_kg_m3(height) * hole**2 * BORE


def test_main_fits() -> None:
    """Its own bay and what that holds, and no cord of the other canopy; rolled again 4 %.

    The bay reaches from 280 to 440 mm, and the coupler of these round numbers from 300 to 460 mm
    into it: 20 mm are left. Ahead of the coupler all of it is free.
    """
    view = one_flight(two_canopies(), {}, {"pack_room": 1.0})
    assert judged("main_fits", view) == approx((0.15 * 1.04, 0.16 - 0.14))
    clear = with_part(two_canopies(), Coupler, outer_diameter_m=0.078)  # round the bay, not in it
    assert judged("main_fits", one_flight(clear)) == approx((0.15, 0.16))
    first = 0.08 + 0.10 / 190.0 / BORE  # the first canopy's bay as without a main
    assert judged("gear_fits", one_flight(two_canopies())) == approx((first, 0.30))


def test_main_scorched() -> None:
    """Skin of the pack pi d (l + d / 2) with a quarter of lap (our guess)."""
    view = one_flight(two_canopies(), {}, {"main_blanket_m2": 1.0})
    skin = math.pi * 0.076 * (0.10 + 0.038)
    assert judged("main_scorched", view) == approx((0.07, 1.25 * skin))


def test_main_coast(monkeypatch: pytest.MonkeyPatch) -> None:
    """T = (mf Da - ma Df) / (mf + ma), 0.41 and 1.4 kg, a twentieth of the drag ahead; air lags."""
    monkeypatch.setattr(separation_drag, "share_ahead", lambda rocket, station_m: 0.05)
    climb = {"burnout_m_s": 136.0, "burnout_m": 100.0, "max_speed_m_s": 140.0,
             "max_speed_height_m": 90.0, "apogee_m": 600.0}  # fmt: skip
    drag = 0.5 * air_kg_m3(100.0) * 136.0**2 * (0.5 + 0.001 * 136.0 / sound_m_s(100.0) / 0.02)
    drag *= 0.005
    fore = NOSE + GEAR
    pull = (fore * 0.95 * drag - REST * 0.05 * drag) / (fore + REST)
    found = judged("main_coast", one_flight(two_canopies(), climb, {"main_pin_strength": 1.0}))
    assert found == approx((pull + lag_n(136.0, 100.0), 10.0 + 1.2 * PINS), rel=1e-5)


def told(monkeypatch: pytest.MonkeyPatch, **comes_out: float) -> None:
    """The motion after ejection comes out as stated."""

    def motion(rows: np.ndarray) -> np.ndarray:
        out = np.zeros((len(rows), len(OUTCOME_INDEX)))
        for name, value in comes_out.items():
            out[:, OUTCOME_INDEX[name]] = value
        return out

    monkeypatch.setattr(parting, "part_bodies", motion)
    parting.MOTIONS.forget()


def test_main_early(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nose and main, 0.41 of the 0.61 kg of the forward part, take that share of the jerk."""
    told(monkeypatch, fore_n=300.0, max_n=400.0)
    view = one_flight(two_canopies(), FIRED, {"main_pull_n": 1.0})
    assert judged("main_early", view) == approx((300.0 * 0.41 / 0.61, HELD + 1.0))
    parting.MOTIONS.forget()


def test_main_early_where_the_main_lies_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first canopy leaves behind the nose: the 1.3 kg behind the other joint hang on it.

    Behind 0.40 m: body and case, 1.0 kg, and the gear of 0.2; of the 1.4 + 0.0 behind the nose.
    """
    told(monkeypatch, fore_n=300.0, max_n=400.0)
    case = two_canopies()
    canopies = {part.name: part for part in case.rocket.parts if isinstance(part, Canopy)}
    rocket = in_order(case.rocket, "main", "canopy")
    assert (rocket.separation_station_m, rocket.main_station_m) == (0.20, 0.40)
    other = within(replace(case, rocket=rocket), "deployment", canopy=canopies["main"])
    other = within(other, "deployment", main_canopy=canopies["canopy"])
    found = judged("main_early", one_flight(other, FIRED))
    assert found == approx((400.0 * 1.2 / 1.4, 40.0))
    parting.MOTIONS.forget()


def test_main_shut() -> None:
    first, mean = gas()
    view = one_flight(two_canopies(), FIRED)
    assert judged("main_shut", view) == approx((min(first, mean), HELD), rel=1e-5)
    more = one_flight(two_canopies(), FIRED, {"main_powder_kg": 1.0})
    assert judged("main_shut", more)[0] == approx(min(gas(0.0009)), rel=1e-5)
    one_pin = one_flight(two_canopies(pins=1), FIRED, {"main_pin_strength": 1.0})  # a fifth more
    assert judged("main_shut", one_pin)[1] == approx(10.0 + 0.5 * PINS * 1.2, rel=1e-5)


def test_a_main_that_stays_shut_says_how_it_lands() -> None:
    """sqrt(2 m g / (rho CdS)): 1.7 kg under 0.75 m2; half of m v^2."""
    view = one_flight(two_canopies(), FIRED, {}, {"dry_mass_kg": 1.7})
    found = ROWS["main_shut"].evaluate(view)
    speed = math.sqrt(2.0 * 1.7 * G / (air_kg_m3(0.0) * 0.75))
    assert not isinstance(found, Missing)
    assert f"at {speed:.3g} m/s, {0.5 * 1.7 * speed**2:.3g} J" in str(found.warnings[0])


def test_main_strong() -> None:
    view = one_flight(two_canopies(), FIRED, {"main_bulkhead_n": 1.0})
    assert judged("main_strong", view) == approx((gas()[0], 770.0), rel=1e-5)


def test_main_low() -> None:
    """10 m (practice) + 18 m/s over 6 m of cord at 10 m/s + 8 diameters of the circle of 2 m2."""
    needed = 10.0 + 18.0 * 0.6 + 8.0 * math.sqrt(4.0 * 2.0 / math.pi)
    assert judged("main_low", one_flight(two_canopies(), FIRED)) == approx((150.0, needed))
    never = {**FIRED, "main_m": math.nan, "main_opening_m_s": math.nan, "landing_m_s": 18.0}
    assert judged("main_low", one_flight(two_canopies(), never)) == approx((0.0, needed))


def test_the_altimeter_fires_by_the_standard_atmosphere() -> None:
    """290 K for 288.15 K at sea level: a layer is as much thicker; 5 m a standard deviation."""
    made = one_flight(two_canopies(), {}, {"main_height": 1.0}).parameter("main_height_m")
    assert float(made[0]) == approx(150.0 * 290.0 / 288.15 + 5.0)
    assert float(one_flight(hand_case()).parameter("main_height_m")[0]) == 0.0


def snatch() -> float:
    """v sqrt(k mu): v from the work beyond the hold over 80 mm, k = 1500 N at 25 % of 4 m."""
    fore = NOSE + GEAR
    mu = fore * REST / (fore + REST)
    speed = math.sqrt(2.0 * (gas()[1] - HELD) * 0.08 / mu)
    return speed * math.sqrt(1500.0 / (0.25 * 4.0) * mu)


def test_main_cord() -> None:
    """Half is left by knots; the greater of opening and snatch."""
    view = one_flight(two_canopies(), FIRED, {"main_cord_strength": 1.0, "knot": 1.0})
    wanted = (max(500.0, snatch()), 1500.0 * 0.5 * 1.10 * 1.15)
    assert judged("main_cord", view) == approx(wanted, rel=1e-5)
    soft = one_flight(two_canopies(), {**FIRED, "main_opening_force_n": 30.0})
    assert judged("main_cord", soft)[0] == approx(snatch(), rel=1e-5)


def test_main_cord_of_aramid() -> None:
    """Stretches 4 % before it breaks (data sheets: 3.5 to 7) where nylon does 25: k = F / (e L) is
    6.25 times as stiff, v sqrt(k m) 2.5 times as hard, and nothing is asked for."""
    case = two_canopies()
    parts = (
        replace(part, elongation_at_break=0.04)
        if isinstance(part, Cord) and part.name == "main cord"
        else part
        for part in case.rocket.parts
    )
    aramid = replace(case, rocket=replace(case.rocket, parts=tuple(parts)))
    view = one_flight(aramid, {**FIRED, "main_opening_force_n": 30.0})
    assert judged("main_cord", view)[0] == approx(2.5 * snatch(), rel=1e-5)


def test_main_anchor() -> None:
    """Of 2000 N of opening 1.4 of 1.7 kg hang behind, 0.3 ahead; the snatch acts on both."""
    view = one_flight(two_canopies(), {**FIRED, "main_opening_force_n": 2000.0})
    assert judged("main_anchor", view) == approx((2000.0 * 1.4 / 1.7, 900.0))
    soft = one_flight(two_canopies(), {**FIRED, "main_opening_force_n": 30.0})
    assert judged("main_anchor", soft) == approx((snatch(), 800.0), rel=1e-5)


UNKNOWN = {
    "pull_n": ("main_shut", "main_coast", "main_early", "main_cord", "main_anchor"),
    "powder_kg": ("main_shut", "main_strong", "main_cord", "main_anchor"),
    "bulkhead_n": ("main_strong",),
    "aft_anchor_n": ("main_anchor",),
    "blanket_m2": ("main_scorched",),
}


@pytest.mark.parametrize("name", UNKNOWN)
def test_what_is_not_said_is_asked_for_by_its_place(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    told(monkeypatch, fore_n=300.0, max_n=400.0)
    case = two_canopies(**{name: None})
    view = one_flight(case, FIRED)
    table = "main_charge" if name in ("powder_kg", "blanket_m2") else "main_separation"
    for key in UNKNOWN[name]:
        found = ROWS[key].evaluate(view)
        assert isinstance(found, Missing), key
        assert {entry.place.partition(".")[0] for entry in found.asks} == {table}, key
        assert name.rpartition("_")[0] in " ".join(entry.place for entry in found.asks)
    parting.MOTIONS.forget()


def test_how_far_the_cord_stretches_is_asked_for() -> None:
    """Nylon and aramid differ by six times: neither is taken where none is named."""
    case = two_canopies()
    parts = (
        replace(part, elongation_at_break=0.0)
        if isinstance(part, Cord) and part.name == "main cord"
        else part
        for part in case.rocket.parts
    )
    view = one_flight(replace(case, rocket=replace(case.rocket, parts=tuple(parts))), FIRED)
    for key in ("main_cord", "main_anchor"):
        found = ROWS[key].evaluate(view)
        assert isinstance(found, Missing), key
        assert [entry.place for entry in found.asks] == ["part[main cord].elongation"], key


def test_room_of_the_main_scatters_without_a_first_separation() -> None:
    case = two_canopies()
    rocket = replace(case.rocket, separation_station_m=None)
    keys = {factor.key for factor in factors_of(replace(case, rocket=rocket))}
    assert {"pack_room", "blanket_lap", "cord_give"} <= keys


def test_nothing_said_of_the_second_separation_is_unknown_and_never_ok() -> None:
    case = within(hand_case(), "deployment", main_canopy=Canopy("main", 0.3, cloth_area_m2=2.0))
    for key in ROWS:
        if key.startswith("main_") and key != "main_low":
            found = ROWS[key].evaluate(one_flight(case, FIRED))
            assert isinstance(found, Missing), key
            assert found.asks, key


def test_a_main_in_one_bay_with_the_first_canopy_is_told_so() -> None:
    """What holds it shut is not modelled: every row of the main is unknown and says what to do."""
    case = two_canopies()
    bays = [part for part in case.rocket.parts if isinstance(part, Bay) and part.holds]
    first = next(bay for bay in bays if "canopy" in bay.holds)
    parts = tuple(
        replace(part, holds=(*part.holds, "main")) if part is first else part
        for part in case.rocket.parts
        if part not in bays or part is first
    )
    shared = one_flight(replace(case, rocket=replace(case.rocket, parts=parts)), FIRED)
    for key in ("main_fits", "main_scorched", "main_coast", "main_early", "main_shut",
                "main_strong", "main_cord", "main_anchor"):  # fmt: skip
        found = ROWS[key].evaluate(shared)
        assert isinstance(found, Missing), key
        cord = key in ("main_cord", "main_anchor")  # ask for the cord of that bay first
        assert cord or "main lies in bay with the first canopy" in found.words, key
        assert "part[+]:bay" in {ask.key for ask in found.asks}, key
    nowhere = tuple(part for part in case.rocket.parts if part not in bays or part is first)
    alone = one_flight(replace(case, rocket=replace(case.rocket, parts=nowhere)), FIRED)
    found = ROWS["main_fits"].evaluate(alone)
    assert isinstance(found, Missing) and found.words.startswith("say which bay")
