"""Workbench figures held against common practice and open standards."""

import io
from math import degrees

import pytest

from bench_rocket import INCH, rocket
from goodflight.outputs.bench.dxf import template_dxf
from goodflight.physics.structure import key_turn_rad
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.bench.wrap import fin_wrap


def test_four_fins_on_a_four_inch_tube_are_pi_inches_apart() -> None:
    """Common practice, no source: fins stand pi D / N apart on a paper wrap."""
    made = fin_wrap(rocket(4, 4 * INCH), Choices(paper_m=0.0))
    assert made is not None
    assert dict(made.sizes)["fin to fin"] / INCH == pytest.approx(3.14159265, abs=1e-8)


def test_a_turn_of_the_bound_moves_the_key_slot_by_its_clearance() -> None:
    """Derived by hand: 0.2 mm at 100 mm is 0.2/100 rad to first order, 0.1146 deg."""
    assert degrees(key_turn_rad(0.0002, 0.100)) == pytest.approx(0.1146, abs=0.0002)
    assert key_turn_rad(0.0002, 0.100) * 0.100 == pytest.approx(0.0002, rel=2e-3)


def test_dxf_header_says_release_2010_and_millimetres() -> None:
    """DXF reference (memory): $ACADVER AC1024 is R2010, $INSUNITS 4 is millimetres."""
    import ezdxf

    document = ezdxf.read(io.StringIO(template_dxf(TemplateSet("r", "s", ()))))
    assert document.header["$ACADVER"] == "AC1024"
    assert document.header["$INSUNITS"] == 4
