"""A part that weighs what it does by itself, taken out of the entry that holds the whole.

The first form knows one mass for everything but canopy and cord. Once a part has been on the
scale, its mass moves from that entry to the part, and back once it is taken out again; mass and
balance of all together stay.
"""

from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle.mass import MassItem, part_item
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
        or (part.mass is not None and part.mass.value != 0.0)
    ):
        return {}
    by_name = {each.name: each for each in project.rocket(plan=plan).parts}
    held = part_item(by_name[whole.name])
    taken = part_item(replace(by_name[name], mass_kg=mass.value))
    if held is None or taken is None:
        return {}
    at = taken.station_m if balance is None else balance.value
    own = f"{ROCKET}:part[{name}]"
    changes = [(f"{own}.mass", _as(mass, mass.value)), *_rest(project, held, mass.value, at, name)]
    if balance is not None:
        changes.append((f"{own}.balance", _as(balance, balance.value)))
    texts = changed_texts(project, changes)
    return {**texts, ROCKET: without_comment(texts[ROCKET], f"{own}.mass")}


def _rest(
    project: Project, held: MassItem, kg: float, at_m: float, name: str
) -> list[tuple[str, str]]:
    """What the whole's entry reads once so much at a place is taken out of it; below 0 put back.

    Moments: M x - m x1 = (M - m) x2. Its spread stays in mass, and in moment.
    """
    whole, left = whole_entry(project.parts), held.mass_kg - kg
    assert whole is not None and whole.balance is not None
    if left <= 0.0:
        told = [brief(each, "mass", project.head.units) for each in (kg, held.mass_kg)]
        raise HeavierThanWholeError(f"{told[0]} of {name}, {told[1]} of {whole.name}")
    rest, own = (held.mass_kg * held.station_m - kg * at_m) / left, f"{ROCKET}:part[{whole.name}]"
    return [
        (f"{own}.mass", _as(whole.mass, left)),
        (f"{own}.balance", _as(whole.balance, rest, held.mass_kg / left, digits=4)),
    ]


def all_within(project: Project) -> dict[str, str]:
    """Parts whose mass is in the entry of the whole, with that entry's name."""
    whole = whole_entry(project.parts)
    if whole is None:
        return {}
    return {each.name: whole.name for each in project.rocket().parts if each.mass_kg == 0.0}


def shared(project: Project, text: str, number: int) -> str:
    """Return rocket.toml as changed, where a part that has a mass of its own now, or no longer.

    Parameters
    ----------
    project : Project - before the change. [-]
    text : str - of rocket.toml after it; returned as it is where it is no valid rocket. [-]
    number : int - of the changed part, from 0. [-]

    Returns
    -------
    text : str - with the part's mass taken out of the entry that holds the whole, or put back.

    Raises
    ------
    HeavierThanWholeError - the part is no lighter than what is left of the whole.
    """
    from goodflight.project.reading import read_project

    whole = whole_entry(project.parts)
    if whole is None or project.parts[number].name == whole.name:
        return text
    try:
        after = read_project({**project.texts, ROCKET: text})
        parts, old = after.rocket().parts, project.rocket().parts
    except ValueError:  # told where it is written
        return text
    names = (project.parts[number].name, after.parts[number].name)
    was, now = (next((p for p in of if p.name == n), None) for of, n in zip((old, parts), names))
    held = part_item(next(p for p in old if p.name == whole.name))
    if was is None or now is None or was.soft or was.room or held is None:
        return text
    before, own = was.mass_kg or 0.0, now.mass_kg or 0.0
    if (before > 0.0) == (own > 0.0):
        return text
    there = part_item(now if own > 0.0 else was)
    assert there is not None
    moved = _rest(after, held, own - before, there.station_m, names[1])
    found = changed_texts(after, moved)[ROCKET]
    return without_comment(found, f"{ROCKET}:part[{names[1]}].mass") if own > 0.0 else found


def _as(written: Quantity, value: float, times: float = 1.0, digits: int = 6) -> str:
    """A figure in the unit of another and as that is known, its spread so many times as wide."""
    sigma = None if written.sigma is None else times * written.sigma
    known = written.known if written.stated else ""
    return write(
        value, written.dimension, unit=written.unit, sigma_si=sigma, known=known, digits=digits
    )
