"""Order of assembly from access: found, explained, and hand-made orders checked.

A step reaches places through ways in (doors); gluing something closes doors for good. A step can
be done while, for each place it reaches, at least one way in is still open, and after the steps
it builds on. The order is found from the end: the last step must be one that works with
everything else already done. Taking a step away from the end only opens doors, so a choice made
there never spoils another: an order is found whenever there is one.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Final

from goodflight.quantity.said import Words
from goodflight.studies.bench.gluing import Glued
from goodflight.studies.bench.span import Span
from goodflight.studies.refusal import StudyRefused


@dataclass(frozen=True)
class Reach:
    """A place a step works at, and the ways in; any one that is open will do."""

    place: str
    doors: tuple[str, ...]


HANDLING: Final = "handling"
CURED: Final = "cured"
NEEDS: Final = {"dust": "dust", "epoxy": "fumes", "paint": "outdoors"}  # caution -> kind of place


@dataclass(frozen=True)
class Step:
    """One step of the build.

    takes_s : hands-on time at the bench [s], takes_sigma_s : one standard deviation of it [s],
    takes_known : "guess", or as the builder's `takes` in build.toml says ("measured" ...),
    takes_because : what it stands on.
    glued : glue or paint it leaves to set, with its sheet and its times at its place; None = none.
    waits_for : HANDLING or CURED, what the glue of every step in `after` must have reached first; a
    sheet without a handling time is waited for until it is cured.
    places_s : from mixing the glue until the last piece sits, 0 = one piece. [s]
    parts : parts of the rocket that it works on; makes : parts that exist once it is done.
    warning : what is wrong with it, in a sentence; empty = nothing.
    """

    key: str
    title: str
    reaches: tuple[Reach, ...] = ()
    closes: tuple[str, ...] = ()  # doors
    after: tuple[str, ...] = ()  # keys of steps it builds on
    rank: float = 50.0  # where it is customary; decides only between free choices
    tools: tuple[str, ...] = ()
    check: Words = ""
    how: Words = ""
    cautions: tuple[str, ...] = ()
    takes_s: float = 0.0
    takes_sigma_s: float = 0.0
    takes_known: str = "guess"
    takes_because: str = ""
    glued: Glued | None = None
    waits_for: str = HANDLING
    places_s: float = 0.0
    parts: tuple[str, ...] = ()
    makes: tuple[str, ...] = ()
    warning: Words = ""

    @property
    def waits_for_cure(self) -> bool:
        """Whether what it builds on must be cured, not only strong enough to be handled."""
        return self.waits_for == CURED

    @property
    def place_needs(self) -> tuple[str, ...]:
        """What the place must stand: "dust", "fumes" (fresh air), "outdoors" (paint, solvents)."""
        return tuple(NEEDS[key] for key in self.cautions if key in NEEDS)


@dataclass(frozen=True)
class Placed:
    """A step at its place in the order, and why it stands there."""

    number: int
    step: Step
    reasons: tuple[str, ...]
    shut_off: tuple[str, ...]  # places that cannot be reached any more after it

    @property
    def no_return(self) -> bool:
        """Whether this step shuts something off for good."""
        return bool(self.shut_off)


@dataclass(frozen=True)
class Order:
    """A whole order of assembly."""

    rocket: Annotated[str, "name of the rocket"]
    steps: tuple[Placed, ...]
    invented: Annotated[bool, "true when the project says that its figures are invented"] = False
    done: Mapping[str, "Done"] = field(default_factory=dict)
    own: tuple["Done", ...] = ()  # steps of the builder's own, by their names
    doubts: Annotated[tuple[str, ...], "where what is ticked cannot be so, in sentences"] = ()
    span: Annotated[Span, "of all steps"] = field(default_factory=Span)
    span_left: Annotated[Span, "of the steps that are not ticked"] = field(default_factory=Span)


@dataclass(frozen=True)
class Done:
    """A step that was ticked."""

    key: str
    done: bool
    mass: str = ""
    photo: str = ""
    note: str = ""


@dataclass(frozen=True)
class Refusal:
    """Why an order cannot be built: the step at fault and the reason."""

    key: str
    number: int  # its place in the order given, from 1; 0 = not in it
    reason: str
    locked_out: str = ""  # key of the later step that could not be done


class NoOrderError(StudyRefused):
    """No order can work; `stuck` holds, for each step that remains, why it cannot be last."""

    def __init__(self, stuck: Mapping[str, str]) -> None:
        self.stuck = dict(stuck)
        lines = "; ".join(f"{key}: {why}" for key, why in self.stuck.items())
        super().__init__(
            f"these steps lock one another out, whatever the order: {lines}. Give one of them "
            "another way in (a hatch, a longer reach, screws instead of glue)."
        )


def reachable(reach: Reach, closed: frozenset[str] | set[str]) -> bool:
    """Whether a way to a place is still open."""
    return any(door not in closed for door in reach.doors)


def _why_not_last(step: Step, others: Sequence[Step]) -> str | None:
    """Why a step cannot come after all of `others`; None when it can."""
    for other in others:
        if step.key in other.after:
            return f"{other.title!r} builds on it"
    closed = {door for other in others for door in other.closes}
    for reach in step.reaches:
        if not reachable(reach, closed):
            by = [o.title for o in others if set(o.closes) & set(reach.doors)]
            return f"{reach.place} is closed by {' and '.join(map(repr, sorted(by)))}"
    return None


def find_order(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Find an order in which every step can still be done; the same steps give the same order.

    Parameters
        steps : sequence of Step - with unique keys. [-]
    Returns
        order : tuple of Step - first to last. [-]
    Raises
        NoOrderError - there is none; says for each remaining step why it cannot be last
        ValueError - a key stands twice, or a step builds on one that is not there
    Validity
        Doors only close; nothing is taken apart again.
    Source
        Backward choice is exact because taking steps away never closes a door; derived.
    Example
        >>> inside = Step("nut", "nut", (Reach("inside", ("rear",)),))
        >>> [s.key for s in find_order([Step("ring", "ring", closes=("rear",)), inside])]
        ['nut', 'ring']
    """
    _check_keys(steps)
    left = sorted(steps, key=lambda step: (step.rank, step.key))
    backwards: list[Step] = []
    while left:
        for step in reversed(left):
            others = [other for other in left if other is not step]
            if _why_not_last(step, others) is None:
                backwards.append(step)
                left = others
                break
        else:
            raise NoOrderError(
                {s.title: _why_not_last(s, [o for o in left if o is not s]) or "" for s in left}
            )
    return tuple(reversed(backwards))


def _check_keys(steps: Sequence[Step]) -> None:
    keys = [step.key for step in steps]
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise ValueError(
            f"these steps are listed twice: {', '.join(twice)}; give each its own key."
        )
    for step in steps:
        missing = [key for key in step.after if key not in keys]
        if missing:
            raise ValueError(
                f"step {step.key!r} builds on {', '.join(missing)}, which is not among the steps."
            )


def check_order(steps: Sequence[Step], keys: Sequence[str]) -> tuple[Refusal, ...]:
    """Check an order made by hand; empty when it can be built.

    The step that closes the last way in is named, not the one that later finds itself shut out.

    Parameters
        steps : sequence of Step - all that must be done. [-]
        keys : sequence of str - the order, by key. [-]
    Returns
        refusals : tuple of Refusal - in the order given. [-]
    Raises
        nothing
    Validity
        As find_order.
    Source
        Own.
    Example
        >>> inside = Step("nut", "nut", (Reach("inside", ("rear",)),))
        >>> check_order([Step("ring", "ring", closes=("rear",)), inside], ["ring", "nut"])[0].key
        'ring'
    """
    by_key = {step.key: step for step in steps}
    found = [
        Refusal(key, 0, "there is no such step; steps are " + ", ".join(sorted(by_key)))
        for key in keys
        if key not in by_key
    ]
    found += [
        Refusal(key, 0, f"{by_key[key].title!r} is missing from this order")
        for key in by_key
        if key not in keys
    ]
    known = [key for key in keys if key in by_key]
    closed: set[str] = set()
    done: set[str] = set()
    for number, key in enumerate(keys, 1):
        if key not in by_key:
            continue
        step = by_key[key]
        if key in done:
            found.append(Refusal(key, number, f"{step.title!r} is listed twice"))
            continue
        for need in step.after:
            if need not in done and need in known:
                reason = f"{step.title!r} {needs_words(step, by_key[need])}, which comes later"
                found.append(Refusal(key, number, reason, key))
        later = [by_key[k] for k in dict.fromkeys(known) if k not in done and k != key]
        now = closed | set(step.closes)
        for other in later:
            for reach in other.reaches:
                if reachable(reach, closed) and not reachable(reach, now):
                    doors = sorted(set(reach.doors) & set(step.closes))
                    reason = (
                        f"{step.title!r} closes {' and '.join(doors)}, the last way to "
                        f"{reach.place}; {other.title!r} still has to get there"
                    )
                    found.append(Refusal(key, number, reason, other.key))
        closed = now
        done.add(key)
    return tuple(found)


def needs_words(step: Step, need: Step) -> str:
    """How a step depends on another: by a part that one makes, or by building on it."""
    there = [part for part in step.parts if part in need.makes]
    if there:
        return f"works on {' and '.join(there)}, made in {need.title!r}"
    return f"builds on {need.title!r}"


def explained(order: Sequence[Step]) -> tuple[Placed, ...]:
    """The order with reasons and points of no return."""
    places = {reach.place: reach for step in order for reach in step.reaches}
    titles = {step.key: step.title for step in order}
    by_key = {step.key: step for step in order}
    closed: set[str] = set()
    found = []
    for i, step in enumerate(order):
        reasons = [f"after {titles[key]!r}" for key in _nearest(step, by_key)]
        if len(reasons) > 4:
            reasons = [f"after all {len(reasons)} steps that it builds on"]
        reasons += _before(step, order[i + 1 :], closed)
        now = closed | set(step.closes)
        shut = tuple(
            place
            for place, reach in sorted(places.items())
            if reachable(reach, closed) and not reachable(reach, now)
        )
        found.append(Placed(i + 1, step, tuple(reasons), shut))
        closed = now
    return tuple(found)


def _nearest(step: Step, by_key: Mapping[str, Step]) -> list[str]:
    """What a step builds on, less what another of these builds on."""

    def behind(keys: Sequence[str]) -> set[str]:
        return {x for key in keys for x in {*by_key[key].after, *behind(by_key[key].after)}}

    further = behind(step.after)
    return [key for key in step.after if key not in further]


def _before(step: Step, later: Sequence[Step], closed: set[str]) -> list[str]:
    """Which later step would lock this one out."""
    reasons = []
    for reach in step.reaches:
        shut = set(closed)
        for other in later:
            shut |= set(other.closes)
            if not reachable(reach, shut):
                reasons.append(
                    f"before {other.title!r}, which closes the last way to {reach.place}"
                )
                break
    return reasons
