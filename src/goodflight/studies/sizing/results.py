"""What a search for a design answers with."""

from dataclasses import dataclass
from typing import Annotated, Literal

from goodflight.project.idea_design import Design

Verdict = Literal["ok", "marginal", "fails", "nothing fits"]


@dataclass(frozen=True)
class WindChance:
    """A design in one wind of the season."""

    plan: Annotated[str, "name of the plan in the project it opens as"]
    mean_m_s: Annotated[float, "mean wind [m/s]"]
    share: Annotated[float, "share of the season's days"]
    flights: Annotated[int, "flights simulated"]
    chance: Annotated[float, "chance that a flight fails, as the ledger of that plan has it"]


@dataclass(frozen=True)
class InTheWay:
    """A row that fails in a design, over the season."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    kind: Annotated[str, "failure or rule"]
    chance: Annotated[float, "share of flights that fail in it"]
    unit: Annotated[str, "what demand and limit are measured in"]
    demand: Annotated[float | None, "of the middle flight in the worst wind [SI]"]
    limit: Annotated[float | None, "what it may be there [SI]"]


@dataclass(frozen=True)
class SizedDesign:
    """One whole design and how it does."""

    number: Annotated[int, "place in the list, from 1"]
    choice: Annotated[Design, "what is chosen"]
    delay_s: Annotated[float | None, "delay that is left; null = plugged [s]"]
    tube: Annotated[str, "body tube"]
    mount: Annotated[str, "motor tube"]
    sheet: Annotated[str, "sheet for the fins"]
    canopy: Annotated[str, "parachute"]
    cord: Annotated[str, "cord"]
    length_m: Annotated[float, "overall length [m]"]
    body_m: Annotated[float, "body tube to cut [m]"]
    separates_m: Annotated[float, "where it separates, from the nose tip [m]"]
    mount_m: Annotated[float, "where the motor tube begins, from the nose tip [m]"]
    tip_m: Annotated[float, "length of a fin at its outer edge [m]"]
    sweep_m: Annotated[float, "how far its front slants back [m]"]
    painted: Annotated[bool, "whether the evenings leave time for paint"]
    evenings: Annotated[int, "evenings of work, about"]
    liftoff_kg: Annotated[float, "mass ready to fly [kg]"]
    margin_cal: Annotated[float, "lesser of the margins ready to fly and at burnout [calibres]"]
    exit_m_s: Annotated[float | None, "speed off the rail, middle flight of the season [m/s]"]
    apogee_m: Annotated[float | None, "apogee, middle flight of the season [m]"]
    landing_m_s: Annotated[float | None, "speed at landing, middle flight of the season [m/s]"]
    chance: Annotated[float, "chance that a flight of the season fails, of what is known"]
    low: Annotated[float, "lower end of its interval by counting"]
    high: Annotated[float, "upper end"]
    costs: Annotated[float, "how much more than the first fails, on the same flights"]
    costs_error: Annotated[float, "one standard error of that"]
    winds: Annotated[tuple[WindChance, ...], "the same for each wind"]
    rows: Annotated[tuple[InTheWay, ...], "rows that fail most, worst first"]
    rules: Annotated[tuple[InTheWay, ...], "rules that it does not keep"]
    unlike: Annotated[tuple[str, ...], "what differs from the first"]


@dataclass(frozen=True)
class ToFindOut:
    """A row that no idea can have figures for."""

    key: Annotated[str, "name of the row"]
    title: Annotated[str, "the same in words"]
    kind: Annotated[str, "failure, rule or statement"]
    how: Annotated[str, "what to do for it"]


@dataclass(frozen=True)
class Assumed:
    """Something taken for granted."""

    what: Annotated[str, "in words"]
    where: Annotated[str, "key of idea.toml, or file of the project, that changes it"]


@dataclass(frozen=True)
class NoDesign:
    """A motor for which no design was found."""

    motor: Annotated[str, "its name"]
    why: Annotated[str, "what was in the way last"]


@dataclass(frozen=True)
class SizeStudy:
    """Whole designs for an idea, least chance to fail first."""

    rocket: Annotated[str, "its name"]
    level: Annotated[str, "certificate flown for"]
    verdict: Annotated[Verdict, "of the first design, of what is known"]
    designs: Annotated[tuple[SizedDesign, ...], "at most three that really differ"]
    in_the_way: Annotated[tuple[InTheWay, ...], "where the first fails too often: its rows"]
    no_design: Annotated[tuple[NoDesign, ...], "motors without a design"]
    to_find_out: Annotated[tuple[ToFindOut, ...], "not known of an idea; none of it counts as ok"]
    assumed: Annotated[tuple[Assumed, ...], "what was taken for granted"]
    tried: Annotated[int, "designs flown in the search"]
    flights: Annotated[int, "flights of each design shown, over all winds"]
    seed: Annotated[int, "of the flights and of the search"]
    warnings: Annotated[tuple[str, ...], "what to mind"]
