"""A row moves the way a builder knows it moves: worse with each step of a ladder.

Each ladder is one figure of a well-built rocket taken further step by step, all on the same
flights. At each step the mean use of the row (demand over capacity, or the other way round where
little is bad) must rise, and the chance must not fall by more than paired noise.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pytest
from built import Built
from flown import NOISE, flown
from mistakes import Change, but, canopy_times, fins_times, more_glue, of
from well_built import BY_KEY

from goodflight.studies.judging.evaluate import Evaluated

pytestmark = pytest.mark.slow
FLIGHTS = 200


@dataclass(frozen=True)
class Ladder:
    """Steps of one change, mildest first, and the row that must get worse with each."""

    row: str
    over: str
    rocket: str
    steps: tuple[Change, ...]

    def built(self) -> list[Built]:
        """The rockets of the ladder."""
        return [step(BY_KEY[self.rocket]) for step in self.steps]


def steps(name: str, *values: float) -> tuple[Change, ...]:
    return tuple(but(**{name: value}) for value in values)


def inside(record: str, name: str, *values: float) -> tuple[Change, ...]:
    return tuple(of(record, **{name: value}) for value in values)


LADDERS = (
    Ladder("rail_exit", "wind", "card79", steps("wind_m_s", 2.0, 4.0, 6.0, 8.0)),
    Ladder("rail_exit", "a shorter rail", "card79", steps("rail_m", 3.6, 2.4, 1.5, 1.0)),
    Ladder("off_field", "wind", "card102i", steps("wind_m_s", 2.0, 4.0, 6.0)),
    Ladder("landing_speed", "mass", "card79", steps("extra_g", 0.0, 200.0, 400.0, 600.0)),
    Ladder(
        "landing_speed",
        "a smaller canopy",
        "card79",
        tuple(canopy_times("canopy", share) for share in (1.2, 1.0, 0.8, 0.6)),
    ),
    Ladder("tail_strike", "mass", "card79", steps("extra_g", 0.0, 200.0, 400.0)),
    Ladder("flutter", "thinner fins", "card54", inside("fins", "thickness_mm", 5.0, 4.0, 3.0, 2.0)),
    Ladder(
        "margin_small",
        "smaller fins",
        "card79",
        tuple(fins_times(share) for share in (1.2, 1.0, 0.8, 0.6)),
    ),
    Ladder(
        "margin_small",
        "glue at the fins",
        "card79",
        tuple(more_glue(grams) for grams in (0.0, 150.0, 300.0)),
    ),
    Ladder("spin_pitch", "cant", "card102h", inside("fins", "cant_deg", 0.0, 0.7, 1.4, 2.1)),
    Ladder("zipper", "earlier ejection, faster", "card79", steps("delay_out_s", 4.0, 7.0, 9.0)),
    Ladder("zipper", "later ejection, faster", "card79", steps("delay_out_s", 3.0, 1.0, 0.0)),
    Ladder(
        "opening_canopy", "earlier ejection, faster", "card79", steps("delay_out_s", 4.0, 7.0, 9.0)
    ),
    Ladder("opening_cord", "later ejection, faster", "card79", steps("delay_out_s", 3.0, 1.0, 0.0)),
    Ladder(
        "separation_handled", "a looser separation", "card79", steps("pull_n", 60.0, 30.0, 15.0)
    ),
    Ladder("separation_shut", "a tighter separation", "card79", steps("pull_n", 30.0, 60.0, 120.0)),
    Ladder("separation_shut", "more pins", "glass79", steps("pins", 2, 4, 6)),
    Ladder("separation_shut", "less powder", "glass79", steps("powder_g", 1.4, 1.0, 0.6)),
    Ladder("charge_strong", "more powder", "glass79", steps("powder_g", 1.0, 2.0, 3.0)),
    Ladder(
        "motor_pushed_out", "a weaker retainer", "card79", steps("retention_n", 600.0, 300.0, 100.0)
    ),
    Ladder("snatch_anchor", "weaker anchors", "card79", steps("anchor_n", 2000.0, 800.0, 300.0)),
    Ladder(
        "snatch_anchor", "a shorter cord", "card102i", inside("cord", "length_m", 8.0, 4.0, 2.0)
    ),
    Ladder("nose_jerked", "a weaker joint", "card66", steps("fixed_n", 800.0, 300.0, 100.0)),
    Ladder("gear_fits", "a bulkier pack", "card66", steps("packed", 1.0, 1.3, 1.6)),
    Ladder("canopy_scorched", "a smaller blanket", "card66", steps("blanket_m2", 0.12, 0.08, 0.04)),
    Ladder("bay_vents", "smaller vents", "card141", steps("bay_vent_mm", 6.0, 4.0, 2.0)),
    Ladder("weathercock", "wind", "card141", steps("wind_m_s", 2.0, 4.0, 6.0, 8.0)),
    Ladder("cloud_base", "lower cloud", "card79", steps("cloud_base_m", 900.0, 700.0, 500.0)),
    Ladder(
        "drogue_speed",
        "a smaller first canopy",
        "glass102",
        tuple(canopy_times("canopy", share) for share in (1.2, 0.8, 0.5)),
    ),
    Ladder(
        "main_opening",
        "a smaller first canopy",
        "glass102",
        tuple(canopy_times("canopy", share) for share in (1.2, 0.8, 0.5)),
    ),
    Ladder("main_early", "fewer pins", "card102d", steps("main_pins", 6, 4, 2, 1)),
    Ladder(
        "main_early",
        "a larger first canopy",
        "card102d",
        tuple(canopy_times("canopy", share) for share in (1.0, 2.0, 3.0)),
    ),
    Ladder("main_shut", "more pins", "card102d", steps("main_pins", 2, 4, 6)),
    Ladder("main_shut", "less powder", "card102d", steps("main_powder_g", 2.4, 1.6, 0.8)),
    Ladder("main_strong", "more powder", "card102d", steps("main_powder_g", 1.0, 2.0, 4.0)),
    Ladder("main_low", "set lower", "card102d", steps("main_height_m", 150.0, 80.0, 40.0, 20.0)),
    Ladder("main_low", "colder air", "card102d", steps("temperature_degc", 30.0, 15.0, 0.0)),
    Ladder("main_fits", "a bulkier pack", "card102d", steps("main_packed", 1.0, 1.3, 1.6)),
    Ladder("main_anchor", "more powder", "card102d", steps("main_powder_g", 1.6, 2.2, 4.0)),
    Ladder(
        "main_cord", "a shorter cord", "card102d", inside("main_cord", "length_m", 6.0, 4.0, 2.0)
    ),
    Ladder("cure", "cold", "card79", steps("glue_degc", 20.0, 12.0, 7.0)),
)


def use(row: Evaluated) -> np.ndarray:
    """Demand over capacity of each flight, or capacity over demand; 1 is the limit."""
    demand, capacity = np.maximum(row.demand, 1e-9), np.maximum(row.capacity, 1e-9)
    return np.asarray(demand / capacity if row.limit.more_is_worse else capacity / demand)


@pytest.mark.parametrize("ladder", LADDERS, ids=lambda ladder: f"{ladder.row}, {ladder.over}")
def test_a_row_gets_worse_with_each_step(ladder: Ladder) -> None:
    found = [flown(built, FLIGHTS).rows[ladder.row] for built in ladder.built()]
    assert not [row.missing for row in found if row.missing]
    if ladder.row == "off_field":  # counted from the edge, outward
        means = [float(np.nanmean(row.demand)) for row in found]
    else:
        means = [float(np.nanmean(np.minimum(use(row), 1e3))) for row in found]
    assert all(a < b for a, b in pairwise(means)), means
    for mild, bad in pairwise(found):
        worse = int((bad.failing & ~mild.failing).sum())
        better = int((mild.failing & ~bad.failing).sum())
        assert better - worse <= NOISE * np.sqrt(worse + better), (worse, better)
