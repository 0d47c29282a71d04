"""Questions of the first form as the keys of the files declare them: `Key(first=First(...))`.

Where an answer is written follows from the key and from the first project, which has one field, one
plan, one motor and the parts of its text.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, get_args, get_origin

from goodflight.project.bench_files import BuildFile
from goodflight.project.fields import Table, key_words
from goodflight.project.first_asked import First
from goodflight.project.flight_files import DayTable, PlanTable, SiteFile
from goodflight.project.head.hatch import HatchTable
from goodflight.project.head.separation import ChargeTable, RetentionTable, SeparationTable
from goodflight.project.motor_files import MotorFile
from goodflight.project.newcomer_texts import RINGS
from goodflight.project.newcomer_texts import ROCKET as ROCKET_TEXT
from goodflight.project.parts import PART_TABLES
from goodflight.project.text_fields import QuantityField
from goodflight.project.workshop_files import DeviceTable
from goodflight.quantity import Units

FIELD, PLAN = "sites/field.toml:", "plans.toml:plan[first flight]."
MOTOR = "motors/*.toml:"  # of the motor that is flown
ROCKET, BUILD = "rocket.toml:", "build.toml:"


@dataclass(frozen=True)
class Known:
    """One question that may stay empty. `choices` : what may be written, and in words.

    homes : where the answer is written, see `answering`. instead : a word that is taken in place of
    a figure, and what it writes.
    """

    id: str
    prompt: str
    dimension: str
    why: str
    homes: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    instead: tuple[str, str, str] | None = None
    default: str = ""
    imperial: str = ""  # the default of a project in inches, where it is another

    def usual(self, units: Units) -> str:
        """What is taken until another answer is given."""
        return (units == "imperial" and self.imperial) or self.default


_PARTS: Final = re.compile(r'kind = "(\w+)"\nname = "([^"]+)"')


def _tables() -> Iterator[tuple[type[Table], str]]:
    """Every table that the first project may have, with what stands before its keys."""
    yield SiteFile, FIELD
    yield PlanTable, PLAN
    yield DayTable, PLAN + "day."
    yield MotorFile, MOTOR
    yield BuildFile, BUILD
    yield DeviceTable, ROCKET + "device[+]."
    yield SeparationTable, ROCKET + "separation."
    yield ChargeTable, ROCKET + "charge."
    yield RetentionTable, ROCKET + "retention."
    yield HatchTable, ROCKET + "hatch."
    names = [*_PARTS.findall(ROCKET_TEXT), *(("ring", f"{place} ring") for place in RINGS)]
    for kind, name in names:
        yield PART_TABLES[kind], f"{ROCKET}part[{name}]."


def _types(annotation: Any) -> Iterator[Any]:
    """What a type is made of: each part of a union, and what is said of it."""
    yield annotation
    for each in (*get_args(annotation), *getattr(annotation, "__metadata__", ())):
        if get_origin(annotation) is not Literal:
            yield from _types(each)


def _question(key: str, asked: First, types: list[Any], base: str) -> Known:
    """The question of one key: its kind of answer by its type."""
    words = [word for each in types if get_origin(each) is Literal for word in get_args(each)]
    choices = asked.words or tuple((word, word.replace("_", " ")) for word in words)
    dimension = next((each.dimension for each in types if isinstance(each, QuantityField)), "count")
    instead = asked.instead and (asked.instead[0], base + asked.instead[1], asked.instead[2])
    return Known(
        asked.key or key,
        asked.prompt,
        "choice" if choices else dimension,
        asked.why,
        (base + key,),
        choices=choices,
        instead=instead,
        default=asked.default,
        imperial=asked.imperial,
    )


def declared() -> dict[int, Known]:
    """Return what the keys of the first project ask, each by its place; assumed ones below zero.

    Raises
    ------
    ValueError - two questions have one place, or one name: a programmer's fault.
    """
    found: dict[int, Known] = {}
    for model, base in _tables():
        for key, field in model.model_fields.items():
            said = key_words(model, key)
            if said is None or said.first is None:
                continue
            types = [*field.metadata, *_types(field.annotation)]
            new = _question(key, said.first, types, base)
            place = -said.first.place if new.default else said.first.place
            old = found.setdefault(place, new)
            if old is not new:
                if old.id != new.id:
                    raise ValueError(f"{old.id} and {new.id} have one place in the first form")
                found[place] = replace(old, homes=old.homes + new.homes)
    return found


def in_form(beside: Mapping[int, Known], assumed: bool) -> tuple[Known, ...]:
    """Return the questions with a default, or those without, in their order.

    Parameters
    ----------
    beside : mapping - by place, those that no key declares. [-]
    assumed : bool - those with a default. [-]
    """
    keys = {abs(place): each for place, each in declared().items() if (place < 0) is assumed}
    both = keys.keys() & beside.keys()
    if both:
        raise ValueError(f"places {sorted(both)} of the first form are taken twice")
    return tuple(each for _, each in sorted({**keys, **beside}.items()))
