"""A part weighed alone whose mass an entry for the whole rocket holds: taken out of that entry.

The first form knows one mass for everything but canopy and cord. Once a part is on the scale, its
mass moves from that entry to the part; mass and balance of all together stay as they were.
Left out: several such parts on the scale at once, of which nobody knows what each weighs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle.mass import part_item
from goodflight.project import Project
from goodflight.project.bench_files import WHOLE
from goodflight.project.editing import changed_texts, without_comment
from goodflight.project.parts.added_mass import whole_entry
from goodflight.quantity import QuantityError, brief, parse, write
from goodflight.studies.refusal import refused_at

ROCKET: Final = "rocket.toml"


def taken_out(
    project: Project,
    plan: str | None,
    what: Sequence[str],
    entries: Mapping[str, str | Sequence[str]],
) -> dict[str, str]:
    """rocket.toml with the mass of a weighed part moved to it from the whole; {} where none is.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - whose rocket; None = the first. [-]
        what : sequence of str - what was on the scale. [-]
        entries : mapping - keys of the weighing and their texts. [-]
    Returns
        texts : dict of str - of the file that changes. [-]
    Raises
        StudyRefused - the part is no lighter than what is left of the whole.
    Validity
        One part, given 0 g; where its balance was not read, that of its shape.
    Source
        Moments: M x = m x1 + (M - m) x2.
    Example
        none
    """
    whole = whole_entry(project.parts)
    named = [each for each in project.parts if [each.name] == list(what) and what != [WHOLE]]
    if whole is None or not named or "motor" in entries:
        return {}
    part = named[0]
    mass, balance = (_read(entries.get(key), kind) for key, kind in _READ)
    if part.mass is None or part.mass.value != 0.0 or not mass:
        return {}
    by_name = {each.name: each for each in project.rocket(plan=plan).parts}
    held = part_item(by_name[whole.name])
    taken = part_item(replace(by_name[part.name], mass_kg=mass))
    if held is None or taken is None:
        return {}
    units = project.head.units
    long, heavy = ("in", "oz") if units == "imperial" else ("mm", "g")

    def told(mass_kg: float) -> str:
        return brief(mass_kg, "mass", units)

    left = held.mass_kg - mass
    if left <= 0.0:
        raise refused_at(
            project,
            f"{ROCKET}:part[{whole.name}].mass",
            f"{told(mass)} of {part.name}, {told(held.mass_kg)} of {whole.name}",
            f"a part lighter than {whole.name}, which holds it",
            f"weigh the rocket as a whole first, and give {whole.name} what it reads less canopy "
            "and cord",
        )
    at = taken.station_m if balance is None else balance
    rest = (held.mass_kg * held.station_m - mass * at) / left
    known = whole.mass.known if whole.mass.stated else ""
    own = f"{ROCKET}:part[{part.name}].mass"
    changes = [
        (own, write(mass, "mass", heavy, known="guess")),
        (f"{ROCKET}:part[{whole.name}].mass", write(left, "mass", heavy, whole.mass.sigma, known)),
        (f"{ROCKET}:part[{whole.name}].balance", write(rest, "length", long, digits=4)),
    ]
    if balance is not None:
        changes.append((f"{ROCKET}:part[{part.name}].balance", write(balance, "length", long)))
    texts = changed_texts(project, changes)
    return {**texts, ROCKET: without_comment(texts[ROCKET], own)}


_READ: Final = (("mass", "mass"), ("balance", "length"))


def _read(text: str | Sequence[str] | None, kind: str) -> float | None:
    """What a text of an entry says; None where it says nothing that can be read: told elsewhere."""
    if not isinstance(text, str):
        return None
    try:
        return parse(text, kind).value
    except QuantityError:
        return None
