"""What is said of designs for an idea: the same words in the terminal and on the page."""

from collections.abc import Iterable
from itertools import groupby
from typing import Final

from goodflight.outputs.figures import figure
from goodflight.outputs.words import speak
from goodflight.quantity import brief, show
from goodflight.studies.sizing.results import InTheWay, SizedDesign, SizeStudy, ToFindOut

MOST_TOLD: Final = 3
_KINDS: Final = {"failure": "ways to fail", "rule": "rules", "statement": "statements to confirm"}


def verdict(study: SizeStudy) -> str:
    """The answer in a sentence or two."""
    if study.verdict == "nothing fits":
        return "No design can be built and flown from what is at hand."
    best = study.designs[0]
    chance = speak(best.chance, best.low, best.high)
    if study.verdict == "fails":
        broken = f", and it breaks {len(best.rules)} of the rules" if best.rules else ""
        return (
            f"No design passes: even the best of {study.tried} tried fails {chance} of the "
            f"season's flights{broken}."
        )
    return (
        f"The best of {study.tried} designs tried fails {chance} of the season's flights, of what "
        "an idea can know."
    )


def build(design: SizedDesign, units: str) -> tuple[tuple[str, str], ...]:
    """What to build: name and words, in the order of the bench."""
    choice = design.choice
    size = {
        key: brief(value, "length", units)
        for key, value in (
            ("root", choice.root_m),
            ("tip", design.tip_m),
            ("span", choice.span_m),
            ("sweep", design.sweep_m),
            ("nose", choice.nose_m),
            ("all", design.length_m),
            ("tube", design.body_m),
            ("apart", design.separates_m),
            ("mount", design.mount_m),
        )
    }
    delay = "plugged" if design.delay_s is None else f"{design.delay_s:g} s of delay"
    out = f", {choice.delay_out_s:g} s taken out" if choice.delay_out_s else ""
    ballast = (
        f", {brief(choice.ballast_kg, 'mass', units)} of ballast in it" if choice.ballast_kg else ""
    )
    return (
        ("motor", f"{choice.motor}, {delay}{out}"),
        ("length", f"{size['all']}, of it {size['tube']} of body tube {design.tube}"),
        ("nose", size["nose"] + ballast),
        (
            "fins",
            f"{choice.fin_count}, root {size['root']}, tip {size['tip']}, out {size['span']}, "
            f"front back {size['sweep']}, {design.sheet}",
        ),
        (
            "places",
            f"separates at {size['apart']}, motor tube {design.mount} from {size['mount']} "
            "to the tail",
        ),
        ("canopy", design.canopy),
        ("cord", design.cord),
        (
            "rail",
            f"leans {brief(choice.tilt_rad, 'angle', units)} into the wind"
            if choice.tilt_rad
            else "upright",
        ),
        ("work", f"about {design.evenings} evenings" + ("" if design.painted else ", no paint")),
    )


def flies(design: SizedDesign, units: str) -> str:
    """How it flies, in one line."""
    parts = [
        f"{show(design.liftoff_kg, 'mass', units)} ready to fly",
        f"margin {show(design.margin_cal, 'calibre')}",
    ]
    for words, value, dimension in (
        ("off the rail at", design.exit_m_s, "speed"),
        ("apogee", design.apogee_m, "length"),
        ("touches down at", design.landing_m_s, "speed"),
    ):
        if value is not None:
            parts.append(f"{words} {show(value, dimension, units)}")
    return ", ".join(parts)


def by_wind(design: SizedDesign, units: str) -> str:
    """Its chance in every wind: "2 m/s 17, 4 m/s 41, 6 m/s 76 in 100"."""
    told = [f"{brief(w.mean_m_s, 'wind', units)}: {100 * w.chance:.0f}" for w in design.winds]
    return f"{', '.join(told)} in 100"


def costs(design: SizedDesign) -> str:
    """What it costs in chance against the first; a tie where the flights cannot tell."""
    if not design.unlike and design.number == 1:
        return ""
    unlike = f"other {', '.join(design.unlike)}" if design.unlike else "other sizes"
    if abs(design.costs) <= 2.0 * design.costs_error:
        return f"{unlike}: as good as the first, as far as these flights can tell"
    more = "more" if design.costs > 0 else "fewer"
    error = max(1.0, 100 * design.costs_error)
    size = f"{100 * abs(design.costs):.0f} ± {error:.0f} in 100"
    return f"{unlike}: {size} {more} fail than of the first"


def row(each: InTheWay, units: str) -> str:
    """One row that stands in the way, with what is nearest: demand and limit."""
    share = f"{100 * each.chance:.0f} in 100" if each.chance >= 0.01 else "under 1 in 100"
    if each.demand is None or each.limit is None or each.unit in ("count", ""):
        return f"{each.title}: {share}"
    demand, limit = (figure(x, each.unit, units) for x in (each.demand, each.limit))
    return f"{each.title}: {share}; in the worst wind {demand}, limit {limit}"


def to_find_out(rows: Iterable[ToFindOut]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Titles of what is not known yet, by what must be done for it."""
    ordered = sorted(rows, key=lambda each: (list(_KINDS).index(each.kind), each.how))
    return tuple(
        (how, tuple(each.title for each in same))
        for how, same in groupby(ordered, key=lambda each: each.how)
    )


def count_unknown(study: SizeStudy) -> str:
    """How much an idea cannot know: "17 ways to fail, 6 rules, 10 statements to confirm"."""
    kinds = [each.kind for each in study.to_find_out]
    return ", ".join(f"{kinds.count(k)} {words}" for k, words in _KINDS.items() if k in kinds)
