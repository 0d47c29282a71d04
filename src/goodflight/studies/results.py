"""What a study answers with: plain records that every output shows the same way."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.quantity import brief

State = Literal["ok", "marginal", "fails", "unknown"]
Phase = Literal["pad", "boost", "coast", "deployment", "descent", "code", "workmanship"]
RowKind = Literal["failure", "rule", "statement"]
Cost = Literal["free", "minutes", "evening", "purchase", "another_day"]
EntryKind = Literal["figure", "choice", "words", "names", "part", "outline"]


@dataclass(frozen=True)
class Said:
    """A sentence that names figures, each as {name}, told in the units of whoever reads it.

    figures : name -> (value in SI, dimension).
    """

    text: str
    figures: Mapping[str, tuple[float, str]] = field(default_factory=dict)

    def told(self, units: str = "metric") -> str:
        """The sentence with its figures: "use the 3 m rail"."""
        shown = {name: brief(value, kind, units) for name, (value, kind) in self.figures.items()}
        return self.text.format(**shown)

    def __str__(self) -> str:
        return self.told()


def said(text: str, **figures: tuple[float, str]) -> Said:
    """A sentence with its figures: said("use the {length} rail", length=(3.0, "length"))."""
    return Said(text, figures)


@dataclass(frozen=True)
class Input:
    """One input of a row.

    value : middle, SI; None = a factor about one or an error about zero. sigma : one standard
    deviation, SI, or of a factor its share. because : key of the bibliography or of an unsourced
    basis that the spread stands on. reason : why this much; empty where the project says it.
    """

    key: str
    label: str
    dimension: str
    value: float | None
    sigma: float
    share: bool = False
    known: str = "guess"
    path: str = ""  # where it stands in the project, e.g. "rocket.toml:part[nose].mass"
    because: str = "builder"
    source: str = ""  # the same in words
    reason: str = ""


@dataclass(frozen=True)
class Entry:
    """Something to enter: what it is, into which file and under which key, and how to get it.

    place : the key; `device[+].name` stands in a new table of that list, `[+2]` in a second one;
    `plan[x].confirmed[fire]` puts the word into that list, or into `denied`. how : what to do, or
    why it cannot be measured; minutes : of work, None = it cannot, or nothing is measured.
    kind : a figure with its unit; a choice; words; names of parts in a list; a part to add by its
    own form; corners of an outline on the field. choices : what may be written, and in words.
    value : what stands there before anything is typed.
    """

    key: str
    label: str
    dimension: str
    file: str
    place: str
    how: str
    instrument: str
    minutes: float | None
    kind: EntryKind = "figure"
    choices: tuple[tuple[str, str], ...] = ()
    value: str = ""


@dataclass(frozen=True)
class Driver:
    """A cause of a row's chance: what the chance becomes once the figure is known.

    share : of the margin's variance it has a part in (total). chance : of the row with the figure
    at its middle; None = too few flights fail to tell, or it cannot be held. tied : the flights
    cannot tell it from the one before it.
    """

    key: str
    label: str
    share: float
    chance: float | None = None
    tied: bool = False


@dataclass(frozen=True)
class Side:
    """What a change does to another row. after : None = not known any more."""

    key: str
    before: float
    after: float | None


@dataclass(frozen=True)
class Remedy:
    """A change the builder can make: the least that brings its row under its limit, if any does.

    reaches : what the row is called after it. rank : in its row, from 1; what the flights cannot
    tell apart has the same. sides : other rows that it moves. unknown : keys of rows that it acts
    on and that are not known with it.
    """

    key: str
    title: Said  # "drill 1 s less"
    cost: Cost
    cost_note: str
    chance: float  # of this row after the change
    chance_before: float  # the row's own
    total: float  # chance that anything fails, after
    total_before: float
    worsens: tuple[str, ...] = ()  # keys of rows that get worse
    change: tuple[tuple[str, str], ...] = ()  # (project path, new text): what would be written
    settings: tuple[tuple[str, str], ...] = ()  # (lever, setting): how it is tried
    caution: str = ""  # key of the caution that goes with it
    reaches: State = "ok"
    rank: int = 1
    sides: tuple[Side, ...] = ()
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True)
class Trait:
    """A quantity in which the failing flights of a row lie apart from those that stand.

    dimension : of both means; "share" (of the middle value), "spreads" (from it), or "either way"
    (mean distance from it in spreads).
    off : the means are distances from the middle value.
    """

    label: str
    dimension: str
    failing: float
    standing: float
    off: bool = False


@dataclass(frozen=True)
class NumberedFlight:
    """A flight worth looking at: its number in the ledger's sample, from 1, and which it is."""

    number: int
    which: str  # worst | middle | just (fails) | near (stands)


@dataclass(frozen=True)
class Failing:
    """The flights that fail in a row: what they have in common, and some of them by number."""

    traits: tuple[Trait, ...] = ()
    flights: tuple[NumberedFlight, ...] = ()


@dataclass(frozen=True)
class Figured:
    """A figure that stands in a row's formula. value : in SI; source : in words."""

    value: float
    dimension: str
    source: str


@dataclass(frozen=True)
class Basis:
    """What a row stands on: its formula with {name} for every figure, the figures, the sources."""

    formula: str
    figures: Mapping[str, Figured]
    source_keys: tuple[str, ...]
    sources: tuple[str, ...]  # the same in words


@dataclass(frozen=True)
class Row:
    """One limit state: demand against capacity on every flight."""

    key: str
    title: str
    phase: Phase
    state: State
    chance: float | None  # None = unknown
    low: float | None
    high: float | None
    failed: int
    flights: int
    margin: float | None  # reliability index beta of (capacity - demand); None: nothing varies
    demand: NDArray[np.float64]  # (flights,) in `unit`
    capacity: NDArray[np.float64]  # (flights,)
    unit: str  # dimension name for showing, e.g. "speed", "angle", "calibre", "force"
    more_is_worse: bool  # True: fails when demand > capacity; False: fails when demand < capacity
    basis: Basis
    kind: RowKind = "failure"
    inputs: tuple[Input, ...] = ()
    drivers: tuple[Driver, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    warnings: tuple[str, ...] = ()
    advice: str = ""  # what to do when unknown
    asks: tuple[Entry, ...] = ()  # everything it waits for, one entry each
    failing: Failing | None = None  # None: not looked at, or nothing varies
    answered: str | None = None  # the day the builder answered ("" = not given); None = computed


@dataclass(frozen=True)
class Measurement:
    """A figure worth measuring next: how far knowing it would move the total, for how much work.

    minutes : None = not estimated, or it cannot be measured. moves : one standard deviation of the
    total over what the figure may turn out to be; None = nobody has entered it, so failures of the
    flight are not known: these stand first.
    checked : the same from flights with the figure set low, middle and high; None = not flown.
    without : total with this spread really removed, the figure at its middle; None = not flown.
    rows : keys of the failures that wait for it. why_not : why it cannot be measured.
    """

    key: str
    label: str
    how: str
    minutes: float | None
    moves: float | None
    total: float  # chance now, rows left out that fail on every flight
    checked: float | None = None
    without: float | None = None
    instrument: str = ""
    file: str = ""  # where it is entered
    place: str = ""  # and under which key
    rows: tuple[str, ...] = ()
    why_not: str = ""


@dataclass(frozen=True)
class Knowledge:
    """What the total becomes as what is not known turns out one way or another.

    low, high : 8 of 10 ways lie between. frozen : total with every guess at its middle. share :
    of the total that rests on guesses, 0 to 1.
    """

    low: float
    high: float
    frozen: float
    share: float


@dataclass(frozen=True)
class BaseRate:
    """How often something not computed goes wrong elsewhere; never added to a computed chance."""

    what: str
    chance: float | None  # None: the source gives no figure that could be used
    basis: str
    source: str
    how: str  # seen | memory | practice ...


@dataclass(frozen=True)
class WayStep:
    """One step of the way, taken on top of those before it.

    remedy : its effect on the total, and on the row it helps most. helps : keys of the rows whose
    chance falls, the one that falls most first. meets : titles of rules and statements that are
    not met before it and are met then.
    """

    remedy: Remedy
    helps: tuple[str, ...]
    meets: tuple[str, ...] = ()


@dataclass(frozen=True)
class Way:
    """The way to a good flight: the cheapest list of changes found that does, flown together.

    All figures are counted on all flights. limit : what the total may be. reached : whether it and
    every row are under their limits in the end. already : whether they were so before; the steps
    then lower the total further. against : keys of rows that still stand against it.
    unknown : keys of failures not known, which no change answers.
    """

    steps: tuple[WayStep, ...]
    total_before: float
    total: float
    low: float
    high: float
    limit: float
    reached: bool
    already: bool
    against: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    change: tuple[tuple[str, str], ...] = ()  # what keeping all of it would write
    settings: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class NotHere:
    """A way to fail that this rocket does not have: neither ok nor unknown, so no row."""

    key: str
    title: str
    why: str


@dataclass(frozen=True)
class Ledger:
    """All rows of one plan."""

    rocket: str
    plan: str
    motor: str
    site: str
    flights: int
    seed: int
    rows: tuple[Row, ...]
    chance: float  # share of flights that fail in any computed row
    low: float
    high: float
    state: State
    measured: int  # how many inputs are measured
    figures: int  # of how many
    not_modelled: tuple[str, ...]
    warnings: tuple[str, ...]
    stands_on: tuple[tuple[str, str], ...] = ()  # models, versions, inputs hash
    invented: bool = False
    measure_next: tuple[Measurement, ...] = ()  # most for the work first
    base_rates: tuple[BaseRate, ...] = ()  # only when asked for
    not_here: tuple[NotHere, ...] = ()  # ways to fail that this rocket does not have
    way: Way | None = None  # None: not looked for
    unknown: tuple[str, ...] = ()  # keys of failures not known: the chance is a lower bound
    unmet: tuple[str, ...] = ()  # keys of rules not met and of statements denied
    open: tuple[str, ...] = ()  # keys of rules and statements that wait for an answer
    knowledge: Knowledge | None = None  # None: too few flights, or nothing is guessed


@dataclass(frozen=True)
class FlightReport:
    """One nominal flight: named figures (SI) and its time history.

    figures : name with unit suffix -> value (None = did not happen).
    history : name with unit suffix -> (n,) array; first is time_s.
    events : (name in words, time_s, height_m).
    """

    rocket: str
    plan: str
    motor: str
    calm: bool
    figures: dict[str, float | None]
    events: tuple[tuple[str, float, float], ...]
    history: dict[str, NDArray[np.float64]]
    warnings: tuple[str, ...] = ()
    invented: bool = False
    stands_on: tuple[tuple[str, str], ...] = field(default_factory=tuple)
