"""Which sizes are drawn on the pieces of the keyed guide."""

from dataclasses import replace
from math import cos, pi, sin
from typing import Final

from goodflight.project.defaults import ALIGNMENT_RAD
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.guides import Guide, alignment_of
from goodflight.studies.bench.places import FinCan
from goodflight.studies.bench.shapes import (
    Dim,
    Limits,
    Point,
    across,
    between,
    radius_to,
    through,
    upright,
)
from goodflight.studies.bench.sizes import FIRST_M, NEXT_M

LOOSEST_M: Final = 0.0005  # a guide's slot is never told wider than that: it would rattle; guess
STEP_M: Final = 0.00005


def guide_slot(guide: Guide, can: FinCan, choices: Choices) -> Limits:
    """Of all slots of a guide: as wide as the alignment of rocket.toml bears.

    A guide with slots `c` and `e` wider than drawn leaves `alignment_of` with `c + e`.
    """
    bears = can.fins.cant_sigma_rad or ALIGNMENT_RAD
    wider = 0.0
    while wider + STEP_M <= LOOSEST_M:
        loose = replace(guide, clearance_m=guide.clearance_m + wider + STEP_M)
        if alignment_of(loose, choices.cut_error_m).alignment_rad > bears:
            break
        wider += STEP_M
    return -guide.clearance_m, wider


def plate_sizes(guide: Guide, limits_m: Limits | None = None) -> tuple[Dim, ...]:
    """Outside, bore, slot of fin 1 and a key's slot on a guide's plate, fin 1 up."""
    n, out = guide.count, guide.plate_radius_m
    half = guide.slot_width_m / 2.0
    top = (0.0, guide.slot_end_m)
    found = [
        through((0.0, 0.0), guide.bore_m / 2.0, pi / 4.0 if n % 2 else pi / 8.0),
        replace(across((-half, top[1]), (half, top[1]), out + FIRST_M), limits_m=limits_m),
        radius_to(top, 0.35 * guide.bore_m / 2.0 / top[1] + 0.15),
    ]
    turn = pi / 2.0 + 3.0 * pi / n  # between fins 2 and 3
    at: Point = (guide.key_radius_m * cos(turn), guide.key_radius_m * sin(turn))
    long = guide.key_slot_m[0] / 2.0
    ends = [(at[0] - s * long * sin(turn), at[1] + s * long * cos(turn)) for s in (1.0, -1.0)]
    far = out - guide.key_radius_m
    found += [
        radius_to(at, 0.6 * guide.bore_m / 2.0 / guide.key_radius_m),
        between(ends[0], ends[1], FIRST_M + (guide.plate_m if guide.trimmed else far)),
    ]
    low = -out - FIRST_M - (NEXT_M if n == 3 else 0.0)  # three keys: one slot's size lies there
    over = replace(across((-out, 0.0), (out, 0.0), low), sign="Ø")
    return tuple(found) if guide.trimmed else (*found, over)


def key_sizes(guide: Guide) -> tuple[Dim, ...]:
    """Between the shoulders, over all, width and tab of a key."""
    long, half, tab = guide.key_length_m, guide.key_width_m / 2.0, guide.tab_m / 2.0
    out = guide.plate_m + 0.002
    low = -half - FIRST_M
    return (
        across((0.0, -half), (long, -half), low),
        across((-out, -tab), (long + out, -tab), low - NEXT_M),
        upright((long + out, -tab), (long + out, tab), long + out + FIRST_M),
        upright((long, -half), (long, half), long + out + FIRST_M + NEXT_M),
    )
