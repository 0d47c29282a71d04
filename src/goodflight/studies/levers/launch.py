"""Levers of the launch: rail, its lean, the wind and sky that one waits for."""

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import Stated, stated
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once, steps
from goodflight.studies.results import said

MAX_TILT_RAD: Final = math.radians(20.0)  # when no code set names a limit; common practice
DEGREE: Final = math.radians(1.0)
TILTS_RAD: Final = tuple(math.radians(v) for v in (0.0, 3.0, 5.0, 8.0))
CLEAR_BASE_M: Final = 1500.0
CLEAR_TENTHS: Final = 3.0


def plan(case: Case, key: str) -> str:
    """Where an entry of the plan stands."""
    return f"{case.origin.plan_path}.{key}"


def plain(values: Iterable[float], per: float = 1.0) -> list[float]:
    """Values as they are read again once they are written to three places of a unit."""
    return [round(value / per, 3) * per for value in values]


def _on_rail(case: Case, **changes: float) -> Case:
    return replace(case, rail=replace(case.rail, **changes))


def _rail(base: Case, _now: Case) -> Offer:
    """The rails of the field: a plan cannot name another one."""
    lengths = base.site.rail_lengths_m
    return numbers(
        base.rail.length_m, lengths, lambda case, length: _on_rail(case, length_m=length),
        lambda length: ((plan(base, "rail"), f"{length:g} m"),),
        lambda length: said("use the {rail} rail", rail=(length, "length")),
        [length for length in sorted(set(lengths)) if length > base.rail.length_m + 1e-6],
    )  # fmt: skip


def _tilt(base: Case, _now: Case) -> Offer:
    limit = MAX_TILT_RAD
    if base.rules.code is not None and base.rules.code.rail_tilt_rad is not None:
        limit = base.rules.code.rail_tilt_rad.value
    away = " into the wind" if base.rail.azimuth_rad is None else ""
    values = plain((v * DEGREE for v in steps(0.0, round(limit / DEGREE), 1.0)), DEGREE)
    tries = [
        v for v in TILTS_RAD if abs(v - base.rail.tilt_rad) >= 0.5 * DEGREE and v <= limit + 1e-9
    ]
    return numbers(
        base.rail.tilt_rad, values,
        lambda case, tilt: _on_rail(case, tilt_rad=round(tilt / DEGREE, 3) * DEGREE),
        lambda tilt: ((plan(base, "tilt"), f"{tilt / DEGREE:.3g} deg"),),
        lambda tilt: said("stand the rail upright") if tilt == 0.0
        else said("lean the rail {tilt}" + away, tilt=(tilt, "angle")),
        tries,
    )  # fmt: skip


def other_wind(case: Case, speed_m_s: float) -> Stated:
    """Another mean wind, as far off in its share as the planned one; a guess: nobody read it."""
    wind, sigma = case.day.wind_m_s, case.day.wind_sigma_m_s
    return stated(speed_m_s, sigma * speed_m_s / wind if wind > 0.0 else sigma, "m/s")


def with_wind(case: Case, wind: Stated) -> Case:
    """The same flight on a day with another mean wind."""
    return replace(case, day=replace(case.day, wind_m_s=wind.value, wind_sigma_m_s=wind.sigma))


def _wind(base: Case, _now: Case) -> Offer:
    """Winds as far off in their share as the planned one, each a guess; the planned as it is."""
    planned = base.day.wind_m_s
    less = (round(0.75 * planned * 2) / 2, round(0.5 * planned * 2) / 2)
    return numbers(
        planned, (*steps(0.0, 10.0, 0.25), planned),
        lambda case, wind: with_wind(case, other_wind(base, wind)),
        lambda wind: ((plan(base, "day.wind"), other_wind(base, wind).text),),
        lambda wind: said("wait until the wind is {wind} or less", wind=(wind, "wind"))
        if wind < planned else said("a wind of {wind}", wind=(wind, "wind")),
        [speed for speed in less if 0.5 <= speed < planned],
    )  # fmt: skip


def _sky(base: Case, _now: Case) -> Offer | None:
    height, cover = base.day.cloud_base_m, base.day.cloud_cover_tenths
    if height is None and cover is None:
        return None
    wanted = (
        None if height is None else max(height, CLEAR_BASE_M),
        None if cover is None else min(cover, CLEAR_TENTHS),
    )
    title = said(
        f"wait for less than {CLEAR_TENTHS:.0f} tenths of cloud above {{base}}",
        base=(CLEAR_BASE_M, "length"),
    )

    def clear(case: Case) -> Case:
        day = replace(case.day, cloud_base_m=wanted[0], cloud_cover_tenths=wanted[1])
        return replace(case, day=day)

    return once(title, clear, *_sky_writes(base, *wanted), name="clear")


def _sky_writes(case: Case, height_m: float | None, tenths: float | None) -> tuple[Write, ...]:
    found = []
    if height_m is not None:
        found.append((plan(case, "day.cloud_base"), f"{height_m:g} m"))
    if tenths is not None:
        found.append((plan(case, "day.cloud_cover"), f"{tenths / 10.0:g}"))
    return tuple(found)


LEVERS: Final = (
    Lever("rail", "rail of the field", "length", "free", _rail, "longer queue, ask early",
          slider=True),
    Lever("tilt", "rail leans", "angle", "free", _tilt, slider=True),
    Lever("wind", "mean wind", "wind", "another_day", _wind, "go / no-go limit at the pad",
          slider=True),
    Lever("sky", "wait for a clearer sky", "", "another_day", _sky, "go / no-go limit at the pad",
          helps=("cloud_base", "cloud_cover"), flies=False),
)  # fmt: skip
