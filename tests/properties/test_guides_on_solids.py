"""Fin guides of random fins on solids: they slide on and off, hold the finished fin, and keep it.

25 rockets each time; GUIDE_SOLIDS=100 takes more. A rocket whose guide is refused says why.
"""

import os
from collections.abc import Callable, Iterator
from math import pi
from typing import Any

import numpy as np
import pytest

from goodflight.studies.bench.places import FinCan

pytest.importorskip("manifold3d")

import guide_solids as solids
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guide_print import printed_guide
from goodflight.studies.bench.guides import alignment_of, guide_for
from goodflight.studies.bench.holds import HELD_M
from goodflight.studies.bench.places import fin_can
from goodflight.studies.bench.shapes import DoesNotFitError

SEEDS = range(int(os.environ.get("GUIDE_SOLIDS", "25")))
TOUCH_MM3 = 0.05  # facets of round bodies: 200 mm of 0.5 um


def guides(make: Callable[..., Any]) -> Iterator[Any]:
    """Every rocket that gets a guide, at least four in five, with it."""
    refused = 0
    for seed in SEEDS:
        can = fin_can(solids.random_rocket(seed))
        try:
            yield seed, can, make(can, Choices())
        except DoesNotFitError as error:
            assert len(str(error)) > 60
            refused += 1
    assert refused <= len(SEEDS) / 5


def held_by_nothing(can: FinCan, pieces: tuple[Any, ...], bound_rad: float) -> Iterator[Any]:
    """Places across in which a fin canted a tenth beyond the bound runs into no piece."""
    near = [solids.near_fin_1(piece) for piece in pieces]
    for tilt in (-0.004, 0.0, 0.004):
        for offset in np.linspace(-0.6, 0.6, 9):
            fin = solids.leaned(can, 1.1 * bound_rad, float(offset), tilt)
            if all((fin ^ piece).is_empty() for piece in near):
                yield tilt, offset


def test_plates_slide_on_and_hold_the_finished_fin_over_what_the_paper_says() -> None:
    for seed, can, guide in guides(guide_for):
        assert (solids.swept_plates(guide) ^ solids.dry_rocket(can)).volume() < TOUCH_MM3, seed
        step = 0.02  # mm, pushed across into the slot's side
        pushed = solids.leaned(can, 0.0, 500 * guide.clearance_m + step)
        low, high = guide.pair.both_m
        assert high - low >= HELD_M - 1e-6
        for plate in solids.plates(guide):
            held_mm2 = (plate ^ pushed).volume() / step
            assert held_mm2 >= 0.98e6 * (high - low) * guide.plate_m, seed


def test_no_fin_leans_more_than_the_bound_wherever_it_lies() -> None:
    for seed, can, guide in guides(guide_for):
        fore, aft = solids.plates(guide)
        pieces = (fore, solids.turned(aft, -guide.turn_bound_rad))
        bound = alignment_of(guide, 0.0).fin_bound_rad
        assert not list(held_by_nothing(can, pieces, bound)), seed


def test_the_print_slides_on_and_holds_the_finished_fin() -> None:
    for seed, can, guide in guides(printed_guide):
        piece = solids.print_in_place(guide)
        assert len(piece.decompose()) == 1, seed
        assert (solids.swept_print(guide) ^ solids.dry_rocket(can)).volume() < TOUCH_MM3, seed
        assert not list(held_by_nothing(can, (piece,), guide.fin_bound_rad)), seed


def test_a_plate_turned_by_a_fin_or_over_takes_no_keys() -> None:
    """Every other way of laying one plate on the other leaves a key slot that no key passes."""
    for seed, _, guide in guides(guide_for):
        slots = [solids.extruded(slot, 0.0, 1.0) for slot in solids.key_slots(guide)]
        open_mm3 = 0.999e6 * guide.key_slot_m[1] * guide.tab_m
        together = slots[0]
        for slot in slots[1:]:
            together += slot
        fitting = []
        for fins in range(guide.count):
            for over in (False, True):
                other = together.mirror((1.0, 0.0, 0.0)) if over else together
                other = solids.turned(other, 2 * pi * fins / guide.count)
                if all((slot ^ other).volume() >= open_mm3 for slot in slots):
                    fitting.append((fins, over))
        assert fitting == [(0, False)], seed
