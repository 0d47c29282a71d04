"""One kind of lever: one thing the builder can change.

From its declaration come the what-if control, the remedies of the rows, what trying it makes of a
planned flight, and what keeping it writes into the project. A lever's settings stand in order, each
one that a builder can make; the one that the project has is among them. A solver walks from there,
the ways that the lever declares, to the least change that does.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from goodflight.quantity.said import Said, said
from goodflight.studies.case.planned import Case
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Cost

Write = tuple[str, str]  # project path, new text
Towards = Literal["both", "up", "down", "none"]
Ways = tuple[tuple[str, ...], ...]
ANYWHERE: Final = (-math.inf, math.inf)
MAX_NAMED: Final = 8  # settings that a refusal names one by one
MOST_STEPS: Final = 400  # of one lever; figures far beyond any rocket's would give millions
AS_IT_IS: Final = "as it is"


@dataclass(frozen=True)
class Setting:
    """One setting of a lever on one planned flight.

    id : its value in SI, or a name. make : the flight with it, on what is tried already.
    cost, note : where they are not the lever's. shown : its name, where the id does not say it.
    """

    id: str
    value: float | None
    title: Said
    writes: tuple[Write, ...]
    make: Callable[[Case], Case]
    cost: Cost | None = None
    note: str | None = None
    shown: Said | None = None

    def name(self, units: str = "metric") -> str:
        """What it is called in a list of names."""
        return self.id if self.shown is None else self.shown.told(units)


@dataclass(frozen=True)
class Offer:
    """What a lever offers on one planned flight.

    now : id of the setting that the project has.
    towards : which way along its numbers a remedy may go; within : and how far.
    named : ways among names, each from the least change to the greatest.
    label : words for it here, where the lever's own say too little.
    """

    now: str
    settings: tuple[Setting, ...]
    towards: Towards = "none"
    within: tuple[float, float] = ANYWHERE
    named: Ways = ()
    label: str = ""

    def ways(self, chosen: str) -> Ways:
        """Ids of settings to be tried from the chosen one on, the least change first."""
        place = [each.id for each in self.settings].index(chosen)
        least, most = self.within
        fit = [each.value is not None and least <= each.value <= most for each in self.settings]
        ids = [each.id if fits else "" for each, fits in zip(self.settings, fit)]
        down = (
            tuple(filter(None, reversed(ids[:place]))) if self.towards in ("both", "down") else ()
        )
        up = tuple(filter(None, ids[place + 1 :])) if self.towards in ("both", "up") else ()
        named = (tuple(each for each in way if each != chosen) for way in self.named)
        return tuple(way for way in (down, up, *named) if way)

    def setting(self, wanted: str, key: str, label: str) -> Setting:
        """One setting by its id; a StudyRefused lists what there is."""
        for each in self.settings:
            if each.id == wanted:
                return each
        there = [each.id for each in self.settings]
        expected = f"one of {', '.join(there)}"
        if len(there) > MAX_NAMED:
            expected = f"one of its {len(there)} settings, {there[0]} to {there[-1]}"
        found = f"no setting {wanted!r} of {label!r} here"
        raise StudyRefused(found, expected, "open the ledger and choose it there", key)


@dataclass(frozen=True)
class Lever:
    """One thing the builder can change.

    dimension : of its values; empty when the settings are names.
    offer : (flight as planned, flight as tried so far) -> what it offers; None: not on this rocket.
    helps : rows it is meant for; empty: any.
    flies : False when only capacities or the motion after ejection move.
    as_planned : the flights hardly differ in the rows it helps: its settings are looked for on
    flights as planned, and what is found is flown.
    touches : rows it may make worse: where they are not known, a remedy says so.
    alone : why there is nothing to choose where it has one setting only, and what gives more.
    slider : whether it is always shown among the what-if controls.
    caution : key of the caution that goes with it.
    """

    key: str
    label: str
    dimension: str
    cost: Cost
    offer: Callable[[Case, Case], Offer | None]
    note: str = ""
    helps: tuple[str, ...] = ()
    flies: bool = True
    as_planned: bool = False
    slider: bool = False
    caution: str = ""
    touches: tuple[str, ...] = ()
    alone: str = "nothing else can be chosen here"


def identity(case: Case) -> Case:
    """The flight as it is."""
    return case


def numbers(
    now: float,
    values: Iterable[float],
    make: Callable[[Case, float], Case],
    writes: Callable[[float], tuple[Write, ...]],
    title: Callable[[float], Said],
    towards: Towards = "both",
    within: tuple[float, float] = ANYWHERE,
) -> Offer:
    """Settings that are numbers: the planned one is always among them, and writes nothing new."""
    planned = round(now, 6)
    kept = sorted({*(round(v, 6) for v in values), planned})

    def setting(value: float) -> Setting:
        if value == planned:
            return Setting(f"{value:g}", value, said(AS_IT_IS), (), identity)
        written = writes(value)
        return Setting(f"{value:g}", value, title(value), written, lambda case: make(case, value))

    return Offer(f"{planned:g}", tuple(map(setting, kept)), towards, within)


def names(now: str, settings: Iterable[Setting], ways: Iterable[tuple[str, ...]] = ()) -> Offer:
    """Settings that are names; the one that the project has writes nothing new."""
    planned = Setting(now, None, said(AS_IT_IS), (), identity)
    others = {each.id: each for each in settings}
    ids = others if now in others else [now, *others]
    return Offer(now, tuple(planned if i == now else others[i] for i in ids), named=tuple(ways))


def once(title: Said, make: Callable[[Case], Case], *writes: Write, name: str = "done") -> Offer:
    """A thing that is done or left: one setting beside the project's own."""
    return names(AS_IT_IS, (Setting(name, None, title, writes, make),), ((name,),))


def steps(low: float, high: float, step: float) -> Iterator[float]:
    """Values from low to high, both of them among the values; wider apart where they are many."""
    count = round((high - low) / step)
    apart = max(1, math.ceil(count / MOST_STEPS))
    for i in range(0, count, apart):
        yield round(low + i * step, 6)
    if count >= 0:
        yield round(low + count * step, 6)
