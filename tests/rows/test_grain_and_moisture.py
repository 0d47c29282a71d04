"""Grain of the fins and moisture of paper tubes: what is said, and what not saying it costs.

Birch plywood across its face grain over along it, 5 % points of bending: 10.6 / 65.9, 29.0 / 50.9
and 32.1 / 45.6 MPa of 4, 6.5 and 9 mm (Handbook of Finnish Plywood, memory). Paper in compression
loses 8.3 % for each per cent of moisture (36 liners, seen); at 80 % of humidity it has 3 to 4.5 %
more than at 50 %: 0.77 to 0.68 is left.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from goodflight.physics.structure.unsure import DAMP_SHARE, share_left
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import Fins
from goodflight.project.materials import library
from goodflight.studies.case.planned import Case, Read
from goodflight.studies.rows import cord
from goodflight.studies.sampling import structure
from one_flight import hand_case, judged, one_flight, with_part, with_separation
from sample_case import within

FASTEST = {"max_mach": 0.4, "max_speed_m_s": 80.0, "max_pressure_pa": 4000.0}
GUST = {"gust_sigma_m_s": 1.0}
ALONG = 60e6 * 0.1 * 0.004**2 / 6.0 / 1.25  # strength c t^2 / 6, a quarter uneven (guess)
THIRD = -0.4307273  # standard deviations below which a third of a normal spread lies


def of_plywood(grain: str | None) -> Case:
    """Fins of a sheet that keeps a quarter of its strength across."""
    sheet = Material("ply", 680.0, bending_strength_pa=60e6, across_share=0.25)
    return with_part(hand_case(), Fins, material=sheet, grain=grain)


def kept(case: Case, place: str | None) -> Case:
    """The case with its tubes kept there."""
    return replace(case, workshop=replace(case.workshop, tube_kept=place))


@pytest.mark.parametrize(
    ("sheet", "across", "along"),
    [
        ("birch_plywood_4mm", 10.6, 65.9), ("birch_plywood", 29.0, 50.9),
        ("birch_plywood_9mm", 32.1, 45.6),
    ],
)  # fmt: skip
def test_plywood_across_its_face(sheet: str, across: float, along: float) -> None:
    """Two digits are kept."""
    assert library()[sheet].material.across_share == approx(across / along, abs=0.005)


def test_what_is_not_known_is_between_the_worst_and_all() -> None:
    assert share_left(0.25, np.array([0.0, 1.0 / 3.0, 1.0])).tolist() == approx([0.25, 0.5, 1.0])


def test_damp_paper() -> None:
    """e^(-0.083 x 3) and the 0.917^4.5 of the liners: what is taken lies between."""
    assert 0.917**4.5 < DAMP_SHARE < math.exp(-0.083 * 3.0)


@pytest.mark.parametrize(
    ("grain", "share"), [("outward", 1.0), ("along", 0.25), (None, 0.25 + 0.75 / 3.0)]
)
def test_fin_root_by_its_grain(grain: str | None, share: float) -> None:
    scores = {} if grain else {"fin_grain": THIRD}
    view = one_flight(of_plywood(grain), FASTEST, scores, GUST)
    assert judged("fin_root", view)[1] == approx(share * ALONG, rel=1e-5)


def test_a_strip_broken_as_the_fin_stands_has_its_grain() -> None:
    """Nothing is drawn any more."""
    case = of_plywood(None)
    read = {structure.fin_bending.key: Read(1.0, 0.06, "weighings.toml:reading[#1]")}
    broken = within(case, "uncertainty", read=read)
    assert judged("fin_root", one_flight(broken, FASTEST, {}, GUST))[1] == approx(ALONG)
    with pytest.raises(KeyError):
        one_flight(broken, FASTEST, {"fin_grain": 1.0})


def test_a_sheet_without_grain_waits_for_nothing() -> None:
    """Metal or glass cloth: as strong across, and nothing is drawn."""
    even = Material("sheet", 1850.0, bending_strength_pa=60e6, across_share=1.0)
    case = with_part(hand_case(), Fins, material=even, grain=None)
    assert not structure.fin_grain.factors(case)
    assert judged("fin_root", one_flight(case, FASTEST, {}, GUST))[1] == approx(ALONG)


def test_a_bond_torn_off_untested_plies_is_told_by_their_middle() -> None:
    """144 N over 4 cm2 are 0.36 MPa, of 0.45 (memory) eight tenths."""
    way = structure.bond_work.measured_by
    assert way is not None and way.shows is not None
    assert way.shows.becomes(hand_case(), 0.36e6) == approx(0.8)


@pytest.mark.parametrize(
    ("place", "share"), [("dry room", 1.0), ("damp shed", 0.7), (None, 0.7 + 0.3 / 3.0)]
)
def test_a_paper_edge_by_where_it_was_kept(place: str | None, share: float) -> None:
    """Crushed at the tail and slit by the cord; an edge that was torn itself has its moisture."""
    down = {"descent_m_s": 6.0}
    scores = {} if place else {"tube_damp": THIRD}
    balance = {"dry_cg_m": 0.6, "dry_pitch_inertia_kg_m2": 0.15}
    case = with_part(kept(hand_case(), place), Fins, station_m=0.88)
    view = one_flight(case, down, scores, balance)
    edge = 0.5 * math.pi * (0.08 - 0.002) * 0.002
    assert judged("tail_strike", view)[1] == approx(10.1e6 * edge * share, rel=1e-5)
    by_kind = Figure(15e6, 5e6, "guess", "any.toml:place", by_kind=True)
    for figure, edge_kind, left in (
        (by_kind, "kraft", share), (by_kind, "glass", 1.0),
        (replace(by_kind, path="rocket.toml:separation.edge", by_kind=False), "kraft", 1.0),
    ):  # fmt: skip
        case = with_separation(kept(hand_case(), place), edge_strength_pa=figure, edge=edge_kind)
        one = one_flight(case, {}, scores)
        assert float(np.max(cord._dry(one))) == approx(left, rel=1e-5)
