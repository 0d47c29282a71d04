"""Slopes, interference, cross-flow and friction against published figures and worked examples.

DATCOM: USAF Stability and Control DATCOM 1976 / AFFDL-TR-79-3032 worked examples, held: seen.
NACA Report 1307 closed form against the DATCOM figure; NASA TR R-474 figures, held: seen.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from goodflight.physics import aero
from goodflight.physics.aero import base, body, curves, drag, friction
from plain_body import body_shape

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def points(name: str) -> list[tuple[float, float]]:
    return [tuple(float(v) for v in row.values()) for row in rows(name)]  # type: ignore[misc]


WORKED = {
    (r["example"], r["quantity"]): (float(r["published"]), float(r["recomputed"]))
    for r in rows("datcom_worked_examples.csv")
}
EP1 = "EP1 case1 M0.6"
EP1_X_FT = np.array([0, 0.258, 0.589, 1.26, 2.26, 2.59, 2.93, 3.59, 4.57, 6.26])
EP1_AREA_FT2 = np.array([0, 0.08, 0.16, 0.323, 0.751, 0.883, 0.939, 1.032, 1.032, 1.032])
EP1_REF_FT2, EP1_CHORD_FT, EP1_CG_FT = 8.85, 2.46, 4.14
EP3_BODY_RADIUS_FT = 0.208


def published(quantity: str, example: str = EP1) -> float:
    return WORKED[example, quantity][0]


# ---- digitised curves are the files, point by point ----
@pytest.mark.parametrize(
    ("curve", "name"),
    [
        (curves.APPARENT_MASS, "datcom_body_apparent_mass.csv"),
        (curves.CROSSFLOW_CD, "datcom_crossflow_cdc.csv"),
        (curves.CROSSFLOW_ETA, "datcom_crossflow_eta.csv"),
        (curves.ROUGHNESS_EXPONENT, "datcom_roughness_cutoff.csv"),
    ],
)
def test_curves_are_the_published_tables(curve: curves.Curve, name: str) -> None:
    assert curve.points == tuple(points(name))


@pytest.mark.parametrize(
    ("surface", "name"),
    [
        (curves.OGIVE_SLOPE, "datcom_supersonic_cna_ogive_cylinder.csv"),
        (curves.CONE_SLOPE, "datcom_supersonic_cna_cone_cylinder.csv"),
        (curves.LIFTING_SURFACE, "datcom_fin_rls.csv"),
    ],
)
def test_surfaces_are_the_published_tables(surface: curves.Surface, name: str) -> None:
    printed = rows(name)
    table = sorted([float(v) for v in row.values()] for row in printed)
    assert surface.rows == tuple(line[0] for line in table)
    assert surface.columns == tuple(float(head.split("_")[-1]) for head in list(printed[0])[1:])
    assert surface.values == tuple(tuple(line[1:]) for line in table)


def test_wave_drag_ordinates_of_pointed_noses() -> None:
    """DATCOM figs 4.2.3.1-27 and -28 (seen): the column of full noses."""
    cone = rows("datcom_supersonic_nose_wave_drag_cone.csv")
    assert curves.CONE_WAVE.points == tuple(
        (float(r["two_ln_over_beta_d"]), float(r["v_0"])) for r in cone
    )
    ogive = rows("datcom_supersonic_nose_wave_drag_ogive.csv")
    assert {float(r["v_0"]) for r in ogive} == {curves.OGIVE_WAVE}


def test_drag_rise_curve() -> None:
    """Raymer 1992 fig 12.28, subsonic design (seen)."""
    expected = [
        (float(r["two_ln_over_d"]), float(r["mdd_subsonic_design"]))
        for r in rows("raymer_fig12-28_body_mdd.csv")
    ]
    assert curves.DRAG_RISE.points == tuple(expected)


# ---- DATCOM example 1: body alone ----
def ep1_body() -> aero.BodyShape:
    return body_shape(EP1_X_FT, np.sqrt(EP1_AREA_FT2 / np.pi), 3.59)


def test_example_1_fineness_and_apparent_mass() -> None:
    """Fineness to 1e-5; k2 - k1 to the digits of the table (straight line between its points)."""
    shape = ep1_body()
    assert shape.fineness == pytest.approx(published("fineness ratio"), rel=2e-5)
    assert float(body.apparent_mass_factor(shape.fineness)) == pytest.approx(
        published("k2-k1"), abs=1e-5
    )


def test_example_1_lift_slope() -> None:
    shape = ep1_body()
    slope = float(body.body_slope(shape, 0.6).slope[0]) * shape.area_m2 / EP1_REF_FT2
    assert np.radians(slope) == pytest.approx(published("CL_alpha per deg"), rel=1e-4)


def test_example_1_pitching_moment_slope() -> None:
    """1 %: between the ten stations we take cones, the example straight lines of section area,
    which puts the lift of the long first pieces a little further forward."""
    shape = ep1_body()
    sums = body.body_slope(shape, 0.6)
    about_cg = EP1_CG_FT * float(sums.slope[0]) - float(sums.moment_m[0])
    found = np.radians(about_cg * shape.area_m2 / EP1_REF_FT2 / EP1_CHORD_FT)
    assert found == pytest.approx(published("Cm_alpha per deg about x=4.14 ft"), rel=0.01)


def test_example_1_crossflow_factor() -> None:
    assert float(aero.crossflow_eta(published("fineness ratio"))) == pytest.approx(
        published("eta cross-flow"), abs=1e-5
    )


def test_example_1_friction() -> None:
    """Reynolds and cut-off numbers to 1e-3 (length rounded to 6.26 ft); Cf within 1 %, the
    difference of Prandtl-Schlichting from the handbook's polynomial."""
    re = 4.28e6 * 6.26
    assert re == pytest.approx(published("Re_L"), rel=1e-4)
    ratio = 6.26 * 12.0 / 0.16e-3
    cutoff = float(friction.cutoff_reynolds(ratio, 0.6))
    assert cutoff == pytest.approx(published("Re_cutoff (k=0.16e-3 in)"), rel=1e-3)
    found = float(friction.friction_coefficient(re, 0.6, ratio))
    assert found == pytest.approx(published("Cf turbulent"), rel=0.01)


def test_example_1_friction_drag() -> None:
    """From the example's own Cf and wetted area: friction with form, to 1e-4."""
    cf, wetted = published("Cf turbulent"), published("wetted area ft2")
    rubbing = float(drag.body_friction(cf, published("fineness ratio"), wetted, EP1_REF_FT2))
    assert rubbing == pytest.approx(published("CD friction+form (Sref 8.85)"), rel=1e-4)


@pytest.mark.xfail(
    strict=True,
    reason="the example's base drag falls with the boundary layer (Hoerner: 0.117 on the base); "
    "measured projectiles (0.155) and the free-rocket handbook's symbols (0.16) do not, and both "
    "are used here: 20 % above the example's whole drag",
)
def test_example_1_whole_drag() -> None:
    """The example's zero-lift drag, also the polar's axial force, within 10 %."""
    whole = published("CD friction+form (Sref 8.85)")
    whole += float(base.base_drag(0.6, ep1_body())) * 1.032 / EP1_REF_FT2
    assert whole == pytest.approx(published("CD0 total"), rel=0.10)


def ep1_polar(alpha_deg: float) -> float:
    """Normal force coefficient of the example's body with our cross-flow over its whole length."""
    shape = ep1_body()
    a = np.radians(alpha_deg)
    potential = float(body.body_slope(shape, 0.6).slope[0]) * np.sin(a) * np.cos(a)
    half_width = np.array([0, 0.186, 0.286, 0.424, 0.533, 0.533, 0.533, 0.533, 0.533, 0.533])
    planform = 2.0 * float(np.trapezoid(half_width, EP1_X_FT))
    cross = float(aero.crossflow_eta(shape.fineness) * aero.crossflow_drag(0.6 * np.sin(a)))
    cross *= planform / EP1_REF_FT2 * np.sin(a) ** 2
    return potential * shape.area_m2 / EP1_REF_FT2 + cross


POLAR = rows("datcom_ep1_body_polar_M0.6.csv")


@pytest.mark.parametrize("alpha", [0, 2, 4])
def test_example_1_polar_at_small_incidence(alpha: int) -> None:
    """Printed to 0.001, plus the 0.001 our cross-flow adds at 4 degrees (see below)."""
    row = next(r for r in POLAR if int(r["alpha_deg"]) == alpha)
    assert ep1_polar(alpha) == pytest.approx(float(row["CN"]), abs=0.0020)


@pytest.mark.xfail(
    reason="the example starts the cross-flow where the body's section shrinks fastest; this body "
    "never shrinks, so its polar is the straight line alone. Allen & Perkins count the whole side "
    "area, which doubles CN at 24 degrees and is what measurements of ogive-cylinders show."
)
@pytest.mark.parametrize("alpha", [12, 16, 20, 24])
def test_example_1_polar_at_large_incidence(alpha: int) -> None:
    row = next(r for r in POLAR if int(r["alpha_deg"]) == alpha)
    assert ep1_polar(alpha) == pytest.approx(float(row["CN"]), rel=0.1)


# ---- DATCOM example 3: wing and tail on a body ----
def swept(semispan: float, exposed: float, root: float, tip: float) -> aero.FinShape:
    """Exposed panel of a straight-tapered wing, quarter chord swept 45 degrees, in feet."""
    cut = semispan - exposed
    chord = root - (root - tip) * cut / semispan
    lead_tip = exposed + 0.25 * (chord - tip)
    outline = [(0.0, 0.0), (lead_tip, exposed), (lead_tip + tip, exposed), (chord, 0.0)]
    return aero.fin_shape(2, 0.0, outline, cut)


WING = swept(1.50, 1.29, 1.16, 0.346)
TAIL = swept(0.67, 0.52, 0.42, 0.253)


@pytest.mark.parametrize(
    ("found", "quantity", "half_digit"),
    [
        (2 * WING.area_m2, "wing exposed area ft2", 6e-4),
        (WING.aspect, "wing exposed aspect ratio", 6e-4),
        (WING.taper, "wing exposed taper", 6e-4),
        (WING.mean_chord_m, "wing exposed MAC ft", 6e-4),
        (WING.centroid_m, "wing exposed y of MAC ft from centreline", 6e-4),
        (2 * TAIL.area_m2, "tail exposed area ft2", 6e-5),
        (TAIL.aspect, "tail exposed aspect ratio", 6e-4),
        (TAIL.mean_chord_m, "tail exposed MAC ft", 6e-4),
    ],
)
def test_example_3_fin_geometry(found: float, quantity: str, half_digit: float) -> None:
    """To the printed digit."""
    assert found == pytest.approx(published(quantity, "EP3 case1"), abs=half_digit)


@pytest.mark.parametrize(
    ("fin", "quantity"),
    [
        (WING, "wing-alone CL_alpha per deg (Sref 2.25)"),
        (TAIL, "tail-alone CL_alpha per deg (Sref 2.25)"),
    ],
)
def test_example_3_lift_slope_of_exposed_surfaces(fin: aero.FinShape, quantity: str) -> None:
    """Section slope 0.131 per deg at Mach 0.6 makes k = 0.956. Within 0.1 % of the arithmetic from
    the printed formula and 1.5 % of the printed result, which reads a chart."""
    ratio = np.degrees(0.131) * 0.8 / (2.0 * np.pi)
    slope = float(aero.subsonic_slope(fin.aspect, fin.tan_half, 0.6, ratio))
    found = np.radians(slope * 2.0 * fin.area_m2 / 2.25)
    printed, recomputed = WORKED["EP3 case1 M0.6", quantity]
    assert found == pytest.approx(recomputed, rel=1e-3)
    assert found == pytest.approx(printed, rel=0.015)


def test_simple_swept_form_is_high() -> None:
    """Known trap: the form with A b / cos L is 8 to 9 % above the lifting-surface form at Mach 0.6
    for a half-chord sweep near 41 deg, and equal at Mach 0 (derived)."""
    tan = WING.tan_half
    cosine = 1.0 / np.sqrt(1.0 + tan**2)

    def simple(mach: float) -> float:
        b = np.sqrt(1.0 - mach**2)
        return 2 * np.pi * WING.aspect / (2 + np.sqrt(4 + (WING.aspect * b / cosine) ** 2))

    assert simple(0.0) == pytest.approx(float(aero.subsonic_slope(WING.aspect, tan, 0.0)))
    high = simple(0.6) / float(aero.subsonic_slope(WING.aspect, tan, 0.6)) - 1.0
    assert 0.05 < high < 0.10


def test_example_3_interference_factors() -> None:
    """K_W(B) printed from a chart with 0.01 reading: within 0.005. K_B(W) 0.1476 comes from that
    run's own supersonic route; ours is the slender-body value, 0.1877 in the recomputation."""
    tau = 1.50 / EP3_BODY_RADIUS_FT
    assert float(aero.fin_on_body(tau)) == pytest.approx(
        published("K_W(B) wing d/b 0.1387", "EP3 case1"), abs=0.005
    )
    assert float(aero.body_by_fin(tau)) == pytest.approx(0.1877, abs=5e-4)
    # the tail's ratio is printed; its body is narrower
    assert float(aero.fin_on_body(1.0 / 0.2239)) == pytest.approx(
        published("K_H(B) tail d/b 0.2239", "EP3 case1"), abs=0.005
    )


EP3_X_FT = np.array([0, 0.175, 0.322, 0.530, 0.850, 1.460, 2.50, 3.43, 3.97, 4.57])
EP3_AREA_FT2 = np.array([0, 0.00547, 0.0220, 0.0491, 0.0872, 0.136, 0.136, 0.136, 0.0993, 0.0598])


def ep3_body() -> aero.BodyShape:
    return body_shape(EP3_X_FT, np.sqrt(EP3_AREA_FT2 / np.pi), 1.46)


def test_example_3_body_that_narrows() -> None:
    """The handbook's end of potential flow, x0 / l = 0.378 + 0.527 x1 / l with x1 = 3.43 ft, and
    the slope 2 (k2 - k1) S(x0) worked out from it by hand; 1 % for cones instead of straight lines
    of section area. The whole loss at the tail would be 0.46 of it."""
    end = 4.57 * 0.378 + 0.527 * 3.43
    shape = ep3_body()
    assert body.potential_end_m(shape) == pytest.approx(end, abs=1e-9)
    factor = float(body.apparent_mass_factor(shape.fineness))
    expected = 2.0 * factor * float(np.interp(end, EP3_X_FT, EP3_AREA_FT2)) / shape.area_m2
    slope = float(body.body_slope(shape, 0.6).slope[0])
    assert slope == pytest.approx(expected, rel=0.01)
    assert slope > 2.0 * (2.0 * factor * 0.0598 / shape.area_m2)


def test_example_3_wing_and_body() -> None:
    """Whole wing-body slope within 2 %: wing (chart against formula 0.4 %), factors (0.5 %), body
    (2 % of the total)."""
    shape = ep3_body()
    alone = np.radians(float(body.body_slope(shape, 0.6).slope[0]) * shape.area_m2 / 2.25)
    ratio = np.degrees(0.131) * 0.8 / (2.0 * np.pi)
    slope = float(aero.subsonic_slope(WING.aspect, WING.tan_half, 0.6, ratio))
    wing = np.radians(slope * 2.0 * WING.area_m2 / 2.25)
    tau = 1.50 / EP3_BODY_RADIUS_FT
    total = wing * float(aero.fin_on_body(tau) + aero.body_by_fin(tau)) + alone
    expected = published("wing-body CL_alpha per deg", "EP3 case1 M0.6")
    assert total == pytest.approx(expected, rel=0.02)


# ---- interference, whole range ----
@pytest.mark.parametrize(
    "row", rows("datcom_interference_kwb_kbw.csv"), ids=lambda r: r["d_over_b"]
)
def test_interference_factors(row: dict[str, str]) -> None:
    """NACA Report 1307 closed form against DATCOM fig 4.3.1.2-10 within its reading accuracy
    (0.025, stated beside the table; seen) and against the closed form worked out apart."""
    ratio = float(row["d_over_b"])
    tau = 1.0 / max(ratio, 1e-4) if ratio < 1.0 else 1.0 + 1e-4
    kw, kb = float(aero.fin_on_body(tau)), float(aero.body_by_fin(tau))
    assert kw == pytest.approx(float(row["k_wb"]), abs=0.025)
    assert kb == pytest.approx(float(row["k_bw"]), abs=0.028)
    assert kw == pytest.approx(float(row["exact_k_wb"]), abs=3e-4)
    assert kb == pytest.approx(float(row["exact_k_bw"]), abs=4e-4)


# ---- cross-flow ----
@pytest.mark.parametrize("point", points("jorgensen1977_fig4_eta.csv"), ids=str)
def test_crossflow_factor_of_finite_length(point: tuple[float, float]) -> None:
    """DATCOM fig 4.2.1.2-35a, which we use, against NASA TR R-474 fig 4 (seen), within 0.02."""
    length, expected = point
    if length > 28:
        pytest.skip("beyond the 28 calibres of the figure we use")
    assert float(aero.crossflow_eta(length)) == pytest.approx(expected, abs=0.02)


CDN = points("jorgensen1977_fig1_cdn.csv")


@pytest.mark.parametrize("point", [p for p in CDN if p[0] <= 0.65 or p[0] >= 1.1], ids=str)
def test_crossflow_drag(point: tuple[float, float]) -> None:
    """DATCOM fig 4.2.1.2-35b, which we use, against NASA TR R-474 fig 1 (seen, reading 0.03):
    within 0.05 to Mach 0.65 and above 1.1."""
    mach, expected = point
    assert float(aero.crossflow_drag(mach)) == pytest.approx(expected, abs=0.06)


@pytest.mark.xfail(
    reason="the two figures differ by 0.1 to 0.25 between cross-flow Mach 0.7 and 1; "
    "no flight of ours goes broadside that fast"
)
@pytest.mark.parametrize("point", [p for p in CDN if 0.65 < p[0] < 1.1], ids=str)
def test_crossflow_drag_near_the_speed_of_sound(point: tuple[float, float]) -> None:
    mach, expected = point
    assert float(aero.crossflow_drag(mach)) == pytest.approx(expected, abs=0.06)


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="past the drag crisis, cross-flow Reynolds number above 1e6, the figure falls to 0.27 "
    "to 0.9; the model has no Reynolds number and stays at 1.2 and more: lift across is overstated",
)
@pytest.mark.parametrize("row", rows("jorgensen1977_fig3_supercritical.csv"), ids=str)
def test_crossflow_drag_past_the_crisis(row: dict[str, str]) -> None:
    """NASA TR R-474 fig 3 (seen, reading 0.03) within 0.06."""
    found = float(aero.crossflow_drag(float(row["crossflow_mach"])))
    assert found == pytest.approx(float(row["cdn"]), abs=0.06)


# ---- friction ----
FRICTION = rows("datcom_turbulent_skin_friction.csv")


@pytest.mark.parametrize("row", FRICTION, ids=lambda r: r["re"])
@pytest.mark.parametrize("mach", ["0", "0.3", "0.7", "0.9", "1.0", "1.5"])
def test_turbulent_friction(row: dict[str, str], mach: str) -> None:
    """DATCOM fig 4.1.5.1-26 (seen) within 2 %."""
    found = float(friction.turbulent_friction(float(row["re"]), float(mach)))
    assert found == pytest.approx(float(row[f"cf_M{mach}"]), rel=0.02)


@pytest.mark.parametrize("row", FRICTION, ids=lambda r: r["re"])
def test_prandtl_schlichting(row: dict[str, str]) -> None:
    """Incompressible formula (memory) to the printed digits."""
    found = float(friction.turbulent_friction(float(row["re"]), 0.0))
    assert found == pytest.approx(float(row["prandtl_schlichting"]), abs=1e-6)


# ---- base and boat-tail ----
MCCOY = rows("mcdrag1981_base_boattail_head.csv")
CYLINDER_CAL = 8.0  # of the table's body of 12 calibres behind its 4-calibre nose


def mccoy_body(row: dict[str, str]) -> aero.BodyShape:
    """The table's body, one calibre wide: ogive of 4, cylinder, boat-tail."""
    tail, end = float(row["boattail_len_cal"]), float(row["base_dia_cal"]) / 2.0
    x = np.linspace(0.0, 4.0, 60)
    rho = (0.25 + 16.0) / 1.0
    r = np.sqrt(rho**2 - (4.0 - x) ** 2) - (rho - 0.5)
    ends = ([12.0], [0.5]) if tail == 0.0 else ([12.0 - tail, 12.0], [0.5, end])
    return body_shape(np.append(x, ends[0]), np.append(r, ends[1]), 4.0)


@pytest.mark.parametrize("row", MCCOY, ids=lambda r: f"M{r['mach']}-{r['base_dia_cal']}")
def test_base_and_boat_tail_drag(row: dict[str, str]) -> None:
    """McCoy 1981 (computed from equations seen in two ports): to the printed digits."""
    mach, shape = float(row["mach"]), mccoy_body(row)
    assert float(base.base_drag(mach, shape)) == pytest.approx(float(row["CD_base"]), abs=2e-4)
    tail = float(base.tail_drag(mach, shape))
    assert tail == pytest.approx(float(row["CD_boattail"]), abs=2e-4)


@pytest.mark.parametrize(
    ("mach", "expected"), [(0.5, 0.151), (0.7, 0.160), (0.9, 0.169), (1.0, 0.214)]
)
def test_square_base_of_a_long_body(mach: float, expected: float) -> None:
    """The same for a body of 16 calibres, through the summed drag: 0.02."""
    shape = body_shape([0, 3, 16], [0, 0.5, 0.5], 3.0)
    found = aero.axial_force(aero.Shape(shape, (), (), 1e-6), np.array([mach]), np.array([1e6]))
    assert float(found.base[0]) == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize("point", points("milhdbk762_fig5-140_base_drag.csv"), ids=str)
def test_base_pressure_against_the_handbook(point: tuple[float, float]) -> None:
    """MIL-HDBK-762 fig 5-140 (seen), a set of its own: 0.02 below Mach 1, where its symbols scatter
    by as much near the speed of sound, 0.03 above to Mach 3.5."""
    mach, expected = point
    if mach > 3.5:
        pytest.skip("beyond Mach 3.5; the tables end at 2")
    tolerance = 0.02 if mach < 1.0 else 0.03
    found = float(base.base_pressure(mach, CYLINDER_CAL))
    assert found == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("point", points("datcom_supersonic_base_pressure.csv"), ids=str)
def test_base_pressure_against_another_handbook(point: tuple[float, float]) -> None:
    """DATCOM fig 4.2.3.1-60 (seen), within 0.03 from Mach 1.1 to 3.5."""
    mach, expected = point
    if not 1.1 < mach <= 3.5:
        pytest.skip("starts with a jump at Mach 1; the tables end at 2")
    assert float(base.base_pressure(mach, CYLINDER_CAL)) == pytest.approx(expected, abs=0.03)


JUMP = pytest.mark.xfail(
    strict=True, reason="the correlation jumps to 0.10 at Mach 1.05, ours rises smoothly to 1.1"
)


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(r, marks=JUMP if r["mach"] == "1.05" else (), id="M" + r["mach"])
        for r in MCCOY
        if r["base_dia_cal"] == "1"
    ],
)
def test_nose_drag_against_the_correlation(row: dict[str, str]) -> None:
    """Ogive of 4 calibres, McCoy 1981 (computed): 0.03, the spread of our drag near Mach 1."""
    mach, shape = float(row["mach"]), mccoy_body(row)
    found = float(drag.nose_drag(shape, mach))
    assert found == pytest.approx(float(row["CD_nose_ogive4"]), abs=0.03)


# ---- supersonic bodies ----
@pytest.mark.parametrize(
    ("shape", "surface"), [("tangent_ogive", curves.OGIVE_SLOPE), ("cone", curves.CONE_SLOPE)]
)
@pytest.mark.parametrize("cylinder", [0.8, 2.0, 3.0])
@pytest.mark.parametrize("mach", [1.25, 1.5])
def test_supersonic_slope_of_nose_and_cylinder(
    shape: str, surface: curves.Surface, cylinder: float, mach: float
) -> None:
    """DATCOM figs 4.2.1.1-21 (seen): the summed slope is the figure's, at its own points."""
    length = 3.0
    found = aero.body_slope(
        body_shape([0, length, length * (1 + cylinder)], [0, 0.5, 0.5], length, shape),  # type: ignore[arg-type]
        mach,
    )
    expected = float(surface(cylinder, np.sqrt(mach**2 - 1.0) / length))
    assert float(found.slope[0]) == pytest.approx(expected, rel=1e-9)
