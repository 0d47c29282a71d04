"""Rows of a separation swollen by damp air and of a hatch, by hand."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from pytest import approx

from goodflight.physics.recovery.swelling import FRICTION, PAPER_PA, press_fit_pull_n
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.parts import Bay, Coupler, Tube
from goodflight.project.head.hatch import Hatch
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Entry
from goodflight.studies.rows import Evaluation, Missing, damp
from goodflight.studies.rows.separation import sections
from one_flight import KRAFT, PLY, ROWS, hand_case, judged, one_flight, with_part, with_separation

EJECTED = {"ejection_m_s": 17.0, "ejection_climb_m_s": -8.5, "ejection_m": 580.0,
           "max_pressure_pa": 12000.0}  # fmt: skip
SNUG = Figure(0.00002, 0.0)  # gap of 0.02 mm


def snug() -> Case:
    """Card in card, 0.02 mm apart in the room where it was pulled."""
    return with_separation(with_part(hand_case(), Coupler, material=KRAFT), clearance_m=SNUG)


def test_swollen_shut() -> None:
    """One sigma damper, 0.2: 4 mm of walls grow by 0.06 x 0.2 (memory), a gap of 0.02 mm left.

    Rings of 2 mm at 38 mm: p = (overlap / 2) E / (r^2 (1/2 mm + 1/2 mm)); it slides over 60 mm.
    """
    view = one_flight(snug(), EJECTED, {"damper": 1.0})
    overlap = 0.06 * 0.2 * 0.004 - 0.00002
    pressure = overlap / 2.0 * 1.82e9 / (0.038**2 * 1000.0)
    pull = 0.4 * pressure * 2.0 * math.pi * 0.038 * 0.06
    demand, left = judged("swollen_shut", view)
    assert demand == approx(pull)
    push, held = judged("separation_shut", view)
    assert left == approx(push - held)
    weak = with_separation(snug(), pull_n=Figure(push - 10.0, 0.0))
    demand, left = judged("swollen_shut", one_flight(weak, EJECTED, {"damper": 1.0}))
    assert demand > left == approx(10.0)  # it stays shut
    wetter, _ = judged("swollen_shut", one_flight(snug(), EJECTED, {"damper": 2.0}))
    assert wetter == approx(pull * (0.06 * 0.4 * 0.004 - 0.00002) / overlap)


def test_only_paper_swells_and_drier_air_does_no_harm() -> None:
    dry = one_flight(snug(), EJECTED, {"damper": -2.0})
    assert judged("swollen_shut", dry)[0] == 0.0
    one = with_part(snug(), Coupler, material=PLY)
    damp = {"damper": 3.0, "paper_swelling": 1.0}
    demand, _ = judged("swollen_shut", one_flight(one, EJECTED, damp))
    both, _ = judged("swollen_shut", one_flight(snug(), EJECTED, damp))
    assert 0.0 < demand < both
    none = with_part(one, Tube, material=PLY)
    found = ROWS["swollen_shut"].evaluate(one_flight(none, EJECTED))
    assert isinstance(found, Evaluation) and "neither" in found.not_here


def test_a_material_that_is_not_named_may_be_paper() -> None:
    unnamed = with_part(snug(), Coupler, material=None)
    view = one_flight(unnamed, EJECTED, {"damper": 1.0})
    assert judged("swollen_shut", view) == judged(
        "swollen_shut", one_flight(snug(), EJECTED, {"damper": 1.0})
    )
    found = ROWS["swollen_shut"].evaluate(view)
    assert isinstance(found, Evaluation) and "coupler taken for paper" in found.warnings[0]


@pytest.mark.parametrize("wall_m", [0.001, 0.002])
def test_a_press_fit_of_thick_rings_says_nearly_the_same(wall_m: float) -> None:
    """Two cylinders of one material pressed together (Lame; machine design handbooks, memory)."""
    radius, length, overlap = 0.038, 0.06, 4e-5
    inner, outer = radius - wall_m, radius + wall_m
    each = (outer**2 + radius**2) / (outer**2 - radius**2) + (radius**2 + inner**2) / (
        radius**2 - inner**2
    )
    pressure = overlap / 2.0 * PAPER_PA / (radius * each)
    pull = FRICTION * pressure * 2.0 * math.pi * radius * length
    thin = press_fit_pull_n(overlap, 2.0 * radius, (wall_m, wall_m), length)
    assert float(thin) == approx(pull, rel=wall_m / radius)


def hatched(**more: Any) -> Case:
    """A hatch of 80 by 40 mm that stands 30 N, in the electronics bay."""
    told = Hatch(True, 0.30, 0.08, 0.04, Figure(30.0, 3.0))
    case = hand_case()
    return replace(case, rocket=replace(case.rocket, hatch=replace(told, **more)))


def test_hatch_off() -> None:
    """Half of 12 kPa in the middle, all of it at most, on 32 cm2."""
    view = one_flight(hatched(), EJECTED, {"given:hatch_n": 1.0})
    assert judged("hatch_off", view) == approx((0.5 * 12000.0 * 0.0032, 33.0))
    more = one_flight(hatched(), EJECTED, {"hatch_air": 1.0})  # normal table: 0.8413 below it
    assert judged("hatch_off", more)[0] == approx(0.8413 * 12000.0 * 0.0032, rel=1e-4)
    lifted = one_flight(hatched(), EJECTED, {"hatch_air": 9.0})
    assert judged("hatch_off", lifted)[0] == approx(38.4)


def test_a_hatch_into_the_bay_of_the_charge_takes_its_pressure() -> None:
    bay = next(part for part in hand_case().rocket.parts if isinstance(part, Bay))
    view = one_flight(hatched(station_m=bay.station_m + 0.1), EJECTED)
    push, _ = judged(
        "charge_strong", one_flight(with_part(hatched(), Coupler, bulkheads=True), EJECTED)
    )
    bore = math.pi / 4.0 * 0.076**2
    assert judged("hatch_off", view)[0] == approx(push / bore * 0.0032)


def test_what_is_not_said_of_a_hatch_is_asked_at_once() -> None:
    found = ROWS["hatch_off"].evaluate(
        one_flight(hatched(length_m=None, width_m=None, station_m=None, holds_n=None), EJECTED)
    )
    assert isinstance(found, Missing)
    asked: tuple[Entry, ...] = found.asks
    assert {each.place for each in asked} == {
        f"hatch.{key}" for key in ("length", "width", "station", "holds")
    }
    none = ROWS["hatch_off"].evaluate(one_flight(hand_case(), EJECTED))
    assert isinstance(none, Evaluation) and none.not_here
    assert not np.isfinite(none.demand).any()


@pytest.mark.parametrize(("fixed_in", "tube"), [("fore", "lower"), ("aft", "upper")])
def test_the_coupler_slides_out_of_the_tube_it_is_not_fixed_in(fixed_in: Any, tube: str) -> None:
    """Two tubes meet at 400 mm, where the rocket parts."""
    case = hand_case()
    whole = next(part for part in case.rocket.parts if isinstance(part, Tube))
    upper = replace(whole, name="upper", length_m=0.2)
    lower = replace(whole, name="lower", station_m=0.4, length_m=0.6)
    parts = (lower, *(upper if part is whole else part for part in case.rocket.parts))
    separation = replace(case.rocket.separation, coupler_in=fixed_in)
    case = replace(case, rocket=replace(case.rocket, parts=parts, separation=separation))
    slides = next(part for part in parts if isinstance(part, Coupler))
    found = damp._around(case, slides, 0.4)
    assert found is not None and found.name == tube


def test_a_rocket_that_stays_in_one_piece_has_no_sections() -> None:
    case = hand_case()
    rocket = replace(case.rocket, separation_station_m=None)
    found = sections(one_flight(replace(case, rocket=rocket)))
    assert {each.tolist()[0] for each in vars(found).values()} == {0.0}
