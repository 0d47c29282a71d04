"""What goes into each bay, in the order of insertion, and whether it fits.

A recovery bay is packed as the ledger's row packs it: same lengths, same room. Couplers and
shoulders that reach into a bay shorten it. How tightly a canopy is folded is the builder's hand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from math import pi
from textwrap import wrap
from typing import Final, get_args

from goodflight.physics.recovery.packing import section_m2
from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.quantity.said import Words as Sentence
from goodflight.quantity.said import either, literal, said, told
from goodflight.quantity.units import Units
from goodflight.studies.bench.places import of_kind, tube_at
from goodflight.studies.bench.shapes import (
    LETTER_WIDE,
    Line,
    Point,
    Shape,
    Template,
    Words,
    rectangle,
    room_of,
)
from goodflight.studies.canopy_name import canopy_words
from goodflight.studies.case.planned import Case
from goodflight.studies.packing import Stack, intruding_m, stack_of

DRAWN_M: Final = 0.110  # width of the drawing on paper
VERDICT_M: Final = 0.0026  # height of its letters


@dataclass(frozen=True)
class Item:
    """One thing in a bay; `number` is the order of insertion, `canopy` its kind."""

    number: int
    name: str
    length_m: float
    diameter_m: float
    wrapped: bool = False
    canopy: bool = False
    guessed: bool = False  # its length is from mass and density, as the ledger takes it

    @property
    def words(self) -> str:
        """Its name as it is shown: what a canopy is called need not say what it is."""
        return canopy_words(self.name, f"{self.name} (canopy)") if self.canopy else self.name


@dataclass(frozen=True)
class PackedBay:
    """A bay with its contents, first in first."""

    bay: str
    opens: str  # "front" | "rear"
    length_m: float
    intruding_m: float  # couplers and shoulders in it
    diameter_m: float
    items: tuple[Item, ...]
    start_m: float

    @property
    def stacked_m(self) -> float:
        """Length of all that stacks."""
        return sum(item.length_m for item in self.items)

    @property
    def spare_m(self) -> float:
        """Free length left; below zero it does not fit."""
        return self.length_m - self.intruding_m - self.stacked_m

    @property
    def filled(self) -> float:
        """Share of the free volume that is taken."""
        free = section_m2(self.diameter_m) * max(1e-9, self.length_m - self.intruding_m)
        return (
            sum(section_m2(i.diameter_m) * i.length_m for i in self.items if not i.wrapped) / free
        )

    @property
    def unknown(self) -> tuple[str, ...]:
        """Items without a packed length: measure them before trusting the fit."""
        return tuple(item.words for item in self.items if item.length_m <= 0.0 and not item.wrapped)

    @property
    def verdict(self) -> Sentence:
        """In words: fits, does not, or not known."""
        if self.unknown:
            return "not known: no packed length of " + ", ".join(self.unknown)
        wide = [i.words for i in self.items if i.diameter_m > self.diameter_m + 1e-6]
        if wide:
            return "does not fit: wider than the bay: " + ", ".join(wide)
        if self.spare_m < 0.0:
            return said("does not fit: {over} too long", over=(round(-self.spare_m, 3), "length"))
        guessed = [i.words for i in self.items if i.guessed]
        told = f" (by weight: {', '.join(guessed)})" if guessed else ""
        return said(
            f"fits with {{spare}} to spare{literal(told)}", spare=(round(self.spare_m, 3), "length")
        )


def packed_bays(rocket: p.Rocket, stacks: Sequence[Stack] = ()) -> tuple[PackedBay, ...]:
    """All bays with something in them, front to back.

    Parameters
        rocket : Rocket - as flown by the plan. [-]
        stacks : sequence of Stack - the recovery bays as the ledger packs them. [m]
    Returns
        bays : tuple of PackedBay - contents in order of insertion. [m]
    Raises
        nothing
    Validity
        `holds` lists the contents front to back.
    Source
        Own.
    Example
        >>> packed_bays(p.Rocket("r", ()))
        ()
    """
    by_name = {part.name: part for part in rocket.parts}
    by_bay = {stack.bay.name: stack for stack in stacks}
    found = []
    for bay in of_kind(rocket, p.Bay):
        stack = by_bay.get(bay.name)
        names = bay.holds if stack is None else _packed(bay, stack)
        held = [by_name[name] for name in names if name in by_name]
        if not held:
            continue
        opens = _opens(rocket, bay)
        deepest_first = list(reversed(held)) if opens == "front" else held
        items = tuple(_item(n, part, bay, stack) for n, part in enumerate(deepest_first, 1))
        found.append(
            PackedBay(
                bay=bay.name,
                opens=opens,
                length_m=bay.length_m + (0.0 if stack else _beyond(rocket, bay, items)),
                intruding_m=intruding_m(rocket, bay),
                diameter_m=bay.inner_diameter_m,
                items=items,
                start_m=bay.station_m,
            )
        )
    return tuple(found)


def _packed(bay: p.Bay, stack: Stack) -> list[str]:
    """What the ledger packs in a bay, in the order of `holds`; what is not named there, last."""
    names = [piece.name for piece in stack.pieces]
    return sorted(names, key=lambda name: bay.holds.index(name) if name in bay.holds else 99)


def stacks_of(case: Case) -> tuple[Stack, ...]:
    """The recovery bays of a planned flight, packed as the ledger's rows pack them."""
    found = (stack_of(case), stack_of(case, main=True))
    return tuple(each for each in found if isinstance(each, Stack))


def not_packed(case: Case) -> tuple[str, ...]:
    """What the recovery bays of a planned flight wait for until the ledger can pack them."""
    wanted = (False, True) if case.deployment.main_canopy else (False,)
    found = (stack_of(case, main=main) for main in wanted)
    lacks = (each.words for each in found if not isinstance(each, Stack))
    return tuple(f"Not drawn as the ledger packs it: {words}." for words in dict.fromkeys(lacks))


def _opens(rocket: p.Rocket, bay: p.Bay) -> str:
    """The end of the bay nearer to where its tube comes apart."""
    tube = tube_at(rocket, bay.station_m)
    separation = rocket.separation_station_m
    if tube is not None and separation is not None:
        if abs(separation - tube.station_m) < 1e-3:
            return "front"
        if abs(separation - tube.end_m) < 1e-3:
            return "front" if _nose_ends_at(rocket, tube.station_m) else "rear"
    return "front"


def _nose_ends_at(rocket: p.Rocket, station_m: float) -> bool:
    return any(abs(nose.end_m - station_m) < 1e-3 for nose in of_kind(rocket, p.Nose))


def _item(number: int, part: Part, bay: p.Bay, stack: Stack | None) -> Item:
    wrapped = isinstance(part, p.AddedMass) and part.role == "wrap"
    piece = next((each for each in stack.pieces if each.name == part.name), None) if stack else None
    long = (0.0 if wrapped else part.along_m) if piece is None else piece.length_m
    return Item(
        number=number,
        name=part.name,
        length_m=long,
        diameter_m=part.rolled_wide_m or bay.inner_diameter_m,
        wrapped=wrapped,
        canopy=isinstance(part, p.Canopy),
        guessed=piece is not None and not piece.stated,
    )


def _beyond(rocket: p.Rocket, bay: p.Bay, items: tuple[Item, ...]) -> float:
    """Hollow of a coupler that carries the bay on, when all its contents are narrow enough."""
    widest = max(item.diameter_m for item in items)
    for coupler in of_kind(rocket, p.Coupler):
        joins = abs(coupler.station_m - bay.end_m) < 2e-3
        if joins and widest <= coupler.inner_diameter_m:
            return coupler.length_m
    return 0.0


def packing_template(bay: PackedBay) -> Template:
    """A section through the bay with its contents, numbered in order of insertion."""
    k = min(1.0, DRAWN_M / bay.length_m)
    half = k * bay.diameter_m / 2
    long = k * bay.length_m
    shapes: list[Shape] = [
        Line(((0.0, half), (long, half)), "cut"),
        Line(((0.0, -half), (long, -half)), "cut"),
    ]
    low = -half - 0.016
    shapes += [Line(((-0.014, low), (long + 0.014, low)), "mark")]
    shapes += _under(bay.verdict, (long / 2, low), long + 0.028)
    closed_x = long if bay.opens == "front" else 0.0
    shapes.append(Line(((closed_x, -half), (closed_x, half)), "cut"))
    if bay.intruding_m:
        x = k * bay.intruding_m
        ends = (0.0, x) if bay.opens == "front" else (long - x, long)
        shapes.append(rectangle(ends[0], -half * 0.94, ends[1], half * 0.94, "hidden"))
    shapes += _stack(bay, k, closed_x)
    words = "closed end" if bay.opens == "front" else "opens here"
    shapes.append(Words(words, (long + 0.010, 0.0), 0.0022, pi / 2))
    shapes.append(
        Words("opens here" if bay.opens == "front" else "closed end", (-0.006, 0.0), 0.0022, pi / 2)
    )
    order = ", ".join(f"{item.number} {item.words}" for item in bay.items)
    return Template(
        key=f"packing-{bay.bay}",
        title=f"Packing of {bay.bay}, scale 1:{1 / k:.1f}",
        shapes=tuple(shapes),
        count=1,
        material="",
        thickness_m=None,
        notes=(f"In order of insertion: {order}.", _capital(bay.verdict)),
        flat=False,
        reduced=True,
    )


def _capital(words: Sentence) -> Sentence:
    both = [f"{told(words, units).capitalize()}." for units in get_args(Units)]
    return either(*both)


def _under(words: Sentence, at: Point, wide_m: float) -> Iterator[Words]:
    """A sentence over a line, in as many lines of its own as its width asks for."""
    most = int(wide_m / (LETTER_WIDE * VERDICT_M))
    metric, imperial = (wrap(told(words, units), most) for units in get_args(Units))
    for row, lines in enumerate(zip_longest(reversed(metric), reversed(imperial), fillvalue=" ")):
        yield Words(either(*lines), (at[0], at[1] + 0.003 + 1.5 * VERDICT_M * row), VERDICT_M)


def _stack(bay: PackedBay, k: float, closed_x: float) -> list[Shape]:
    """Contents from the closed end outward."""
    sense = -1.0 if bay.opens == "front" else 1.0
    at, shapes = closed_x, list[Shape]()
    for item in bay.items:
        if item.wrapped:
            continue
        half = k * min(item.diameter_m, bay.diameter_m) / 2 * 0.96
        to = at + sense * k * item.length_m
        left, right = min(at, to), max(at, to)
        shapes.append(rectangle(left, -half, right, half, "mark"))
        middle = ((left + right) / 2, 0.0)
        full = Words(f"{item.number} {item.words}", middle, 0.0024)
        fits = room_of(full)[1][0] - room_of(full)[0][0] < right - left
        shapes.append(full if fits else replace(full, text=f"{item.number}"))
        at = to
    for item in bay.items:
        if item.wrapped:
            place = (k * bay.length_m / 2, -k * bay.diameter_m / 2 - 0.004)
            counts = ", counted as {long}" if item.length_m > 0.0 else ""
            told = f"{item.number} {literal(item.words)}: round what it protects{counts}"
            shapes.append(
                Words(said(told, long=(round(item.length_m, 3), "length")), place, 0.0022)
            )
    return shapes


def packing_set(rocket: p.Rocket, stacks: Sequence[Stack] = ()) -> Sequence[Template]:
    """Drawings of all packed bays."""
    return [packing_template(bay) for bay in packed_bays(rocket, stacks)]
