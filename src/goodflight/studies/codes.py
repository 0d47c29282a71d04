"""Limits of the rules that hold at a field, as data: value, where it is written, how sure.

A code set answers with a number or with nothing; nothing is shown as unknown, never as ok. The
local authority, the organisation's current text and the range safety officer decide.
"""

from dataclasses import dataclass
from typing import Final

FOOT_M: Final = 0.3048
MILE_PER_HOUR_M_S: Final = 0.44704


@dataclass(frozen=True)
class Limit:
    """One figure of a code."""

    value: float  # SI
    source: str
    how: str  # seen | derived | practice | memory


@dataclass(frozen=True)
class CodeSet:
    """The limits of one country or organisation; a missing limit is None."""

    key: str
    title: str
    level_impulse_ns: dict[str, Limit]
    rail_tilt_rad: Limit | None = None
    wind_m_s: Limit | None = None
    mass_to_thrust: Limit | None = None  # lift-off weight over average thrust, at most
    property_m: Limit | None = None  # to uninvolved persons and property, at least
    property_share: Limit | None = None  # or this share of the greatest height
    site_m: Limit | None = None  # least dimension of the site, at least
    site_share: Limit | None = None  # or this share of the greatest height
    people_m: tuple[tuple[float, Limit], ...] = ()  # (impulse up to, distance of the crew)
    cloud_cover_tenths: Limit | None = None


_NFPA = "NFPA 1127"
_CFR = "14 CFR 101.25"
_LEVELS = "levels of certification as usual in NFPA 1127"
_DISTANCE = "minimum distance table, people, simple motor"

UNITED_STATES: Final = CodeSet(
    key="us",
    title="United States: 14 CFR 101 Subpart C and NFPA 1127",
    level_impulse_ns={
        "none": Limit(160.0, _LEVELS, "memory"),
        "L1": Limit(640.0, _LEVELS, "memory"),
        "L2": Limit(5120.0, _LEVELS, "memory"),
        "L3": Limit(40960.0, "14 CFR 101.22(b)", "seen"),
    },
    rail_tilt_rad=Limit(
        0.3490658503988659, f"{_NFPA}: 20 deg; Calif. Title 19 s.1036(a)(2)", "seen"
    ),
    wind_m_s=Limit(20.0 * MILE_PER_HOUR_M_S, f"{_NFPA}: 20 mph; Calif. Title 19 s.1036(c)", "seen"),
    mass_to_thrust=Limit(
        1.0 / 3.0, f"{_NFPA}: lift-off weight at most a third of average thrust", "memory"
    ),
    property_m=Limit(457.0, f"{_CFR}(g)", "seen"),
    property_share=Limit(0.25, f"{_CFR}(g)", "seen"),
    site_m=Limit(1500.0 * FOOT_M, "organisation's safety code: 1500 ft", "seen"),
    site_share=Limit(0.5, "organisation's safety code: half the expected height", "seen"),
    people_m=(
        (1280.0, Limit(100.0 * FOOT_M, _DISTANCE, "seen")),
        (2560.0, Limit(200.0 * FOOT_M, _DISTANCE, "seen")),
        (5120.0, Limit(300.0 * FOOT_M, _DISTANCE, "seen")),
        (10240.0, Limit(500.0 * FOOT_M, _DISTANCE, "seen")),
        (20480.0, Limit(1000.0 * FOOT_M, _DISTANCE, "seen")),
        (40960.0, Limit(1500.0 * FOOT_M, _DISTANCE, "seen")),
    ),
    cloud_cover_tenths=Limit(5.0, f"{_CFR}(a)", "seen"),
)

CODE_SETS: Final = {code.key: code for code in (UNITED_STATES,)}
