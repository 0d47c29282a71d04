"""What an uncertain quantity is: declared once, everything else is made from the declaration.

A declaration says how a quantity scatters and why, where the project states it, and how it is
measured. From it come the random column, the words of drivers and inputs, what to measure next,
and what to ask for where it is missing. Declarations stand in the modules of this folder by
subject; `declared` collects them.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final, Literal

from goodflight.physics.sources import SOURCES, UNSOURCED
from goodflight.physics.vehicle.figure import Figure
from goodflight.quantity.said import Convertible
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Entry
from goodflight.studies.sampling.spread import Spread

Known = Literal["guess", "label", "measured", "flight"]
Nature = Literal["knowledge", "chance"]
KNOWLEDGE: Final[Nature] = "knowledge"
"""One true value on every flight of this rocket and plan, that nobody has looked at well enough."""
CHANCE: Final[Nature] = "chance"
"""Another value on every flight: the air of the hour, the lot of the motor, how it is packed."""


@dataclass(frozen=True)
class Shown:
    """What an instrument shows of a quantity that no file has: a [[reading]] of it is taken.

    dimension : of what is shown; becomes : the quantity's value from that [SI], None where the
    flight lacks what that takes; once : each reading is of the same thing, not of one more.
    """

    dimension: str
    becomes: Callable[[Case, float], float | None]
    once: bool = False


def shown_over(dimension: str, usual: Callable[[Case], float | None]) -> Shown:
    """Of a factor about one: what is shown over what the design takes."""

    def becomes(case: Case, shown: float) -> float | None:
        middle = usual(case)
        return shown / middle if middle else None

    return Shown(dimension, becomes)


@dataclass(frozen=True)
class Measured:
    """How a builder measures a quantity.

    how : what to do; minutes : of work, our guess; instrument : with what; error : one standard
    deviation of what it gives, SI, or a share where the spread is relative. shows : what is read,
    where no file has the quantity; None = no [[reading]] of it is taken.
    """

    how: str
    minutes: float
    instrument: str
    error: float
    shows: Shown | None = None

    def __post_init__(self) -> None:
        """Its figures are told in the reader's units."""
        object.__setattr__(self, "how", Convertible(self.how))


@dataclass(frozen=True)
class Stated:
    """A figure of the project: middle and one standard deviation, both SI.

    value : None = none of its own, a factor about one or an error about zero. sigma : None = the
    declaration's own by how it is known. path : where it is written. reason : for this spread,
    where it is not the declaration's. name, label, dimension : of one member of a family.
    unmeasured : why no instrument helps with it, "" = as with the others.
    """

    value: float | None
    sigma: float | None = None
    known: str = "guess"
    path: str = ""
    reason: str = ""
    name: str = ""
    label: str = ""
    dimension: str = ""
    unmeasured: str = ""


ALSO: Final = "; also needed: "


@dataclass(frozen=True)
class Missing:
    """What a row waits for, in words, and what to enter.

    told : how many of the entries, the first ones, the words speak of; None = all.
    """

    advice: str
    asks: tuple[Entry, ...] = ()
    told: int | None = None

    @property
    def words(self) -> str:
        """The advice, and what else is needed."""
        more = [each.label for each in self.asks[self.told :]] if self.told is not None else []
        return self.advice + (f"{ALSO}{', '.join(more)}" if more else "")


class NotGivenError(Exception):
    """A quantity was asked for that the project does not give and that has no middle of its own."""

    def __init__(self, missing: Missing) -> None:
        super().__init__(missing.advice)
        self.missing = missing


class UndeclaredError(LookupError):
    """A quantity was asked for that no module declares: a programmer's fault."""


def _always(_case: Case) -> bool:
    return True


def _check(key: str, because: str, way: Measured | None, why_not: str) -> None:
    if because not in SOURCES and because not in UNSOURCED:
        raise ValueError(f"{key}: no source has the key {because!r}; add it to SOURCES")
    if (way is None) == (not why_not):
        raise ValueError(f"{key}: say how it is measured, or why it cannot be")


@dataclass(frozen=True, eq=False)
class Quantity:
    """One uncertain quantity.

    key : its random column; label : words for the reader; dimension : of its value, or "ratio".
    spread : how it scatters. nature : whether the spread is missing knowledge, which measuring
    takes away, or chance from flight to flight. because : key of `SOURCES` or `UNSOURCED` that the
    spread stands on, "builder" where the project states it. reason : one plain sentence for the
    size of the spread. group : quantities shown as one driver. middle : value where the project
    states none. given : where the project states it, None = it does not. exists : whether this
    flight has it. at : file and key where it is written. advice : what to do where it is missing.
    measured_by, or not_measurable : why not. carried : whether what a flight says of it holds for
    the rocket's next flights.
    """

    key: str
    label: str
    dimension: str
    spread: Spread
    nature: Nature
    because: str
    reason: str
    group: str = ""
    middle: float | None = None
    given: Callable[[Case], Stated | Figure | None] | None = None
    exists: Callable[[Case], bool] = _always
    at: str | Callable[[Case], str] = ""
    advice: str | Callable[[Case], str] = ""
    measured_by: Measured | None = None
    not_measurable: str = ""
    carried: bool = False

    def __post_init__(self) -> None:
        _check(self.key, self.because, self.measured_by, self.not_measurable)
        object.__setattr__(self, "reason", Convertible(self.reason))

    def stated(self, case: Case) -> Stated | None:
        """The quantity in one flight; None where the flight lacks it or waits for it."""
        if not self.exists(case):
            return None
        read = case.uncertainty.read.get(self.key)
        if read is not None:
            return Stated(read.value, read.sigma, read.known, read.path)
        found = None if self.given is None else self.given(case)
        if isinstance(found, Figure):
            return Stated(found.value, found.sigma, found.known, found.path)
        if found is None and (self.given is None or self.middle is not None):
            return Stated(self.middle)
        return found

    def factors(self, case: Case) -> list["Factor"]:
        """Its column of this flight, or none."""
        if self.given is None and self.key not in case.uncertainty.read:
            return [self.unstated] if self.exists(case) else []
        stated = self.stated(case)
        return [] if stated is None else [factor_of(self, stated)]

    @cached_property
    def unstated(self) -> "Factor":
        """Its column where neither project nor reading says more: the same of every flight."""
        return factor_of(self, Stated(self.middle))

    def home(self, case: Case) -> str:
        """File and key where a project writes it, "rocket.toml:separation.pull"; "" = nowhere."""
        return self.at if isinstance(self.at, str) else self.at(case)

    def entry(self, case: Case) -> Entry:
        """What to enter where, and how to get it."""
        file, _, place = self.home(case).partition(":")
        way = self.measured_by
        how = self.not_measurable if way is None else way.how
        instrument, minutes = ("", None) if way is None else (way.instrument, way.minutes)
        return Entry(
            self.key,
            self.label,
            dimension=self.dimension,
            file=file,
            place=place,
            how=how,
            instrument=instrument,
            minutes=minutes,
        )

    def missing(self, case: Case) -> Missing:
        """Why a row that needs it is unknown, and what to do."""
        entry = self.entry(case)
        advice = self.advice if isinstance(self.advice, str) else self.advice(case)
        return Missing(advice or f"{entry.how} and write it ({entry.place})", (entry,))


@dataclass(frozen=True, eq=False)
class Family:
    """A quantity that every part, fin or place has of its own; members are named by the project.

    key : beginning of their columns, with its colon. members : of one flight, each with its name.
    group : all members as one driver; group_as : each with the member of another family, "" = with
    itself. Else as a Quantity.
    """

    key: str
    label: str
    dimension: str
    spread: Spread
    nature: Nature
    because: str
    reason: str
    members: Callable[[Case], Iterable[Stated]]
    group: str = ""
    group_as: str = ""
    measured_by: Measured | None = None
    not_measurable: str = ""

    def __post_init__(self) -> None:
        _check(self.key, self.because, self.measured_by, self.not_measurable)
        object.__setattr__(self, "reason", Convertible(self.reason))

    def of(self, name: str) -> str:
        """Key of a member's column."""
        return self.key + name

    def holds(self, key: str) -> bool:
        """Whether a column is of one of its members."""
        return key.startswith(self.key)

    def member(self, key: str) -> str:
        """Name of the member whose column this is; the key itself where it is of none."""
        return key.removeprefix(self.key)

    def factors(self, case: Case) -> list["Factor"]:
        """Its columns of this flight, one a member."""
        found = []
        for each in self.members(case):
            read, member = case.uncertainty.read.get(self.of(each.name)), each
            if read is not None:
                member = replace(
                    each,
                    value=read.value,
                    sigma=read.sigma,
                    known=read.known,
                    path=read.path,
                    reason="",
                )
            found.append(factor_of(self, member))
        return found


@dataclass(frozen=True)
class Factor:
    """One uncertain quantity of one flight: one column of standard-normal scores.

    sigma : one standard deviation, SI, or a share where `relative`; value : its middle, SI, None =
    a factor about one or an error about zero.
    """

    of: Quantity | Family = field(repr=False)
    key: str
    label: str
    group: str
    dimension: str
    sigma: float
    known: str = "guess"
    path: str = ""
    value: float | None = None
    reason: str = ""  # for this spread; "" where the project says it
    unmeasured: str = ""  # why no instrument helps with this one of a family

    @property
    def relative(self) -> bool:
        """Whether it is a factor about one, sigma a share."""
        return self.value is None and self.of.spread.relative

    @property
    def because(self) -> str:
        """What its spread stands on: key of `SOURCES` or `UNSOURCED`."""
        return self.of.because if self.reason else "builder"

    @property
    def measured_by(self) -> Measured | None:
        """How it is measured; None where no instrument helps."""
        return None if self.why_not else self.of.measured_by

    @property
    def why_not(self) -> str:
        """Why no instrument helps; empty where one does."""
        return self.unmeasured or self.of.not_measurable

    @property
    def guessed(self) -> bool:
        """Whether its spread is missing knowledge that nobody has measured."""
        return self.of.nature == KNOWLEDGE and self.known in ("guess", "label")


def factor_of(quantity: Quantity | Family, stated: Stated) -> Factor:
    """The column of a quantity with the figures of one flight."""
    spread = quantity.spread
    sigma = spread.sigma_of(stated.known) if stated.sigma is None else stated.sigma
    if stated.sigma is None and spread.relative and stated.value is not None:
        sigma *= abs(stated.value)
    key = quantity.key + stated.name
    group = quantity.group or key
    if isinstance(quantity, Family) and quantity.group_as:
        group = quantity.group_as + stated.name
    reason = stated.reason or (quantity.reason if stated.sigma is None else "")
    return Factor(
        of=quantity,
        key=key,
        label=stated.label or quantity.label.format(stated.name),
        group=group,
        dimension=stated.dimension or quantity.dimension,
        sigma=sigma,
        known=stated.known,
        path=stated.path,
        value=stated.value,
        reason=reason,
        unmeasured=stated.unmeasured,
    )
