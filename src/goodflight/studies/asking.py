"""What a row that is not known asks for: figures, choices, parts, outlines, answers.

Each entry says where it is written, so that terminal, page and JSON can show one box for it.
"""

from collections.abc import Iterable
from dataclasses import replace

from goodflight.project.materials import library
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Entry
from goodflight.studies.sampling.quantity import Missing

Choices = Iterable[tuple[str, str]]
ROCKET, BUILD, WEIGHINGS = "rocket.toml", "build.toml", "weighings.toml"


def entry(
    home: str,
    label: str,
    how: str,
    dimension: str = "",
    instrument: str = "",
    minutes: float | None = None,
) -> Entry:
    """A figure to write at a home such as "rocket.toml:part[fins].mass"."""
    file, place = _at(home)
    return Entry(
        key=home,
        label=label,
        dimension=dimension,
        file=file,
        place=place,
        how=how,
        instrument=instrument,
        minutes=minutes,
    )


def _at(home: str) -> tuple[str, str]:
    """File and place of a home."""
    file, _, place = home.partition(":")
    return file, place


def choice(home: str, label: str, how: str, choices: Choices, value: str = "") -> Entry:
    """One of some words, each with what it means."""
    return replace(entry(home, label, how), kind="choice", choices=tuple(choices), value=value)


def words(home: str, label: str, how: str, value: str = "") -> Entry:
    """A name or a remark; `value` stands there unless something else is typed."""
    return replace(entry(home, label, how), kind="words", value=value)


def names(home: str, label: str, how: str, case: Case) -> Entry:
    """Names of parts of this rocket."""
    there = tuple((part.name, part.name) for part in case.rocket.parts)
    return replace(entry(home, label, how), kind="names", choices=there)


def to_add(kind: str, label: str, how: str) -> Entry:
    """A part to add; its form asks for what it needs."""
    home = f"part[+]:{kind}"
    return Entry(
        home,
        label,
        dimension="",
        file=ROCKET,
        place="part[+]",
        how=how,
        instrument="",
        minutes=None,
        kind="part",
        choices=((kind, label),),
    )


def weighed_alone(name: str, how: str) -> Entry:
    """A part to weigh by itself, entered as a weighing: out of a whole that holds its mass."""
    home = f"{WEIGHINGS}:weighing[{name}].mass"
    told = entry(
        home,
        f"mass of {name}, weighed alone",
        how=how,
        dimension="mass",
        instrument="kitchen scale",
        minutes=5.0,
    )
    return replace(told, kind="weighing", choices=((name, name),))


def outline(case: Case, role: str, label: str, how: str) -> Entry:
    """Corners of the field, of a keep-out or of where people are."""
    file, place = case.origin.site_path, f"outline[{role}]"
    return Entry(
        f"{file}:{place}",
        label,
        dimension="",
        file=file,
        place=place,
        how=how,
        instrument="",
        minutes=20.0,
        kind="outline",
    )


def field_outline(case: Case) -> Entry:
    """The edge of the field."""
    how = "distances from the pad to its edges, or its corners, from a map or walked off"
    return outline(case, "field", "outline of the field", how)


def material(name: str, label: str, figure: str) -> Entry:
    """The material of a part, of those of the library that hold a figure."""
    found = (
        (key, key.replace("_", " "))
        for key, each in library().items()
        if getattr(each.material, figure) is not None
    )
    home = f"{ROCKET}:part[{name}].material"
    return choice(home, label, "choose what it is made of; the part's form takes its own", found)


def of_site(case: Case, key: str, label: str, how: str, minutes: float | None = None) -> Entry:
    """A length of the field's file."""
    return entry(
        f"{case.origin.site_path}:{key}",
        label,
        how=how,
        dimension="length",
        instrument="map or tape",
        minutes=minutes,
    )


def of_plan(case: Case, key: str) -> str:
    """Where the plan of this flight says something."""
    return f"{case.origin.plan_path}.{key}"


def asked(advice: str, *asks: Entry, told: int | None = None) -> Missing:
    """What a row waits for; told : how many of the entries the advice speaks of, None = all."""
    return Missing(advice, asks, told)


def together(*found: object) -> Missing | None:
    """All that is missing among these, as one: what to do first, and what else is needed."""
    lacks = [each for each in found if isinstance(each, Missing)]
    if len(lacks) < 2:
        return lacks[0] if lacks else None
    asks = {each.key: each for lack in lacks for each in lack.asks}
    first, alike = lacks[0], len({lack.advice for lack in lacks}) == 1
    told = first.told if first.told is not None else len(first.asks)
    return Missing(first.advice, tuple(asks.values()), None if alike else told)
