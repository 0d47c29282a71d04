"""A part weighed alone whose mass an entry for the whole rocket holds: taken out of that entry.

The first form knows one mass for everything but canopy and cord. Once a part is on the scale, its
mass moves from that entry to the part, and the weighing says how well it is known.
Left out: several such parts on the scale at once, of which nobody knows what each weighs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from goodflight.project import Project
from goodflight.project.bench_files import WHOLE
from goodflight.project.part_apart import ROCKET, HeavierThanWholeError
from goodflight.project.part_apart import taken_out as apart
from goodflight.project.parts.added_mass import whole_entry
from goodflight.quantity import Quantity, QuantityError, parse
from goodflight.studies.refusal import refused_at


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
    if whole is None or len(what) != 1 or list(what) == [WHOLE] or "motor" in entries:
        return {}
    mass, balance = (_read(entries.get(key), kind) for key, kind in _READ)
    if mass is None or not mass.value:
        return {}
    own = replace(mass, sigma=None, known="guess", stated=True)  # the weighing says how well
    try:
        return apart(project, plan, what[0], own, balance)
    except HeavierThanWholeError as error:
        raise refused_at(
            project,
            f"{ROCKET}:part[{whole.name}].mass",
            error.words,
            f"a part lighter than {whole.name}, which holds it",
            f"weigh the rocket as a whole first, and give {whole.name} what it reads less canopy "
            "and cord",
        ) from None


_READ: Final = (("mass", "mass"), ("balance", "length"))


def _read(text: str | Sequence[str] | None, kind: str) -> Quantity | None:
    """What a text of an entry says; None where it says nothing that can be read: told elsewhere."""
    if not isinstance(text, str):
        return None
    try:
        return parse(text, kind)
    except QuantityError:
        return None
