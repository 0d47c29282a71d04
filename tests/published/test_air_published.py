"""Air against published tables: standard atmosphere, wind code, gust ratios, turbulence.

Sources and how they are held stand beside each check; files lie unaltered in `data/`.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

import plain_air
from goodflight.physics import air
from goodflight.physics.air.atmosphere import SEA_LEVEL_RECORDS_PA, standard_height_m

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


@pytest.mark.parametrize(("height_m", "pressure_pa"), [(15000.0, 12111.0), (20000.0, 5529.3)])
def test_standard_atmosphere_above_the_tropopause(height_m: float, pressure_pa: float) -> None:
    """US Standard Atmosphere 1976, table I (memory): 216.65 K from 11 km to 20 km."""
    found = air.standard_atmosphere(height_m)
    assert float(found.temperature_k) == pytest.approx(216.65)
    assert float(found.pressure_pa) == pytest.approx(pressure_pa, rel=1e-4)


@pytest.mark.parametrize("row", STANDARD, ids=lambda r: r["h_m"])
def test_pressure_altitude_is_the_standard_backwards(row: dict[str, str]) -> None:
    """The same table (seen): geopotential height, r h / (r + h), within half a metre."""
    height = float(row["h_m"])
    found = float(standard_height_m(float(row["p_Pa"])))
    assert found == pytest.approx(6356766.0 * height / (6356766.0 + height), abs=0.5)


def test_no_pressure_on_record_is_refused() -> None:
    """870 hPa in a typhoon of 1979, 1084.8 hPa in Mongolia in 2001: WMO (memory)."""
    assert SEA_LEVEL_RECORDS_PA == (87000.0, 108480.0)


@pytest.mark.parametrize("row", [r for r in STANDARD if 0.0 <= float(r["h_m"]) <= 3000.0])
def test_standard_setting_gives_the_standard_pressure(row: dict[str, str]) -> None:
    """QNH 1013.25 hPa: the field's pressure is the table's (US Standard Atmosphere 1976, seen).

    The rule takes the height as geopotential: 0.47 m and 0.05 hPa at 1.7 km, 0.13 hPa at 3 km.
    """
    height = float(row["h_m"])
    pressure = air.station_pressure_pa(101325.0, height)
    assert pressure == pytest.approx(float(row["p_Pa"]), abs=2.0 + 12.0 * (height / 3000.0) ** 2)
    assert air.sea_level_setting_pa(pressure, height) == pytest.approx(101325.0)


def test_a_setting_that_is_not_the_standard_shifts_by_its_pressure_altitude() -> None:
    """Definition of the altimeter: pressure altitudes of field and setting differ by the height.

    1033.25 hPa lies 165.2 m below the standard's zero: 1500 m of height is 1334.8 m of standard.
    """
    below = -((1.03325e5 / 101325.0) ** 0.190263) * 288.15 / 0.0065 + 288.15 / 0.0065
    standard = float(air.standard_atmosphere(1500.0 + below).pressure_pa)
    assert below == pytest.approx(-165.2, abs=0.05)
    found = air.station_pressure_pa(1.03325e5, 1500.0)
    assert found == pytest.approx(standard, abs=5.0)
    assert air.sea_level_setting_pa(found, 1500.0) == pytest.approx(1.03325e5)


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
    terrain = next(t for t in plain_air.TERRAINS if t.name == row["category"])
    assert terrain.roughness_m == float(row["z0_m"])
    assert terrain.min_height_m == float(row["zmin_m"])
    for height in (2, 10, 50, 100, 200):
        found = float(plain_air.roughness_factor(height, terrain))
        assert found == pytest.approx(float(row[f"cr_{height}m"]), abs=6e-4)
    for height in (10, 50):
        found = float(plain_air.turbulence_intensity(height, terrain))
        assert found == pytest.approx(float(row[f"Iv_{height}m"]), abs=6e-4)


def test_peak_pressure_of_the_worked_example() -> None:
    """JRC example SX016a to EN 1991-1-4: 26 m/s, category II, 7.3 m gives 911 Pa (seen)."""
    assert plain_air.peak_pressure(7.3, 26.0, plain_air.TERRAINS[2]) == pytest.approx(
        911.0, abs=0.5
    )


@pytest.mark.parametrize("row", GUST, ids=lambda r: r["t_s"])
def test_gust_ratios(row: dict[str, str]) -> None:
    """Coastal Engineering Manual and Durst curve fits; formulas seen, values worked out."""
    t = float(row["t_s"])
    assert float(plain_air.gust_ratio_cem(t)) == pytest.approx(
        float(row["cem_ratio_to_hour"]), abs=6e-5
    )
    assert float(plain_air.gust_ratio_durst(t)) == pytest.approx(
        float(row["durst_ratio_to_hour"]), abs=6e-5
    )


def test_gust_factor_gives_the_turbulence_it_was_measured_in() -> None:
    """The averaging curve holds for turbulence of 0.15 to 0.17 (seen beside the table): a 3 s gust
    over ten minutes of 1.4375 must give back a sigma in that range."""
    row = next(r for r in GUST if r["t_s"] == "3")
    sigma = plain_air.gust_sigma(1.0, float(row["cem_ratio_to_600s"]))
    assert 0.15 <= sigma <= 0.17
    other = next(r for r in GUST if r["t_s"] == "10")
    assert plain_air.gust_sigma(1.0, float(other["cem_ratio_to_600s"]), 10.0) == pytest.approx(
        sigma, rel=1e-3
    )


@pytest.mark.parametrize("row", DRYDEN, ids=lambda r: r["h_m"])
def test_dryden_scales(row: dict[str, str]) -> None:
    """MIL-F-8785C low-altitude scales (formulas seen, values worked out in SI); printed digits."""
    h = float(row["h_m"])
    assert float(plain_air.dryden_scale(h)) == pytest.approx(float(row["Lu_m"]), abs=0.06)
    assert float(plain_air.dryden_sigma_ratio(h)) == pytest.approx(
        float(row["sigma_u_over_sigma_w"]), abs=6e-5
    )
    level = plain_air.turbulence(h, 1.0, h, climbing=False)
    assert float(level.scale_along_m) == pytest.approx(float(row["Lu_m"]), abs=0.06)
    assert float(level.scale_across_m) == pytest.approx(float(row["Lv_1797_m"]), abs=0.06)


@pytest.mark.parametrize("row", IEC, ids=lambda r: r["V_ms"])
def test_wind_turbine_turbulence(row: dict[str, str]) -> None:
    """IEC 61400-1 ed. 3 normal turbulence model; constants seen, values worked out."""
    for letter, intensity in (("A", 0.16), ("B", 0.14), ("C", 0.12)):
        found = plain_air.normal_turbulence_sigma(float(row["V_ms"]), intensity)
        assert found == pytest.approx(float(row[f"sigma1_{letter}"]), abs=6e-4)


def test_neutral_exponent_over_open_land() -> None:
    """Hellmann exponents (seen): neutral, flat open coast."""
    row = next(r for r in rows("hellmann_exponents.csv") if r["surface"] == "flat open coast")
    assert float(row["neutral"]) == plain_air.NEUTRAL_OPEN_EXPONENT


def test_the_flown_gusts_lie_where_the_averaging_curve_was_measured() -> None:
    """3 s over ten minutes: 1.4375 (Coastal Engineering Manual, seen) at 0.15 to 0.17 (seen)."""
    row = next(r for r in GUST if r["t_s"] == "3")
    sigma = float(air.gust_sigma_m_s(1.0, float(row["cem_ratio_to_600s"])))
    assert 0.15 <= sigma <= 0.17


@pytest.mark.parametrize("gust", [1.0, 1.2, 1.6, 2.0, 2.5])
def test_the_flown_gusts_are_the_wind_code_s(gust: float) -> None:
    """EN 1991-1-4 eq 4.8 (seen in the wind example), q_p / q = G^2 = 1 + 7 I: exact."""
    intensity = float(air.gust_sigma_m_s(5.0, gust)) / 5.0
    assert 1.0 + 7.0 * intensity == pytest.approx(gust**2)
