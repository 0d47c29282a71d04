"""A part that weighs what it does by itself, taken out of the entry that holds the whole.

The first form knows one mass for everything but canopy and cord. Once a part has been on the
scale, its mass moves from that entry to the part; mass and balance of all together stay.
"""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle.mass import part_item
from goodflight.project.editing import changed_texts, without_comment
from goodflight.project.parts.added_mass import whole_entry
from goodflight.project.records import Project
from goodflight.quantity import Quantity, brief, write

ROCKET: Final = "rocket.toml"


class HeavierThanWholeError(ValueError):
    """A part that is no lighter than what is left of the whole; `words` : both masses."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self.words = words


def taken_out(
    project: Project, plan: str | None, name: str, mass: Quantity, balance: Quantity | None = None
) -> dict[str, str]:
    """Return rocket.toml with the mass of a part moved to it from the whole; {} where none is.

    Parameters
    ----------
    project : Project - as loaded from its folder. [-]
    plan : str or None - whose rocket; None = the first. [-]
    name : str - of the part. [-]
    mass : Quantity - of it alone. [kg]
    balance : Quantity or None - from the nose tip; None = that of its shape. [m]

    Returns
    -------
    texts : dict of str - of the file that changes; {} for a part that is not given 0 g. [-]

    Raises
    ------
    HeavierThanWholeError - the part is no lighter than what is left of the whole.
    """
    whole = whole_entry(project.parts)
    part = next((each for each in project.parts if each.name == name), None)
    if (
        whole is None
        or whole.balance is None
        or part is None
        or part.mass is None
        or part.mass.value != 0.0
    ):
        return {}
    by_name = {each.name: each for each in project.rocket(plan=plan).parts}
    held = part_item(by_name[whole.name])
    taken = part_item(replace(by_name[name], mass_kg=mass.value))
    if held is None or taken is None:
        return {}
    left = held.mass_kg - mass.value
    if left <= 0.0:
        told = [brief(each, "mass", project.head.units) for each in (mass.value, held.mass_kg)]
        raise HeavierThanWholeError(f"{told[0]} of {name}, {told[1]} of {whole.name}")
    at = taken.station_m if balance is None else balance.value
    rest = (held.mass_kg * held.station_m - mass.value * at) / left
    own, all_else = (f"{ROCKET}:part[{each}]" for each in (name, whole.name))
    changes = [
        (f"{own}.mass", _as(mass, mass.value)),
        (f"{all_else}.mass", _as(whole.mass, left)),
        (f"{all_else}.balance", _as(whole.balance, rest, held.mass_kg / left, digits=4)),
    ]
    if balance is not None:
        changes.append((f"{own}.balance", _as(balance, balance.value)))
    texts = changed_texts(project, changes)
    return {**texts, ROCKET: without_comment(texts[ROCKET], f"{own}.mass")}


def _as(written: Quantity, value: float, times: float = 1.0, digits: int = 6) -> str:
    """A figure in the unit of another and as that is known, its spread so many times as wide."""
    sigma = None if written.sigma is None else times * written.sigma
    known = written.known if written.stated else ""
    return write(
        value, written.dimension, unit=written.unit, sigma_si=sigma, known=known, digits=digits
    )
