"""What the readings of a scale say together: whether they agree, and what does not add up."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from goodflight.project import Project
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.case.readings import MeasuredFigure
from goodflight.studies.case.shown import changed_since
from goodflight.studies.case.weighed import DOUBTED, doubted
from goodflight.studies.case.weighed_model import AsBuilt, Reading

_TOLD: Final = 2.0  # a difference of less than this many of the reading's errors is not told
SELDOM: Final = 0.05  # sets of readings this far off by their errors alone
WHERE: Final = (
    (0.33, "wires, ballast or paint in the nose?"),
    (0.66, "paint, or gear that the design has lighter?"),
    (1.01, "glue and paint at the tail?"),
)


def agreement_of(built: AsBuilt | None) -> Said:
    """Whether the readings agree with the design and each other; which stands farthest off."""
    if built is None or not built.readings:
        return said("nothing has been weighed yet")
    from scipy.special import chdtrc  # slow to import; an empty list needs none

    count, far = len(built.readings), max(built.readings, key=lambda each: abs(each.apart))
    who = f"the {count} readings" if count > 1 else "the reading"
    verb = ("agree", "agrees")[count == 1]
    with_whom = "with the design and with each other" if count > 1 else "with the design"
    told = f"misfit {built.misfit:.1f}, {count} is usual (chi-square)"
    name = literal(far.words)
    least = f"farthest off: {name}, {far.kind}, {abs(far.apart):.1f} times what the errors allow"
    if built.wider:
        with_whom += ", once its guesses are taken as wider than they say"
    if chdtrc(count, built.misfit) >= SELDOM:
        return said(f"{who} {verb} {with_whom}: {told}; {least}")
    return said(
        f"{who} {verb.replace('agree', 'hardly agree')} {with_whom}: {told}, fewer than "
        f"1 set in 20 is so far off; {least}: read it again"
    )


def measured_findings(figures: Sequence[MeasuredFigure], project: Project) -> tuple[Said, ...]:
    """Figures that were measured to be other than the design says, and readings that are old."""
    found = []
    for each in figures:
        if each.design is not None and abs(each.apart) > DOUBTED:
            off = float(np.mean(each.readings)) - each.design
            told = (
                f"{each.label}: {{off}} {'more' if off > 0 else 'less'} than the design says, "
                f"{abs(each.apart):.0f} times its spread; what was measured counts"
            )
            found.append(said(told, off=(abs(off), each.dimension)))
    again = "measure it again, or take design out of the entry where it still holds"
    changed = changed_since(project)
    found += [said(f"{of} was changed after it was measured: {again}") for of in changed]
    return tuple(found)


def findings_of(built: AsBuilt, length_m: float, project: Project) -> tuple[Said, ...]:
    """What does not add up, in the builder's words."""
    found = []
    for mass in (each for each in built.readings if each.whole and each.kind == "mass"):
        entry = mass.path.rpartition(".")[0]
        balance = next((r for r in built.readings if r.path == f"{entry}.balance"), None)
        words = _whole(mass, balance, length_m)
        found += [] if words is None else [words]
    forgotten = built.not_entered
    if forgotten is not None:
        told = "{mass} at {place} is more than the parts can weigh: enter what it is as a part"
        figures = {"mass": (forgotten.mass_kg, "mass"), "place": (forgotten.station_m, "length")}
        found.append(said(told, **figures))
    elif built.wider:
        told = "guessed masses of the design were off by more than their spreads say; "
        found.append(said(told + "weigh the heaviest of them"))
    found += [
        said(f"no mass is left for {literal(name)}: weigh it by itself, then what is as large")
        for name, item in built.items.items()
        if item.mass_kg <= 0.0 and name in built.design and built.design[name].mass_kg > 0.0
    ]
    found += doubted(built)
    if project.weighed is not None:
        found.append(said("the rocket was changed after it was weighed: weigh it again"))
    return tuple(found)


def _whole(mass: Reading, balance: Reading | None, length_m: float) -> Said | None:
    """How the whole differs from the design, and what a single mass in one place would explain."""
    more = mass.value - mass.design
    aft = 0.0 if balance is None else balance.value - balance.design
    heavy = abs(more) > _TOLD * mass.sigma
    moved = balance is not None and abs(aft) > _TOLD * balance.sigma
    if not heavy and not moved:
        return None
    parts, figures = [], {"mass": (abs(more), "mass"), "way": (abs(aft), "length")}
    if heavy:
        parts.append(f"{{mass}} {'more' if more > 0 else 'less'}")
    if moved:
        parts.append(f"{{way}} {'aft of' if aft > 0 else 'ahead of'} where the design balances")
    text = f"{mass.words}: {' and '.join(parts)}" + ("" if moved else " than the design")
    if heavy and more > 0 and balance is not None:
        at = (mass.value * balance.value - mass.design * balance.design) / more
        if 0.0 < at < length_m:
            figures["at"] = (at, "length")
            text += ", as if it sat at {at}: " + next(w for s, w in WHERE if at / length_m < s)
    return Said(text, figures)
