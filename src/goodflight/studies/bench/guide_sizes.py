"""Which sizes are drawn on the pieces of the keyed guide."""

from math import cos, pi, sin

from goodflight.studies.bench.guides import Guide
from goodflight.studies.bench.shapes import Dim, Point, across, between, radius_to, through, upright
from goodflight.studies.bench.sizes import FIRST_M, NEXT_M, outside


def plate_sizes(guide: Guide) -> tuple[Dim, ...]:
    """Outside, bore, slot of fin 1 and a key's slot on a guide's plate, fin 1 up."""
    n, out = guide.count, guide.plate_radius_m
    half = guide.slot_width_m / 2.0
    top = (0.0, guide.slot_end_m)
    found = [
        through((0.0, 0.0), guide.bore_m / 2.0, pi / 4.0 if n % 2 else pi / 8.0),
        across((-half, top[1]), (half, top[1]), out + FIRST_M),
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
    return tuple(found) if guide.trimmed else (*found, outside(out))


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
