"""What to buy beside tubes and sheets: glue and paint by weight; and what the list costs.

Prices are the builder's own, from `[[bench.price]]`; a line without one stays blank and is counted.
Left out: postage, offcuts at home, what is wasted in the cup beyond a fifth.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.fins import fillet_kg
from goodflight.project.bench_files import BuildFile
from goodflight.quantity.said import literal, said
from goodflight.studies.bench.choices import Price
from goodflight.studies.bench.cutlist import Buy, CutList
from goodflight.studies.bench.places import of_kind

SPARE_MIX: Final = 1.2  # of glue mixed over what stays on the rocket; common practice, no source


@dataclass(frozen=True)
class Glue:
    """How much glue the fillets take by the file [kg], and where that is known from."""

    mass_kg: float
    because: str


def fillet_glue(rocket: p.Rocket) -> Glue | None:
    """Glue of all fillets: as weighed with the rocket, else from their radius; None = not said."""
    weighed = [
        part for part in of_kind(rocket, p.AddedMass) if part.role == "fillets" and part.mass_kg
    ]
    if weighed:
        names = ", ".join(part.name for part in weighed)
        return Glue(sum(part.mass_kg or 0.0 for part in weighed), f"{names} by the file")
    sets = [fins for fins in of_kind(rocket, p.Fins) if fins.fillet_radius_m > 0.0]
    if not sets:
        return None
    mass = sum(fillet_kg(fins) for fins in sets)
    return Glue(mass, "outer fillets by their radius; inner ones are not in the file")


def consumables(rocket: p.Rocket, build: BuildFile) -> tuple[Buy, ...]:
    """Glue and paint, with amounts where the files say them; 0 = not known, to be filled in."""
    names = dict.fromkeys(joint.glue for joint in build.joint)
    names.update(dict.fromkeys(glue.name for glue in build.glue))
    glue, found = fillet_glue(rocket), []
    for name in names or ("glue",):
        if glue is not None and len(names) <= 1:
            told = "{glue}, a fifth more to mix; rings and coupler come on top"
            amount = SPARE_MIX * glue.mass_kg
            found.append(
                Buy(
                    name,
                    amount,
                    "kg",
                    said(f"{literal(glue.because)} {told}", glue=(glue.mass_kg, "mass")),
                )
            )
        else:
            found.append(Buy(name, 0.0, "kg", said("how much: not in the files")))
    film = [part for part in of_kind(rocket, p.AddedMass) if part.role == "paint"]
    for coat in build.paint:
        films = {f"film{i}": (x.mass_kg or 0.0, "mass") for i, x in enumerate(film)}
        told = "; ".join(f"dry film {{{name}}} by the file" for name in films)
        why = said(told or "by the can's coverage", **films)
        found.append(Buy(f"paint, {coat.name}", 0.0, "cans", why))
    return tuple(found)


def priced(cuts: CutList, more: Sequence[Buy], prices: Sequence[Price]) -> CutList:
    """A list with glue and paint, each line with the price of the first entry that names it."""
    lines = [
        replace(
            buy,
            each=next((x.each for x in prices if x.of.lower() in buy.called.lower()), None),
        )
        for buy in (*cuts.buys, *more)
    ]
    return replace(cuts, buys=tuple(lines))
