"""Levers of the launch: rail, its lean, the wind and sky that one waits for."""

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import takewhile
from typing import Final

import numpy as np

from goodflight.physics.bearings import place_m
from goodflight.physics.polygon import signed_distance_m
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import Stated, stated
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once, steps
from goodflight.studies.levers.sizes import FIELD, LONG, WIND

Ring = tuple[tuple[float, float], ...]
MAX_TILT_RAD: Final = math.radians(20.0)  # when no code set names a limit; common practice
ADVISED_TILT_RAD: Final = math.radians(10.0)  # beyond it no remedy leans a rail; our choice
DEGREE: Final = math.radians(1.0)
LEAST_WIND_M_S: Final = 0.5  # nobody can wait for less
PAD_MOST_M: Final = 400.0
PAD_INSIDE_M: Final = 20.0  # from the edge of the field, our guess of what is still practical
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
        base.rail.length_m,
        lengths,
        make=lambda case, length: _on_rail(case, length_m=length),
        writes=lambda length: ((plan(base, "rail"), LONG.text(base, length)),),
        title=lambda length: said("use the {rail} rail", rail=(length, "length")),
        towards="up",
    )


def _tilt(base: Case, _now: Case) -> Offer:
    limit = MAX_TILT_RAD
    if base.rules.code is not None and base.rules.code.rail_tilt_rad is not None:
        limit = base.rules.code.rail_tilt_rad.value
    away = " into the wind" if base.rail.azimuth_rad is None else ""
    values = plain((v * DEGREE for v in steps(0.0, round(limit / DEGREE), 1.0)), DEGREE)
    return numbers(
        base.rail.tilt_rad,
        values,
        lambda case, tilt: _on_rail(case, tilt_rad=round(tilt / DEGREE, 3) * DEGREE),
        lambda tilt: ((plan(base, "tilt"), f"{tilt / DEGREE:.3g} deg"),),
        lambda tilt: (
            said("stand the rail upright")
            if tilt == 0.0
            else said("lean the rail {tilt}" + away, tilt=(tilt, "angle"))
        ),
        within=(0.0, ADVISED_TILT_RAD),
    )


def other_wind(case: Case, speed_m_s: float) -> Stated:
    """Another mean wind, as far off in its share as the planned one; a guess: nobody read it."""
    wind, sigma = case.day.wind_m_s, case.day.wind_sigma_m_s
    other = sigma * speed_m_s / wind if wind > 0.0 else sigma
    return stated(speed_m_s, other, *WIND.unit(case))


def with_wind(case: Case, wind: Stated) -> Case:
    """The same flight on a day with another mean wind."""
    return replace(case, day=replace(case.day, wind_m_s=wind.value, wind_sigma_m_s=wind.sigma))


def _wind(base: Case, _now: Case) -> Offer:
    """Winds as far off in their share as the planned one, each a guess; the planned as it is."""
    planned = base.day.wind_m_s
    return numbers(
        planned,
        (*WIND.between(base, 0.0, 10.0), planned),
        make=lambda case, wind: with_wind(case, other_wind(base, wind)),
        writes=lambda wind: ((plan(base, "day.wind"), other_wind(base, wind).text),),
        title=lambda wind: (
            said("wait until the wind is {wind} or less", wind=(wind, "wind"))
            if wind < planned
            else said("a wind of {wind}", wind=(wind, "wind"))
        ),
        towards="down",
        within=(LEAST_WIND_M_S, math.inf),
    )


def _inside(case: Case, distance_m: float) -> bool:
    """Whether the pad, moved upwind, still stands well inside the field."""
    outline, (east, north) = case.site.outline_m, _upwind_m(case, distance_m)
    away = signed_distance_m(np.array([east]), np.array([north]), outline)
    return float(away[0]) <= -PAD_INSIDE_M


def _upwind_m(case: Case, distance_m: float) -> tuple[float, float]:
    """East and north of the pad as it stands, in whole metres."""
    east, north = place_m(distance_m, case.day.wind_from_rad)
    return float(np.round(east)), float(np.round(north))


def _pad(base: Case, _now: Case) -> Offer | None:
    """The pad moved into the wind, as far as the field goes; people may then stand nearer."""
    if len(base.site.outline_m) < 3 or base.day.wind_m_s <= 0.0:
        return None
    ladder = takewhile(lambda far: _inside(base, far), FIELD.between(base, 1.0, PAD_MOST_M))

    def make(case: Case, far: float) -> Case:
        moved = _upwind_m(base, far)
        keep_outs, people = (
            tuple((name, _shifted(ring, moved)) for name, ring in areas)
            for areas in (case.site.keep_outs_m, case.site.people_areas_m)
        )
        moved_site = replace(
            case.site,
            outline_m=_shifted(case.site.outline_m, moved),
            keep_outs_m=keep_outs,
            people_areas_m=people,
        )
        says = case.field_says
        if says.people is not None:
            says = says.changed(people=nearer(says.people.value, far))
        return replace(case, site=moved_site, field_says=says)

    def nearer(people_m: float, far: float) -> str:
        return FIELD.text(base, max(1.0, people_m - far))

    def writes(far: float) -> tuple[Write, ...]:
        east, north = base.origin.pad_at(_upwind_m(base, far))
        found = [(f"{base.origin.site_path}:pad", f"[{east:.10g}, {north:.10g}]")]
        people = base.field_says.people
        if people is not None:
            found.append((f"{base.origin.site_path}:people", nearer(people.value, far)))
        return tuple(found)

    return numbers(
        0.0,
        ladder,
        make=make,
        writes=writes,
        title=lambda far: said("move the pad {far} upwind", far=(far, "length")),
        towards="up",
    )


def _shifted(ring: Ring, moved: tuple[float, float]) -> Ring:
    """A polygon about a pad that has moved."""
    return tuple((east - moved[0], north - moved[1]) for east, north in ring)


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
        found.append((plan(case, "day.cloud_base"), FIELD.text(case, height_m)))
    if tenths is not None:
        found.append((plan(case, "day.cloud_cover"), f"{tenths / 10.0:g}"))
    return tuple(found)


_AIMED: Final = (
    "off_field", "keep_out", "too_early", "too_late", "opening_cord", "opening_canopy",
    "snatch_cord", "snatch_anchor", "zipper", "nothing_opens", "nose_strike",
)  # fmt: skip
LEVERS: Final = (
    Lever(
        "rail",
        "rail of the field",
        dimension="length",
        cost="free",
        offer=_rail,
        note="longer queue, ask early",
        helps=(
            "rail_exit",
            "thrust_to_weight",
            "burnout_lean",
            "weathercock",
            "margin_gust",
            "guides",
        ),
        slider=True,
        alone="the field has one rail; more stand under rails in its file",
    ),
    Lever(
        "tilt",
        "rail leans",
        dimension="angle",
        cost="free",
        offer=_tilt,
        note="",
        helps=("burnout_lean", "weathercock", "ceiling", "rail_angle", "rail_exit", *_AIMED),
        slider=True,
        touches=("off_field", "keep_out", "property_distance"),
    ),
    Lever(
        "wind",
        "mean wind",
        dimension="wind",
        cost="another_day",
        offer=_wind,
        note="go / no-go limit at the pad",
        helps=(
            "rail_exit",
            "margin_gust",
            "burnout_lean",
            "weathercock",
            "wind_limit",
            "ceiling",
            *_AIMED,
        ),
        slider=True,
    ),
    Lever(
        "pad",
        "pad moved upwind",
        dimension="length",
        cost="free",
        offer=_pad,
        note="ask whether it may stand there; measure the distances to people again",
        helps=("off_field", "keep_out"),
        flies=False,
        touches=("property_distance", "crew_distance"),
    ),
    Lever(
        "sky",
        "wait for a clearer sky",
        dimension="",
        cost="another_day",
        offer=_sky,
        note="go / no-go limit at the pad",
        helps=("cloud_base", "cloud_cover"),
        flies=False,
    ),
)
