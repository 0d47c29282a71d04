"""Opening force against worked tables.

`03_x1_force_reduction.csv` and `04_opening_force_examples.csv`: finite-mass factor and whole
openings by Pflanz's method as in Knacke 1991, NWC TP 6575. Held: derived (worked out apart from
this program from the equation of motion). `02_fill_constants.csv`: Knacke 1991 table 5-6, held:
memory, so it only checks that our kinds carry the same figures.
"""

import csv
from pathlib import Path

import pytest

from goodflight.physics import recovery
from goodflight.physics.recovery.opening import opening_force_n

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8") as handle:
        return list(csv.DictReader(handle))


FACTORS = rows("03_x1_force_reduction.csv")
EXAMPLES = rows("04_opening_force_examples.csv")
FILL = {r["canopy"]: r for r in rows("02_fill_constants.csv")}


def test_factor_table_is_whole() -> None:
    assert len(FACTORS) == 16
    assert {r["how"] for r in FACTORS} == {"derived"}


@pytest.mark.parametrize("growth", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("row", FACTORS, ids=lambda r: f"A={r['A']}")
def test_force_reduction_to_the_printed_digits(row: dict[str, str], growth: float) -> None:
    expected = float(row[f"X1_j{growth:g}"])
    found = float(recovery.force_reduction(float(row["A"]), growth))
    assert found == pytest.approx(expected, abs=0.5e-4)


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda r: f"{r['m_kg']}kg-{r['v1_m_s']}m/s")
def test_worked_openings_step_by_step(row: dict[str, str]) -> None:
    """Each step to half a unit of its last printed digit.

    The force row is printed to 0.1 N; it was worked with unrounded steps, and so are ours.
    """
    v = {key: float(text) for key, text in row.items() if key != "how"}
    area = 3.141592653589793 / 4 * v["Do_m"] ** 2
    assert area == pytest.approx(v["S_m2"], abs=0.5e-4)
    drag_area = v["CD0"] * area
    assert drag_area == pytest.approx(v["CDS_m2"], abs=0.5e-4)
    assert float(recovery.nominal_diameter_m(area)) == pytest.approx(v["Do_m"], rel=1e-12)
    fill = v["n"] * v["Do_m"] / v["v1_m_s"]
    assert float(fill) == pytest.approx(v["tf_s"], abs=0.51e-4)
    ratio = recovery.mass_ratio(v["m_kg"], drag_area, v["rho_kg_m3"], v["v1_m_s"], fill)
    assert float(ratio) == pytest.approx(v["A"], abs=0.51e-4)
    factor = recovery.force_reduction(ratio, v["j"])
    assert float(factor) == pytest.approx(v["X1"], abs=0.51e-4)
    steady = 0.5 * v["rho_kg_m3"] * v["v1_m_s"] ** 2 * drag_area * v["Cx"]
    assert steady == pytest.approx(v["F_infinite_N"], abs=0.051)
    force = float(
        recovery.opening_force_n(
            v["m_kg"],
            drag_area,
            nominal_diameter_m=v["Do_m"],
            filling=recovery.Filling(v["n"], v["j"], v["Cx"]),
            speed_m_s=v["v1_m_s"],
            density_kg_m3=v["rho_kg_m3"],
        )
    )
    assert force == pytest.approx(v["F_N"], abs=0.051)
    assert force / (v["m_kg"] * 9.80665) == pytest.approx(v["F_over_mg"], abs=0.0051)
    speed = float(recovery.terminal_speed_m_s(v["m_kg"], drag_area, v["rho_kg_m3"]))
    assert speed == pytest.approx(v["v_terminal_m_s"], abs=0.00051)


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("flat_circular", "flat circular"),
        ("conical", "conical"),
        ("extended_skirt", "extended skirt 10% flat"),
        ("cross", "cross"),
        ("ringslot", "ringslot"),
    ],
)
def test_fill_constants_as_remembered(key: str, name: str) -> None:
    kind = recovery.canopy_kind(key)
    assert kind.fill_constant == float(FILL[name]["n_unreefed"])
    assert kind.growth == float(FILL[name]["j_area_growth_exponent"])


@pytest.mark.parametrize(
    ("key", "drag", "shock"),
    [
        ("flat_circular", (0.75, 0.80), 1.7),
        ("conical", (0.75, 0.90), 1.8),
        ("extended_skirt", (0.78, 0.87), 1.4),
        ("hemispherical", (0.62, 0.77), 1.6),
        ("annular", (0.85, 0.95), 1.4),
        ("cross", (0.60, 0.85), 1.2),
        ("ringslot", (0.56, 0.65), 1.05),
    ],
)
def test_drag_and_opening_factors_as_remembered(
    key: str, drag: tuple[float, float], shock: float
) -> None:
    """Knacke 1991, tables 5-1 and 5-2 (memory); of a cross the upper of 1.1 to 1.2."""
    kind = recovery.canopy_kind(key)
    assert ((kind.drag_low, kind.drag_high), kind.opening_factor) == (drag, shock)


@pytest.mark.parametrize("key", ["flat_hexagonal", "flat_octagonal", "flat_square"])
def test_a_flat_polygon_opens_as_a_flat_circle(key: str) -> None:
    """The tables have no polygons: drag 0.75 to 0.80, Cx 1.7, n = 8 and j = 2 as of the circle."""
    kind = recovery.canopy_kind(key)
    assert ((kind.drag_low, kind.drag_high), kind.opening_factor) == ((0.75, 0.80), 1.7)
    assert (kind.fill_constant, kind.growth) == (8, 2)


@pytest.mark.parametrize("key", ["hemispherical", "annular"])
def test_kinds_without_a_fill_constant_take_that_of_a_flat_circle(key: str) -> None:
    kind = recovery.canopy_kind(key)
    assert (kind.fill_constant, kind.growth) == (8, 2)


def test_cloth_of_an_annular_canopy_by_its_mouth() -> None:
    """Dc / Do = 1.04 (Knacke 1991, table 5-1, memory): pi / 4 / 1.04^2 = 0.72615."""
    assert recovery.canopy_kind("annular").area_over_square() == pytest.approx(0.72615, abs=1e-5)


def test_what_is_taken_where_no_drag_is_stated() -> None:
    """0.75 where the range holds it, or its middle (practice): 0.78 to 0.87 gives 0.825."""
    found = [
        recovery.canopy_kind(key).usual_drag_coefficient for key in ("conical", "extended_skirt")
    ]
    assert found == pytest.approx([0.75, 0.825])


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="a flat circular canopy of table values gives half of what was logged: rescue canopies, "
    "apex pulled down, fill faster than n = 8; their areas and fill constants are not stated",
)
def test_opening_load_of_rescue_canopies_at_40_m_s() -> None:
    """EN 12491 load drops, 200 Hz logger 2020, nine drops of 80 to 230 kg: force over q CdS.

    Mean of the unbroken first-session drops 0.249 (ratios computed from logged peaks; CdS by the
    standard's sink rate of 5.5 m/s, seen); within a factor 1.5.
    """
    ratios = []
    for mass, area in ((230.0, 121.8), (135.0, 71.5), (120.0, 63.5), (100.0, 52.9), (80.0, 42.4)):
        across = (4.0 * area / 0.775 / 3.141593) ** 0.5
        force = opening_force_n(
            mass,
            area,
            nominal_diameter_m=across,
            filling=recovery.Filling(fill_constant=8.0, growth=2.0, opening_factor=1.7),
            speed_m_s=40.0,
            density_kg_m3=1.225,
        )
        ratios.append(float(force) / (0.5 * 1.225 * 40.0**2 * area))
    assert sum(ratios) / len(ratios) > 0.249 / 1.5
