"""What a study answers with: plain records that every output shows the same way."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.quantity.said import Said, Words

State = Literal["ok", "marginal", "fails", "unknown"]
Phase = Literal["pad", "boost", "coast", "deployment", "descent", "code", "workmanship"]
RowKind = Literal["failure", "rule", "statement"]
Cost = Literal["free", "minutes", "evening", "purchase", "another_day"]
EntryKind = Literal["figure", "choice", "words", "names", "part", "outline", "weighing"]


@dataclass(frozen=True)
class Input:
    """One input of a row."""

    key: Annotated[str, "its random column"]
    label: Annotated[str, "the same in words"]
    dimension: Annotated[str, "what it is, e.g. mass"]
    value: Annotated[
        float | None, "middle in unit [SI]; null = a factor about one or an error about zero"
    ]
    sigma: Annotated[float, "one standard deviation in unit [SI]"]
    share: Annotated[bool, "true: sigma is a share of the value"] = False
    known: Annotated[str, "guess, label, measured or flight"] = "guess"
    path: Annotated[str, "where it stands in the project"] = ""
    because: Annotated[str, "key in docs/bibliography.md or a word as practice, guess, memory"] = (
        "builder"
    )
    source: Annotated[str, "the same in words"] = ""
    reason: Annotated[str, "why this much; empty = the project says it"] = ""


@dataclass(frozen=True)
class Entry:
    """Something to enter: what it is, into which file and under which key, and how to get it.

    place : `device[+].name` stands in a new table of that list, `[+2]` in a second one;
    `plan[x].confirmed[fire]` puts the word into that list, or into `denied`. kind : names of parts
    in a list; a part to add by its own form; corners of an outline on the field; what a part reads
    alone on the scale.
    """

    key: Annotated[str, "name of the figure"]
    label: Annotated[str, "the same in words"]
    dimension: Annotated[str, "what it is; empty = no figure"]
    file: Annotated[str, "file of the project"]
    place: Annotated[str, "key in it; [+]: in a new table"]
    how: Annotated[str, "how it is measured, or why it cannot be"]
    instrument: Annotated[str, "with what; empty = nothing special"]
    minutes: Annotated[
        float | None, "work it takes [min]; null = cannot be measured, or nothing is"
    ]
    kind: Annotated[EntryKind, "figure, choice, words, names, part, outline or weighing"] = "figure"
    choices: Annotated[
        tuple[tuple[str, str], ...], "pairs of what is written and what it means"
    ] = ()
    value: Annotated[str, "what stands there before anything is typed"] = ""


@dataclass(frozen=True)
class Driver:
    """A cause of a row's chance: what the chance becomes once the figure is known."""

    key: Annotated[str, "figure or group of figures"]
    label: Annotated[str, "the same in words"]
    share: Annotated[float, "of the spread it takes part in, 0 to 1 (total effect)"]
    chance: Annotated[
        float | None, "of the row once it is known (at its middle); null = not told"
    ] = None
    tied: Annotated[bool, "true: the flights cannot tell it from the one before"] = False


@dataclass(frozen=True)
class SideRow:
    """What a change does to another row."""

    key: Annotated[str, "key of the row"]
    before: Annotated[float, "its chance before"]
    after: Annotated[float | None, "its chance after; null = not known any more"]


@dataclass(frozen=True)
class Remedy:
    """A change the builder can make: the least that brings its row under its limit, if any does.

    caution : its key. unknown : keys of rows that it acts on and that are not known with it.
    """

    key: Annotated[str, "name of the remedy"]
    title: Annotated[Said, "what to do"]
    cost: Annotated[Cost, "free, minutes, evening, purchase or another_day"]
    cost_note: Annotated[str, "more on the cost"]
    chance: Annotated[float, "chance of this row after"]
    chance_before: Annotated[float, "chance of this row before, as the row has it"]
    total: Annotated[float, "chance that anything fails, after"]
    total_before: Annotated[float, "chance that anything fails, before"]
    worsens: Annotated[tuple[str, ...], "keys of rows that get worse"] = ()
    change: Annotated[tuple[tuple[str, str], ...], "what would be written"] = ()
    settings: Annotated[tuple[tuple[str, str], ...], "lever and setting, as it is tried"] = ()
    caution: str = ""  # key of the caution that goes with it
    reaches: Annotated[State, "what the row is called after it: ok, marginal or fails"] = "ok"
    rank: Annotated[
        int, "in its row, from 1; remedies that the flights cannot tell apart share one"
    ] = 1
    sides: Annotated[tuple[SideRow, ...], "other rows that it moves"] = ()
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

    key: Annotated[str, "name of the limit state, for --why"]
    title: Annotated[str, "the same in words"]
    phase: Annotated[Phase, "pad, boost, coast, deployment, descent, code or workmanship"]
    state: Annotated[State, "ok, marginal, fails or unknown; unknown is never ok"]
    chance: Annotated[float | None, "share of flights that fail, 0 to 1; null = not known"]
    low: Annotated[float | None, "lower end of the 95 % Wilson interval"]
    high: Annotated[float | None, "upper end of the 95 % Wilson interval"]
    failed: Annotated[int, "flights that fail"]
    flights: Annotated[int, "flights counted"]
    margin: Annotated[
        float | None,
        "standard deviations between demand and capacity; null = not known, or nothing varies",
    ]
    demand: Annotated[NDArray[np.float64], "the demand"]
    capacity: Annotated[NDArray[np.float64], "the capacity"]
    unit: str  # dimension name for showing, e.g. "speed", "angle", "calibre", "force"
    more_is_worse: Annotated[bool, "true: fails when the demand is above the capacity"]
    basis: Basis
    kind: Annotated[
        RowKind, "failure (counts in the total), rule (met or not) or statement (to confirm)"
    ] = "failure"
    inputs: Annotated[tuple[Input, ...], "the uncertain quantities that go in"] = ()
    drivers: Annotated[
        tuple[Driver, ...], "what its chance comes from, least chance once known first"
    ] = ()
    remedies: Annotated[tuple[Remedy, ...], "what helps, flown again on the same flights"] = ()
    warnings: Annotated[tuple[Words, ...], "validity of this row"] = ()
    advice: Annotated[str, "what to do when unknown"] = ""
    asks: Annotated[tuple[Entry, ...], "what to enter when unknown"] = ()
    failing: Failing | None = None  # None: not looked at, or nothing varies
    answered: Annotated[
        str | None, "day of the builder's answer (empty: no day given); null = not answered"
    ] = None


@dataclass(frozen=True)
class Measurement:
    """A figure worth measuring next: how far knowing it would move the total, for how much work.

    Those that nobody has entered stand first: failures of the flight are not known without them.
    """

    key: Annotated[str, "figure or group of figures"]
    label: Annotated[str, "the same in words"]
    how: Annotated[str, "what to do"]
    minutes: Annotated[
        float | None, "work it takes [min], our guess; null = not estimated, or cannot be measured"
    ]
    moves: Annotated[
        float | None,
        "standard deviation of the total over what the figure may turn out to be; null = nobody "
        "has entered it: failures that are not known wait for it",
    ]
    total: Annotated[float, "chance now, rows left out that fail on every flight"]
    checked: Annotated[
        float | None, "moves, from flights with the figure low, middle, high; null = not flown"
    ] = None
    without: Annotated[float | None, "total with this spread removed; null = not flown"] = None
    instrument: Annotated[str, "with what; empty = nothing special, or the advice names it"] = ""
    file: Annotated[str, "file of the project where it is entered; empty = the advice names it"] = (
        ""
    )
    place: Annotated[str, "key in that file"] = ""
    rows: Annotated[
        tuple[str, ...], "keys of the failures of the flight that wait for it, when it is not known"
    ] = ()
    part: Annotated[str, "part that is weighed alone; empty = it is entered in the file"] = ""
    why_not: Annotated[str, "why it cannot be measured; empty = it can"] = ""


@dataclass(frozen=True)
class Knowledge:
    """What the total becomes as what is not known turns out one way or another."""

    low: Annotated[float, "lower end; 8 of 10 ways lie from low to high"]
    high: Annotated[float, "upper end"]
    frozen: Annotated[float, "the total with every guess at its middle"]
    share: Annotated[float, "of the total that rests on guesses, 0 to 1"]


@dataclass(frozen=True)
class BaseRate:
    """How often something not computed goes wrong elsewhere; never added to a computed chance."""

    what: Annotated[str, "what is not computed"]
    chance: Annotated[float | None, "how often elsewhere, 0 to 1; null = no figure"]
    basis: Annotated[str, "what was counted"]
    source: Annotated[str, "where it is published"]
    how: Annotated[str, "how the source was read"]


@dataclass(frozen=True)
class WayStep:
    """One step of the way, taken on top of those before it."""

    remedy: Annotated[
        Remedy,
        "what is done; chances of the first row it helps, totals of the way so far",
    ]
    helps: Annotated[tuple[str, ...], "keys of the rows it helps, most first"]
    meets: Annotated[tuple[str, ...], "titles of rules met by it"] = ()


@dataclass(frozen=True)
class Way:
    """The way to a good flight: the cheapest list of changes found that does, flown together.

    All figures are counted on all flights.
    """

    steps: Annotated[
        tuple[WayStep, ...],
        "the steps: those that decide, then the others, each the cheapest first",
    ]
    total_before: Annotated[float, "chance that anything fails, before"]
    total: Annotated[float, "chance that anything fails after all steps, on all flights"]
    low: Annotated[float, "lower end of its 95 % Wilson interval"]
    high: Annotated[float, "upper end of its 95 % Wilson interval"]
    limit: Annotated[float, "what the total may be"]
    reached: Annotated[bool, "true: in the end the total and every row are under their limits"]
    already: Annotated[bool, "true: they were before; the steps then lower the total further"]
    against: Annotated[tuple[str, ...], "keys of rows that still stand against it"] = ()
    unknown: Annotated[
        tuple[str, ...], "keys of failures that are not known: no change answers them"
    ] = ()
    change: Annotated[tuple[tuple[str, str], ...], "what keeping all of it would write"] = ()
    settings: Annotated[
        tuple[tuple[str, str], ...], "lever and setting of every step, as it is tried"
    ] = ()


@dataclass(frozen=True)
class NotHere:
    """A way to fail that this rocket does not have: neither ok nor unknown, so no row."""

    key: Annotated[str, "name of the limit state"]
    title: Annotated[str, "the same in words"]
    why: Annotated[str, "why this rocket cannot fail so"]


@dataclass(frozen=True)
class Ledger:
    """All rows of one plan."""

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the planned flight"]
    motor: Annotated[str, "name of the motor"]
    site: Annotated[str, "name of the field"]
    flights: Annotated[int, "flights simulated"]
    seed: Annotated[int, "same seed, same answer on one machine"]
    rows: Annotated[tuple[Row, ...], "limit states in the order of the flight"]
    chance: Annotated[float, "share of flights that fail in any row, 0 to 1"]
    low: Annotated[float, "lower end of the 95 % Wilson interval"]
    high: Annotated[float, "upper end of the 95 % Wilson interval"]
    state: Annotated[State, "ok, marginal, fails or unknown: the worst that counts"]
    measured: Annotated[int, "how many figures are measured"]
    figures: Annotated[int, "of how many figures in the project"]
    not_modelled: Annotated[tuple[str, ...], "what the chance leaves out"]
    warnings: Annotated[tuple[Words, ...], "cautions about this answer"]
    stands_on: Annotated[
        tuple[tuple[str, str], ...], "models, versions and the hash of the inputs"
    ] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False
    measure_next: Annotated[
        tuple[Measurement, ...], "figures worth measuring, most for the work first"
    ] = ()
    base_rates: Annotated[
        tuple[BaseRate, ...], "rates of whole flights elsewhere, with `--base-rates`"
    ] = ()
    not_here: Annotated[
        tuple[NotHere, ...], "ways to fail that this rocket does not have; no rows"
    ] = ()
    way: Annotated[Way | None, "the way to a good flight; null = not looked for"] = None
    unknown: Annotated[
        tuple[str, ...],
        "keys of failures of the flight that are not known: the chance is a lower bound",
    ] = ()
    unmet: Annotated[
        tuple[str, ...], "keys of rules that are not met and of statements that are denied"
    ] = ()
    open: Annotated[tuple[str, ...], "keys of rules and statements that wait for an answer"] = ()
    knowledge: Annotated[
        Knowledge | None,
        "what the total becomes as what is not known turns out one way or another; null = too few "
        "flights, or nothing is guessed",
    ] = None


@dataclass(frozen=True)
class FlightReport:
    """One nominal flight: named figures (SI) and its time history.

    figures : name with unit suffix -> value (None = did not happen).
    history : name with unit suffix -> (n,) array; first is time_s.
    events : (name in words, time_s, height_m).
    """

    rocket: Annotated[str, "name of the rocket"]
    plan: Annotated[str, "name of the planned flight"]
    motor: Annotated[str, "name of the motor"]
    calm: Annotated[bool, "true: no wind and no gusts"]
    figures: dict[str, float | None]
    events: tuple[tuple[str, float, float], ...]
    history: dict[str, NDArray[np.float64]]
    warnings: Annotated[tuple[Words, ...], "cautions about this answer"] = ()
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False
    stands_on: tuple[tuple[str, str], ...] = field(default_factory=tuple)
