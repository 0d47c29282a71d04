"""Air against published tables: standard atmosphere, wind code, gust ratios, turbulence, sounding.

Sources and how they are held stand beside each check; files lie unaltered in `data/`.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from goodflight.physics import air

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


STANDARD = rows("us_standard_atmosphere_1976.csv")
DRYDEN = rows("dryden_low_altitude.csv")
TERRAIN = rows("eurocode_wind_terrain.csv")
GUST = rows("gust_factor_averaging_time.csv")
IEC = rows("iec61400_turbulence.csv")


@pytest.mark.parametrize("row", STANDARD, ids=lambda r: r["h_m"])
def test_standard_atmosphere(row: dict[str, str]) -> None:
    """US Standard Atmosphere 1976; table columns seen, finer columns computed from its definition.

    Tolerance: half of the last printed digit of each column; a whole one for the pressure, which
    that table cuts off instead of rounding (84559.7 Pa is printed 84559).
    """
    found = air.standard_atmosphere(float(row["h_m"]))
    fine = ("T_K", "p_Pa", "rho_kgm3", "a_ms", "mu_Pas")
    for name, value in zip(fine, found):
        assert float(value) == pytest.approx(float(row[name]), rel=6e-6), name
    printed = ("T_tab", "p_tab", "rho_tab", "a_tab", "mu_tab_e6")
    for name, value, half, scale in zip(
        printed, found, (0.06, 1.0, 0.0006, 0.06, 0.006), (1, 1, 1, 1, 1e6)
    ):
        assert float(value) * scale == pytest.approx(float(row[name]), abs=half), name


def test_days_air_is_the_standard_on_a_standard_day() -> None:
    """On a standard day at sea level the day's air is the standard; constant gravity costs 0.05 %
    of the pressure at 2 km (geometric against geopotential height: 0.6 m there)."""
    h = np.array([0.0, 500.0, 1000.0, 2000.0])
    day, standard = air.atmosphere(h), air.standard_atmosphere(h)
    assert day.pressure_pa == pytest.approx(standard.pressure_pa, rel=2e-4)
    assert day.temperature_k == pytest.approx(standard.temperature_k, abs=0.005)


@pytest.mark.parametrize("row", TERRAIN, ids=lambda r: r["category"])
def test_wind_code_profile(row: dict[str, str]) -> None:
    """EN 1991-1-4:2005 table 4.1, eqs 4.3 to 4.8; constants seen, columns worked out from them."""
    terrain = next(t for t in air.TERRAINS if t.name == row["category"])
    assert terrain.roughness_m == float(row["z0_m"])
    assert terrain.least_height_m == float(row["zmin_m"])
    for height in (2, 10, 50, 100, 200):
        found = float(air.roughness_factor(height, terrain))
        assert found == pytest.approx(float(row[f"cr_{height}m"]), abs=6e-4)
    for height in (10, 50):
        found = float(air.turbulence_intensity(height, terrain))
        assert found == pytest.approx(float(row[f"Iv_{height}m"]), abs=6e-4)


def test_peak_pressure_of_the_worked_example() -> None:
    """JRC example SX016a to EN 1991-1-4: 26 m/s, category II, 7.3 m gives 911 Pa (seen)."""
    assert air.peak_pressure(7.3, 26.0, air.TERRAINS[2]) == pytest.approx(911.0, abs=0.5)


@pytest.mark.parametrize("row", GUST, ids=lambda r: r["t_s"])
def test_gust_ratios(row: dict[str, str]) -> None:
    """Coastal Engineering Manual and Durst curve fits; formulas seen, values worked out."""
    t = float(row["t_s"])
    assert float(air.gust_ratio_cem(t)) == pytest.approx(float(row["cem_ratio_to_hour"]), abs=6e-5)
    assert float(air.gust_ratio_durst(t)) == pytest.approx(
        float(row["durst_ratio_to_hour"]), abs=6e-5
    )


def test_gust_factor_gives_the_turbulence_it_was_measured_in() -> None:
    """The averaging curve holds for turbulence of 0.15 to 0.17 (seen beside the table): a 3 s gust
    over ten minutes of 1.4375 must give back a sigma in that range."""
    row = next(r for r in GUST if r["t_s"] == "3")
    sigma = air.gust_sigma(1.0, float(row["cem_ratio_to_600s"]))
    assert 0.15 <= sigma <= 0.17
    other = next(r for r in GUST if r["t_s"] == "10")
    assert air.gust_sigma(1.0, float(other["cem_ratio_to_600s"]), 10.0) == pytest.approx(
        sigma, rel=1e-3
    )


@pytest.mark.parametrize("row", DRYDEN, ids=lambda r: r["h_m"])
def test_dryden_scales(row: dict[str, str]) -> None:
    """MIL-F-8785C low-altitude scales (formulas seen, values worked out in SI); printed digits."""
    h = float(row["h_m"])
    assert float(air.dryden_scale(h)) == pytest.approx(float(row["Lu_m"]), abs=0.06)
    assert float(air.dryden_sigma_ratio(h)) == pytest.approx(
        float(row["sigma_u_over_sigma_w"]), abs=6e-5
    )
    level = air.turbulence(h, 1.0, h, climbing=False)
    assert float(level.scale_along_m) == pytest.approx(float(row["Lu_m"]), abs=0.06)
    assert float(level.scale_across_m) == pytest.approx(float(row["Lv_1797_m"]), abs=0.06)


@pytest.mark.parametrize("row", IEC, ids=lambda r: r["V_ms"])
def test_wind_turbine_turbulence(row: dict[str, str]) -> None:
    """IEC 61400-1 ed. 3 normal turbulence model; constants seen, values worked out."""
    for letter, intensity in (("A", 0.16), ("B", 0.14), ("C", 0.12)):
        found = air.normal_turbulence_sigma(float(row["V_ms"]), intensity)
        assert found == pytest.approx(float(row[f"sigma1_{letter}"]), abs=6e-4)


def test_neutral_exponent_over_open_land() -> None:
    """Hellmann exponents (seen): neutral, flat open coast."""
    row = next(r for r in rows("hellmann_exponents.csv") if r["surface"] == "flat open coast")
    assert float(row["neutral"]) == air.NEUTRAL_OPEN_EXPONENT


def test_sounding_heights_of_a_real_balloon() -> None:
    """US National Weather Service sounding, Morehead City, 2000-05-23 00Z (public data, seen).

    Printed heights are geopotential metres from the service's own integration over finer levels
    than printed; our trapezoid over the printed ones must meet them within 3 m + 0.1 % up to 3 km.
    """
    text = (DATA / "nws_sounding_MHX_2000-05-23_00Z.txt").read_text(encoding="utf-8")
    body = text.split("%RAW%")[1].split("%END%")[0]
    table = np.array(
        [[float(v) for v in line.split(",")] for line in body.split("\n") if "," in line]
    )
    table = table[table[:, 0] > 700.0]
    found = air.level_heights(100.0 * table[:, 0], table[:, 2] + 273.15, table[:, 3] + 273.15)
    published = table[:, 1] - table[0, 1]
    assert len(table) > 10
    assert np.all(np.abs(found - published) < 3.0 + 1e-3 * published)
