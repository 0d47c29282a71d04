"""Cords, descent and canopy drag against rows of published tables and of measured flights."""

import csv
from pathlib import Path

import pytest

from goodflight.physics.air import standard_atmosphere
from goodflight.physics.recovery import canopy_kind, terminal_speed_m_s
from goodflight.physics.recovery.cord import stiffness_n_m
from goodflight.physics.vehicle.parts import Cord
from goodflight.quantity import parse

DATA = Path(__file__).parent / "data"
PAD_M = 1389.0


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


CORDS = rows("06_cords_webbing.csv")


@pytest.mark.parametrize(("item", "joule"), [("nylon", 834.0), ("aramid", 120.0)])
def test_energy_that_breaks_a_metre_of_cord(item: str, joule: float) -> None:
    """Half of force times stretch, held as derived: 1/2 F^2 / k of the spring that is flown."""
    (row,) = [r for r in CORDS if r["item"].startswith(f"energy to break, {item}")]
    assert row["how"] == "derived" and f"{joule:.0f} J per m" in row["source"]
    force, stretch = float(row["break_N"]), float(row["elong_at_break_pct"]) / 100.0
    stiff = float(stiffness_n_m(force, stretch, 1.0))
    assert 0.5 * force**2 / stiff == pytest.approx(joule, abs=0.5)


STRENGTHS = [row for row in CORDS if row["how"] == "seen"]


@pytest.mark.parametrize("row", STRENGTHS, ids=lambda row: row["item"])
def test_strength_of_a_webbing_is_read_as_its_specification_gives_it(row: dict[str, str]) -> None:
    """PIA-W-1100A, MIL-T-8363B, CID A-A-59467, seen: pounds of force and newtons, to the newton."""
    for found in (f"{row['break_lbf']} lbf", f"{row['break_N']} N"):
        assert parse(found, "force").value == pytest.approx(float(row["break_N"]), abs=0.6)


def test_a_leader_stretches_as_woven_aramid_does() -> None:
    """Para-aramid tape about 4 to 6 % woven, memory; its fibre 3.6 %, fibre guide, memory."""
    (fibre,) = [r for r in CORDS if r["item"].startswith("para-aramid fibre")]
    (tape,) = [r for r in CORDS if r["item"].startswith("para-aramid tape")]
    assert tape["elong_at_break_pct"] == "about 4-6 woven"
    assert float(fibre["elong_at_break_pct"]) / 100.0 < Cord.leader_elongation <= 0.06


def test_a_canopy_slows_down_with_the_air_as_a_flight_did() -> None:
    """University three-fin vehicle, 2013, first canopy, barometer, seen: 33.56 to 27.71 m/s.

    From 4250 to 750 m above its pad at 1389 m: 1.211. One flight, straight fits: 3 %.
    """
    high, low = (
        next(
            r
            for r in rows("threefin_descent_rates.csv")
            if r["flight"] == "2013" and r["h_top_m"] == top
        )
        for top in ("4500", "1000")
    )
    measured = float(high["rate_ms"]) / float(low["rate_ms"])
    fast, slow = (
        float(terminal_speed_m_s(25.5, 0.4, standard_atmosphere(PAD_M + above).density_kg_m3))
        for above in (4250.0, 750.0)
    )
    assert fast / slow == pytest.approx(measured, rel=0.03)


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="0.75 is taken, the low end of the table's 0.75 to 0.80, so that no descent is told "
    "too slow; the tunnel's small models stand 6 to 13 % above the table",
)
def test_a_flat_canopy_drags_as_in_the_tunnel() -> None:
    """JST Smart Systems and Devices 31(2), 2021, abstract, seen: nearly 0.85 above 6 m/s; 10 %."""
    found = rows("flat_circular_tunnel_2021.csv")[0]
    assert found["value"] == "nearly 0.85"
    assert canopy_kind("flat_circular").usual_drag_coefficient == pytest.approx(0.85, rel=0.10)
