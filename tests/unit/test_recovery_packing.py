"""Packed length, slit of the tube's edge: hand sums.

Densities: 12 lb/ft3 = 192 kg/m3 (common practice, no source), 30 and 45 lb/ft3 (trade page, seen).
"""

from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.recovery import packing, zipper
from goodflight.physics.vehicle.parts import AddedMass, Bay
from goodflight.studies.packing import Stack, stack_of
from one_flight import hand_case

POUND_PER_FOOT3 = 0.45359237 / 0.3048**3


def test_densities_in_the_units_they_were_seen_in() -> None:
    """Rounded to whole kg/m3 when they were written down."""
    assert packing.PACK_METHODS["pressed"].low_kg_m3 == pytest.approx(30 * POUND_PER_FOOT3, abs=0.6)
    assert packing.PACK_METHODS["hard"].low_kg_m3 == pytest.approx(45 * POUND_PER_FOOT3, abs=0.6)
    loose = packing.PACK_METHODS["loose"]
    assert loose.low_kg_m3 < packing.DEFAULT_DENSITY_KG_M3 < loose.high_kg_m3
    default = packing.DEFAULT_DENSITY_KG_M3
    assert default == pytest.approx(12 * POUND_PER_FOOT3, rel=0.02)
    for method in packing.PACK_METHODS.values():
        assert method.low_kg_m3 <= method.high_kg_m3 < packing.NYLON_KG_M3


def test_needed_length() -> None:
    """0.19 kg loose is one litre; in 76 mm tube 220.4 mm, plus one calibre 296.4 mm."""
    volume = packing.packed_volume_m3(0.19)
    assert float(volume) == pytest.approx(0.001)
    assert float(packing.packed_length_m(volume, 0.076)) == pytest.approx(0.2204, abs=5e-5)
    needed = packing.bay_length_m(packing.packed_length_m(volume, 0.076), 0.076)
    assert float(needed) == pytest.approx(0.2964, abs=5e-5)


def test_wraps_and_links_take_the_lesser_of_their_length_and_their_mass() -> None:
    """50 g at 500 kg/m3 (our guess) is 0.1 L; in a bay of 100 mm, 7854 mm2: 12.73 mm."""
    case = hand_case()
    first = next(part for part in case.rocket.parts if isinstance(part, Bay))
    found = []
    for length_m in (0.0, 0.2, 0.01):
        wrap = AddedMass("wrap", first.station_m, mass_kg=0.05, length_m=length_m)
        bay = replace(first, inner_diameter_m=0.1, holds=(*first.holds, "wrap"))
        parts = (wrap, *(bay if part is first else part for part in case.rocket.parts))
        stack = stack_of(replace(case, rocket=replace(case.rocket, parts=parts)))
        assert isinstance(stack, Stack)
        found.append(next(piece.length_m for piece in stack.pieces if piece.name == "wrap"))
    assert found == pytest.approx([0.012732, 0.012732, 0.01], rel=1e-4)


def test_slit_start() -> None:
    """15 MPa x 1.5 mm x 14 mm = 315 N; twice the webbing, twice the load.

    Five spiral paper tubes crushed along their axis: 9.8 to 10.7 MPa, mean 10.1 (Tezuka and Ito,
    Waseda University 1990-91, Table 1, seen); such tubes stand 1.5 times that where little of
    the wall is loaded, as in bending (Correa 2004, seen).
    """
    assert pytest.approx(1.5 * 10.1e6, rel=0.02) == zipper.KRAFT_STRENGTH_PA
    found = zipper.slit_start_n(0.0015, np.array([0.014, 0.028]))
    assert found.tolist() == pytest.approx([315.0, 630.0])


def test_densities_of_packs_are_those_told_in_pounds_per_cubic_foot() -> None:
    """10 to 15 loose, 20 to 24 by hand, 30 at 15 psi, 45 at 100 psi [knacke1991], from memory."""
    told = {"loose": (10, 15), "careful": (20, 24), "pressed": (30, 30), "hard": (45, 45)}
    for key, ends in told.items():
        method = packing.PACK_METHODS[key]
        found = method.low_kg_m3, method.high_kg_m3
        assert found == pytest.approx(
            [each * POUND_PER_FOOT3 for each in ends], abs=0.5
        )  # printed digits
