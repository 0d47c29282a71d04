"""Our middles and spreads of what things stand, against a table of published figures.

`capacities.csv`: each row names its source and how it is held: seen, derived, or memory (those only
say that a default is not out of line). A middle lies inside the range printed; a spread is no
narrower than the coefficient of variation printed, since a default stands for a make not known.
"""

import csv
from pathlib import Path

import pytest

from goodflight.physics.aero.validity import MODEL_SPREAD
from goodflight.physics.people import OMITTED, READER_MISSES
from goodflight.physics.recovery.canopy_kinds import canopy_kind
from goodflight.physics.recovery.charge import HEAT_MIDDLE, TRADE_IMPETUS_J_KG
from goodflight.physics.recovery.cord import JOINTS
from goodflight.physics.structure import KRAFT_PLY_PA, PLY_ROLLING_SHEAR_PA
from goodflight.physics.structure.crush import crush_pa
from goodflight.physics.structure.landing import BEDDING_N_M3
from goodflight.studies.sampling import air, recovery, separation, structure
from goodflight.studies.sampling.quantity import Quantity

TABLE = Path(__file__).parent / "data" / "capacities.csv"
with TABLE.open(encoding="utf-8") as handle:
    ROWS = {row["key"]: row for row in csv.DictReader(handle)}
BOMB_OVER_TRADE = 1.14  # what a closed bomb gives over the trade's value: `powder_heat` says so

MIDDLES: dict[str, tuple[float, str]] = {
    "crush of kraft, MPa": ((crush_pa("kraft", None) or 0.0) / 1e6, "paper_tube_crush"),
    "plies of kraft, MPa": (KRAFT_PLY_PA / 1e6, "paper_z_tension"),
    "rolling shear of birch plywood, MPa": (PLY_ROLLING_SHEAR_PA / 1e6, "birch_ply_fr"),
    "overhand knot": (JOINTS["overhand"].efficiency, "knot_overhand"),
    "bowline": (JOINTS["bowline"].efficiency, "knot_bowline"),
    "splice": (JOINTS["splice"].efficiency, "splice_eye"),
    "sewn loop": (JOINTS["sewn"].efficiency, "stitch"),
    "drag of a flat canopy": (canopy_kind("flat_circular").usual_drag_coefficient, "cd_flat"),
    "drag of a cross": (canopy_kind("cross").usual_drag_coefficient, "cd_cross"),
    "opening of a flat canopy": (canopy_kind("flat_circular").opening_factor, "cx_flat"),
    "opening of a cross": (canopy_kind("cross").opening_factor, "cx_cross"),
    "fill of a flat canopy": (canopy_kind("flat_circular").fill_constant, "fill_n"),
    "gas work in a cold bay, of a bomb's": (HEAT_MIDDLE / BOMB_OVER_TRADE, "bp_loss"),
    "bedding of turf, N/m3": (BEDDING_N_M3, "turf_bedding"),
    "CP, body lengths": (MODEL_SPREAD.cp_length, "cp_model"),
    "slopes": (MODEL_SPREAD.slope, "cn_model"),
    "an item left out": (OMITTED[0], "therp_omit_nocheck"),
    "a reader misses it": (READER_MISSES, "therp_checker"),
}
SPREADS: dict[str, tuple[Quantity, str]] = {
    each.key: (each, row)
    for each, row in (
        (structure.crush, "paper_tube_crush"),
        (structure.kraft_ply, "paper_z_tension"),
        (structure.ply_shear, "birch_ply_fr"),
        (structure.fin_bending, "wood_cv_bending"),
        (structure.bedding, "turf_cv"),
        (recovery.knot, "knot_overhand"),
        (recovery.line_knot, "knot_overhand"),
        (recovery.cord_give, "nylon_elongation"),
        (recovery.canopy_drag, "cd_cv"),
        (recovery.overshoot, "cx_flat"),
        (recovery.fill_constant, "fill_n"),
        (separation.pin_strength, "nylon_pin_cv"),
        (separation.powder_heat, "bp_loss"),
        (air.gustiness, "ntm_mean"),
    )
}


def test_the_table_says_how_each_row_is_held() -> None:
    assert {row["how_known"] for row in ROWS.values()} == {"seen", "memory", "derived"}
    used = {row for _, row in (*MIDDLES.values(), *SPREADS.values())}
    assert used | {"bp_impetus"} == set(ROWS)


@pytest.mark.parametrize("name", MIDDLES)
def test_a_middle_lies_in_the_range_printed(name: str) -> None:
    ours, key = MIDDLES[name]
    assert float(ROWS[key]["low"]) <= ours <= float(ROWS[key]["high"])


def test_slopes_and_drag_spread_as_build_ups_by_component_do() -> None:
    printed = float(ROWS["cn_model"]["value"])
    assert printed == MODEL_SPREAD.slope == MODEL_SPREAD.axial


def test_powder_gives_what_its_gas_gives() -> None:
    """Gas of the powder at 2500 K, Noble and Abel: 252 kJ/kg, 5 %; 1.14 of the trade's value."""
    row = ROWS["bp_impetus"]
    bomb = TRADE_IMPETUS_J_KG * BOMB_OVER_TRADE / 1e3
    assert bomb == pytest.approx(float(row["value"]), rel=float(row["cv"]))


@pytest.mark.parametrize("name", SPREADS)
def test_a_spread_is_no_narrower_than_the_one_printed(name: str) -> None:
    quantity, key = SPREADS[name]
    assert quantity.spread.sigma >= float(ROWS[key]["cv"])
