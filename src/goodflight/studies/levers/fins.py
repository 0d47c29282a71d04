"""Levers of the fins: how large, how straight, how thick, how they are glued."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from goodflight.physics.structure import FILLET_SHARE
from goodflight.physics.vehicle.parts import Fins
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case, fins_of
from goodflight.studies.case.remade import Stated, stated, with_figures, with_length, with_part
from goodflight.studies.levers.lever import Lever, Offer, numbers, once
from goodflight.studies.levers.sizes import FILLET, MASS, SPAN, THICK, stock

Point = tuple[float, float]
GUIDED_RAD: Final = math.radians(0.25)  # of one fin in a keyed guide, our guess
# sheets as sold; common practice, no source
SHEETS_MM: Final = (1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
SHEETS_IN: Final = (1 / 16, 3 / 32, 1 / 8, 3 / 16, 1 / 4, 3 / 8, 1 / 2)
MOST_SPAN: Final = 2.2  # times the span that is there
MOST_FILLET: Final = 3.0  # times the fillet that is there
MASS_GUESS: Final = 0.10  # of a mass nobody has weighed yet, as the project takes it


def _path(fins: Fins, key: str) -> str:
    return f"rocket.toml:part[{fins.name}].{key}"


def _now(case: Case, fins: Fins) -> Fins:
    """The fin set as it stands in the flight that is tried."""
    return next(p for p in case.rocket.of_kind(Fins) if p.name == fins.name)


def _alignment(base: Case, _tried: Case) -> Offer | None:
    """Fins set in a guide that keeps them true; not offered where no guide holds them."""
    fins = fins_of(base.rocket)
    if fins is None or base.uncertainty.cant_sigma_rad <= GUIDED_RAD * 1.2:
        return None
    from goodflight.studies.bench.guides import guided_to  # loads solids

    if not guided_to(base.rocket, GUIDED_RAD):
        return None
    return numbers(
        base.uncertainty.cant_sigma_rad,
        (GUIDED_RAD,),
        make=lambda case, angle: replace(
            case, uncertainty=replace(case.uncertainty, cant_sigma_rad=GUIDED_RAD)
        ),
        writes=lambda angle: ((_path(fins, "alignment"), f"{math.degrees(GUIDED_RAD):g} deg"),),
        title=lambda angle: said(
            "set the fins in a keyed guide, each true to {angle}", angle=(angle, "angle")
        ),
        towards="down",
    )


def _fillets(base: Case, _tried: Case) -> Offer | None:
    fins = fins_of(base.rocket)
    if fins is None:
        return None
    chord = max(aft for aft, out in fins.outline_m if out < 1e-4)
    now = fins.fillet_radius_m or FILLET_SHARE * chord
    step = FILLET.step(base)
    values = FILLET.between(base, now + 1e-3 * step, MOST_FILLET * now)

    def make(case: Case, wide_m: float) -> Case:
        said_, old = stated(wide_m, 1e-3, *FILLET.unit(base)), _now(case, fins)
        new = replace(old, fillet_radius_m=said_.value)
        return with_length(case, old, new, "fillet_radius", said_)

    return numbers(
        now,
        values,
        make=make,
        writes=lambda wide_m: (
            (_path(fins, "fillet_radius"), stated(wide_m, 1e-3, *FILLET.unit(base)).text),
        ),
        title=lambda wide_m: said("make the fins' fillets {wide}", wide=(wide_m, "length")),
        towards="up",
    )


def _thickness(base: Case, _tried: Case) -> Offer | None:
    """Fins of thicker sheet; flutter speed goes with thickness to the power of 1.5."""
    fins = fins_of(base.rocket)
    if fins is None:
        return None
    sold = stock(base, SHEETS_MM, SHEETS_IN)
    values = [thick_m for thick_m in sold if thick_m > fins.thickness_m + 1e-6]

    def made(thick_m: float) -> tuple[dict[str, Any], list[tuple[str, str]]]:
        sheet = stated(thick_m, 1e-4, *THICK.unit(base))
        changes: dict[str, Any] = {"thickness_m": sheet.value}
        writes = [(_path(fins, "thickness"), sheet.text)]
        if fins.mass_kg is not None:
            heavier = fins.mass_kg * thick_m / fins.thickness_m
            mass = stated(heavier, MASS_GUESS * heavier, *MASS.unit(base), 3)
            changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
            writes.append((_path(fins, "mass"), mass.text))
        return changes, writes

    def make(case: Case, thick_m: float) -> Case:
        old = _now(case, fins)
        new = replace(old, known="guess", **made(thick_m)[0])
        sheet = stated(thick_m, 1e-4, *THICK.unit(base))
        return with_length(case, old, new, "thickness", sheet, shape=True)

    return numbers(
        fins.thickness_m,
        values,
        make=make,
        writes=lambda thick_m: tuple(made(thick_m)[1]),
        title=lambda thick_m: said("cut the fins from {thick} sheet", thick=(thick_m, "length")),
        towards="up",
    )


def _sizes(base: Case, fins: Fins) -> tuple[float, float, float, float] | None:
    """Root, tip, span and sweep of fins that the project gives so; None: by an outline."""
    if _path(fins, "span") not in base.origin.known or len(fins.outline_m) not in (3, 4):
        return None
    corners = fins.outline_m
    tip = corners[2][0] - corners[1][0] if len(corners) == 4 else 0.0
    return corners[-1][0], tip, corners[1][1], corners[1][0]


def _corners(root: float, tip: float, span: float, sweep: float) -> tuple[Point, ...]:
    corners = ((0.0, 0.0), (sweep, span), (sweep + tip, span), (root, 0.0))
    return corners if tip > 0.0 else (*corners[:2], corners[3])


def _longer(fins: Fins, new: Fins, texts: Mapping[str, Stated]) -> dict[str, tuple[Stated, Fins]]:
    """The fins with each of their lengths one spread longer, by the length's place."""
    sizes, found = ("root", "tip", "span", "sweep"), dict[str, tuple[Stated, Fins]]()
    for key in sizes:
        wide = (texts[each].value + (texts[each].sigma if each == key else 0.0) for each in sizes)
        found[_path(fins, key)] = (texts[key], replace(new, outline_m=_corners(*wide)))
    station = texts["station"]
    moved = replace(new, station_m=station.value + station.sigma)
    found[_path(fins, "station")] = (station, moved)
    return found


def _size(base: Case, _tried: Case) -> Offer | None:
    """Fins of the same shape, larger; their rear end stays, so that the tab fits its slot."""
    fins = fins_of(base.rocket)
    sizes = None if fins is None else _sizes(base, fins)
    if fins is None or sizes is None:
        return None
    span = sizes[2]
    unit = SPAN.unit(base)
    values = SPAN.between(base, span + 1e-3 * SPAN.step(base), MOST_SPAN * span)

    def made(span_m: float) -> tuple[Fins, list[tuple[str, Stated]]]:
        factor = span_m / span
        new = tuple(stated(factor * each, 1e-3, *unit, 3) for each in sizes)
        root = new[0].value
        station = stated(fins.station_m + sizes[0] - root, 1e-3, *unit)
        texts = [*zip(("root", "tip", "span", "sweep"), new), ("station", station)]
        behind = fins.tab_offset_m + fins.station_m - station.value
        if fins.tab_length_m > 0.0:
            texts.append(("tab_behind", stated(behind, 1e-3, *unit)))
        changes: dict[str, Any] = {
            "station_m": station.value,
            "known": "guess",
            "outline_m": _corners(*(each.value for each in new)),
            "tab_offset_m": texts[-1][1].value if fins.tab_length_m > 0.0 else 0.0,
        }
        if fins.mass_kg is not None:
            heavier = fins.mass_kg * factor**2
            mass = stated(heavier, MASS_GUESS * heavier, *MASS.unit(base), 3)
            changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
            texts.append(("mass", mass))
        if fins.balance_m is not None:
            tail = fins.station_m + sizes[0]
            place = stated(tail - factor * (tail - fins.balance_m), 5e-3, *unit)
            changes |= {"balance_m": place.value, "balance_sigma_m": place.sigma}
            texts.append(("balance", place))
        return replace(fins, **changes), texts

    def make(case: Case, span_m: float) -> Case:
        old, (new, texts) = _now(case, fins), made(span_m)
        kept = {"thickness_m", "fillet_radius_m", "cant_rad", "cant_sigma_rad"}
        new = replace(new, **{field: getattr(old, field) for field in kept})
        return with_figures(case, old, new, _longer(fins, new, dict(texts)))

    return numbers(
        span,
        values,
        make=make,
        writes=lambda span_m: tuple((_path(fins, key), each.text) for key, each in made(span_m)[1]),
        title=lambda span_m: said(
            "cut larger fins of the same shape, {span} from the body", span=(span_m, "length")
        ),
        towards="up",
    )


def _straight(base: Case, _tried: Case) -> Offer | None:
    """Fins set straight that stand at an angle on purpose, or were found to."""
    fins = fins_of(base.rocket)
    if fins is None or fins.cant_rad == 0.0:
        return None

    def make(case: Case) -> Case:
        old = _now(case, fins)
        return with_part(case, old, replace(old, cant_rad=0.0), shape=True)

    title = said("set the fins straight, without cant")
    return once(title, make, (_path(fins, "cant"), "0 deg"), name="straight")


LEVERS: Final = (
    Lever(
        "cant",
        "cant of the fins",
        dimension="",
        cost="evening",
        offer=_straight,
        note="before they are glued; glued ones must be cut off and set again",
        helps=("spin_pitch", "alignment", "fin_root"),
    ),
    Lever(
        "fin_size",
        "span of larger fins",
        dimension="length",
        cost="purchase",
        offer=_size,
        note="new fins and longer slots; heavier at the tail: weigh and balance again",
        helps=("margin_small", "margin_gust"),
        touches=("flutter", "fin_root", "fin_bond", "fin_strike", "weathercock"),
    ),
    Lever(
        "alignment",
        "alignment of the fins",
        dimension="angle",
        cost="evening",
        offer=_alignment,
        note="before they are glued",
        helps=("spin_pitch", "alignment"),
    ),
    Lever(
        "fillets",
        "fillets of the fins",
        dimension="length",
        cost="evening",
        offer=_fillets,
        note="adds weight at the tail: balance again",
        helps=("fin_bond", "fin_strike"),
    ),
    Lever(
        "fin_sheet",
        "thickness of the fins",
        dimension="length",
        cost="purchase",
        offer=_thickness,
        note=("heavier at the tail: weigh and balance again"),
        helps=("fin_root", "flutter", "fin_strike"),
    ),
)
