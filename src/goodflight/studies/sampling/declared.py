"""Every uncertain quantity there is, collected from the modules that declare them by subject.

A new quantity is one declaration in one of those modules; this list changes only with a new
subject.
"""

from types import ModuleType
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.sampling import (
    air,
    airframe,
    damp,
    electronics,
    hatch,
    model,
    motor,
    rail,
    recovery,
    search,
    second,
    separation,
    structure,
    workshop,
)
from goodflight.studies.sampling.quantity import Factor, Family, Quantity

SUBJECTS: Final = (
    airframe, motor, model, rail, air, recovery, separation, structure, workshop, electronics,
    second, search, damp, hatch,
)  # fmt: skip


def collected(subjects: tuple[ModuleType, ...]) -> dict[str, Quantity | Family]:
    """The declarations of some modules by key, in the order they stand.

    Raises ValueError where two have one key, or the beginning of a family's is another's.
    """
    found: dict[str, Quantity | Family] = {}
    for subject in subjects:
        for each in vars(subject).values():
            if not isinstance(each, Quantity | Family):
                continue
            if found.setdefault(each.key, each) is not each:
                raise ValueError(f"two quantities share the key {each.key!r}")
    families = tuple(each for each in found.values() if isinstance(each, Family))
    for key in found:
        if any(key != family.key and family.holds(key) for family in families):
            raise ValueError(f"the key {key!r} looks like a member of a family")
    return found


DECLARED: Final = collected(SUBJECTS)


def stated_of(case: Case) -> tuple[Factor, ...]:
    """Every quantity of a planned flight with its middle and spread, those without one too."""
    return tuple(factor for each in DECLARED.values() for factor in each.factors(case))


def factors_of(case: Case) -> tuple[Factor, ...]:
    """Every quantity of a planned flight that has a spread: the columns of its flights."""
    return varying(stated_of(case))[0]


def varying(stated: tuple[Factor, ...]) -> tuple[tuple[Factor, ...], tuple[Factor, ...]]:
    """The quantities with a spread, and those without one."""
    return (
        tuple(factor for factor in stated if factor.sigma > 0.0),
        tuple(factor for factor in stated if factor.sigma <= 0.0),
    )
