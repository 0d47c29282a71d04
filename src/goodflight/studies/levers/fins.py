"""Levers of the fins: how straight, how thick, how they are glued."""

import math
from dataclasses import replace
from typing import Any, Final

from goodflight.physics.structure import FILLET_SHARE
from goodflight.physics.vehicle.parts import Fins
from goodflight.studies.case.planned import Case, fins_of
from goodflight.studies.case.remade import stated, with_length
from goodflight.studies.levers.lever import Lever, Offer, numbers
from goodflight.studies.results import said

GUIDED_RAD: Final = math.radians(0.25)  # of one fin in a keyed guide, our guess
THICKER: Final = (1.25, 1.5)
LARGER_FILLETS: Final = (1.5, 2.0)
MASS_GUESS: Final = 0.10  # of a mass nobody has weighed yet, as the project takes it


def _path(fins: Fins, key: str) -> str:
    return f"rocket.toml:part[{fins.name}].{key}"


def _now(case: Case, fins: Fins) -> Fins:
    """The fin set as it stands in the flight that is tried."""
    return next(p for p in case.rocket.parts if isinstance(p, Fins) and p.name == fins.name)


def _alignment(base: Case, _tried: Case) -> Offer | None:
    """Fins set in a guide that keeps them true."""
    fins = fins_of(base.rocket)
    if fins is None or base.uncertainty.cant_sigma_rad <= GUIDED_RAD * 1.2:
        return None
    return numbers(
        base.uncertainty.cant_sigma_rad, (GUIDED_RAD,),
        lambda case, angle: replace(
            case, uncertainty=replace(case.uncertainty, cant_sigma_rad=GUIDED_RAD)
        ),
        lambda angle: ((_path(fins, "alignment"), f"{math.degrees(GUIDED_RAD):g} deg"),),
        lambda angle: said(
            "set the fins in a keyed guide, each true to {angle}", angle=(angle, "angle")
        ),
        (GUIDED_RAD,),
    )  # fmt: skip


def _fillets(base: Case, _tried: Case) -> Offer | None:
    fins = fins_of(base.rocket)
    if fins is None:
        return None
    chord = max(aft for aft, out in fins.outline_m if out < 1e-4)
    now = fins.fillet_radius_m or FILLET_SHARE * chord
    values = [1e-3 * round(1e3 * factor * now) for factor in LARGER_FILLETS]

    def make(case: Case, wide_m: float) -> Case:
        said_, old = stated(wide_m, 1e-3, "mm", 1e-3), _now(case, fins)
        new = replace(old, fillet_radius_m=said_.value)
        return with_length(case, old, new, "fillet_radius", said_)

    return numbers(
        now, values, make,
        lambda wide_m: ((_path(fins, "fillet_radius"), stated(wide_m, 1e-3, "mm", 1e-3).text),),
        lambda wide_m: said("make the fins' fillets {wide}", wide=(wide_m, "length")), values,
    )  # fmt: skip


def _thickness(base: Case, _tried: Case) -> Offer | None:
    """Fins of thicker sheet; flutter speed goes with thickness to the power of 1.5."""
    fins = fins_of(base.rocket)
    if fins is None:
        return None
    values = [round(factor * fins.thickness_m, 4) for factor in THICKER]

    def made(thick_m: float) -> tuple[dict[str, Any], list[tuple[str, str]]]:
        sheet = stated(thick_m, 1e-4, "mm", 1e-3)
        changes: dict[str, Any] = {"thickness_m": sheet.value}
        writes = [(_path(fins, "thickness"), sheet.text)]
        if fins.mass_kg is not None:
            heavier = fins.mass_kg * thick_m / fins.thickness_m
            mass = stated(heavier, MASS_GUESS * heavier, "g", 1e-3, 3)
            changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
            writes.append((_path(fins, "mass"), mass.text))
        return changes, writes

    def make(case: Case, thick_m: float) -> Case:
        old = _now(case, fins)
        new = replace(old, known="guess", **made(thick_m)[0])
        sheet = stated(thick_m, 1e-4, "mm", 1e-3)
        return with_length(case, old, new, "thickness", sheet, shape=True)

    return numbers(
        fins.thickness_m, values, make, lambda thick_m: tuple(made(thick_m)[1]),
        lambda thick_m: said("cut the fins from {thick} sheet", thick=(thick_m, "length")), values,
    )  # fmt: skip


LEVERS: Final = (
    Lever("alignment", "alignment of the fins", "angle", "evening", _alignment,
          "before they are glued", ("spin_pitch", "alignment")),
    Lever("fillets", "fillets of the fins", "length", "evening", _fillets,
          "adds weight at the tail: balance again", ("fin_bond", "fin_strike")),
    Lever("fin_sheet", "thickness of the fins", "length", "purchase", _thickness,
          "heavier at the tail: weigh and balance again", ("fin_root", "flutter", "fin_strike")),
)  # fmt: skip
