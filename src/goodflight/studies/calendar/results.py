"""What the calendar answers."""

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True)
class CalendarStep:
    """One step at its day."""

    key: Annotated[str, "key of the step"]
    title: Annotated[str, "the step"]
    day: Annotated[str, "the day, year-month-day"]
    begins: Annotated[str, "when the sitting begins, by the clock"]
    ends: Annotated[str, "when it ends"]
    person: Annotated[str, "who does it"]
    minutes: Annotated[float, "time at the bench [min]"]
    place: Annotated[str, "where it is done and left to cure"]
    place_k: Annotated[float | None, "temperature there at that hour [K]"]
    glue: Annotated[str, "what cures, empty = nothing"]
    touch: Annotated[str, "day from whose morning what builds on it may be done"]
    cured: Annotated[str, "day on whose morning it has cured in full, or is done"]
    slack_days: Annotated[
        int,
        "days it may come later, all else in the same order, and launch day holds (the ready day "
        "where no launch day is entered or no plan makes it)",
    ]
    critical: Annotated[bool, "whether the finish hangs on it"]
    no_return: Annotated[bool, "whether it shuts something off for good"]
    spare_days: Annotated[
        int | None, "days between all it waits for and it, at a point of no return"
    ]
    late: Annotated[bool, "whether this evening gets longer than it should"]
    working_min: Annotated[float | None, "working time of the glue at that temperature [min]"]


@dataclass(frozen=True)
class Link:
    """One link of the chain that sets the finish."""

    key: Annotated[str, "key of the step"]
    words: Annotated[str, "the step and what it waited for"]


@dataclass(frozen=True)
class LeverEffect:
    """One change, on the same builds."""

    name: Annotated[str, "the change"]
    cost: Annotated[str, "what it takes"]
    chance: Annotated[float, "chance of making launch day with it, 0 to 1"]
    low: Annotated[float, "its interval, 95 %"]
    high: Annotated[float, "its interval, 95 %"]
    gain: Annotated[float, "chance with it less chance without it"]
    finish: Annotated[str, "day ready to fly with it, under the plan's own figures"]


@dataclass(frozen=True)
class CutRow:
    """One row of the ledger with a step and without it."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    before: Annotated[float | None, "its chance with the step; null = not known or not there"]
    after: Annotated[float | None, "its chance without it; null = not known or not there"]


@dataclass(frozen=True)
class Cut:
    """A step that may be left out."""

    key: Annotated[str, "key of the step"]
    title: Annotated[str, "the step"]
    minutes: Annotated[float, "time at the bench that it saves [min]"]
    chance: Annotated[
        float | None, "chance of making launch day without it; null = no launch day is entered"
    ]
    finish: Annotated[str, "day ready to fly without it, under the plan's own figures"]
    fails_before: Annotated[float | None, "chance that anything fails, with it; null = not known"]
    fails_after: Annotated[float | None, "chance that anything fails, without it"]
    rows: Annotated[tuple[CutRow, ...], "rows of the ledger that change most"]
    why: Annotated[str, "why the cost is not known; empty = it is"]


@dataclass(frozen=True)
class LaunchChance:
    """Chance of being ready on a range day, from one set of simulated builds."""

    day: Annotated[str, "the day"]
    chance: Annotated[float, "chance of being ready by its morning, 0 to 1"]
    low: Annotated[float, "its interval, 95 %, from counting the simulated builds alone"]
    high: Annotated[float, "its interval, 95 %"]
    why: Annotated[str, "what holds it at the figure of the day before it; empty = it differs"] = ""


@dataclass(frozen=True)
class Wanted:
    """A figure that is not known."""

    key: Annotated[str, "where it is written in build.toml"]
    label: Annotated[str, "what it is"]
    example: Annotated[str, "what an entry looks like"]


@dataclass(frozen=True)
class CalendarStudy:
    """The plan of work to launch day."""

    rocket: Annotated[str, "name of the rocket"]
    invented: Annotated[bool, "whether the project is made up"]
    state: Annotated[str, "built, planned, impossible, not known"]
    first: Annotated[str, "first day of the plan"]
    launch: Annotated[str, "launch day, empty = not entered"]
    ready: Annotated[str, "day on whose morning all is done and cured; empty = none"]
    slack_days: Annotated[int | None, "days between ready and launch day"]
    done: Annotated[int, "steps ticked"]
    proven: Annotated[bool, "whether the solver proved that no plan is better"]
    earliest: Annotated[str, "day before whose morning no plan is ready, proven; empty = no plan"]
    spare_days: Annotated[int, "days before points of no return, summed"]
    late_evenings: Annotated[int, "evenings that get longer than they should"]
    steps: Annotated[tuple[CalendarStep, ...], "steps left, in the order of time"]
    chain: Annotated[tuple[Link, ...], "the chain that sets the finish, first to last"]
    clash: Annotated[tuple[str, ...], "constraints that cannot hold together; none may be left out"]
    at_most: Annotated[
        tuple[str, ...], "what is not known and may make the chances lower; empty = none of it"
    ]
    chances: Annotated[tuple[LaunchChance, ...], "launch day and the range days after it"]
    levers: Annotated[tuple[LeverEffect, ...], "what helps, the most first, on the same builds"]
    cuts: Annotated[tuple[Cut, ...], "steps that may be left out, and what that costs"]
    builds: Annotated[int, "simulated builds behind the chances"]
    stands_on: Annotated[tuple[str, ...], "what the plan and its chance stand on"]
    warnings: Annotated[tuple[str, ...], "what to look at"]
    wanted: Annotated[tuple[Wanted, ...], "figures that are not known"]
