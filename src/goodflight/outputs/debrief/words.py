"""The sentences of a debrief."""

from typing import Final

from goodflight.outputs.figures import FAR_UNIT
from goodflight.quantity import Refused, brief, show, show_spread
from goodflight.studies.debriefing.book import BookLine, Kept
from goodflight.studies.debriefing.fit import Fitted, Place
from goodflight.studies.debriefing.follow import CurveFit
from goodflight.studies.debriefing.loads import Again, Load
from goodflight.studies.debriefing.logged import NOTED, LogShown
from goodflight.studies.debriefing.order import Order, Step
from goodflight.studies.questions.debrief import DebriefStudy
from goodflight.studies.results import FlightReport

PREDICTED: Final = {  # what is noted -> figure of the middle flight
    "burnout_s": "burnout_s", "apogee_s": "apogee_s", "charge_s": "ejection_s",
    "landing_s": "landing_s", "apogee_standard_m": "apogee_m",
}  # fmt: skip
ONLY_LOOKING: Final = (
    "Loads are those of flights that agree with what was seen. They say where to look first; only "
    "looking says whether a part is sound"
)
ORDER_OF: Final = (
    "Motion of two bodies and a canopy on flights that agree with what was seen; times are the "
    "middle, and what 9 in 10 of them lie between."
)
LOG_SAYS: Final = {
    "agrees": "the log agrees",
    "does not agree": "the log does not agree",
    "cannot tell": "the log cannot tell",
}
RARE: Final = 0.005  # share of flights below which it is not named
WIDER = 1.2  # from there told
FEW = 10  # attempts; below, a share of them says hardly anything: our guess
EMPTY = (
    "No flight yet. After the flight write flights/NAME/notes.toml (date, plan, apogee, [seen] "
    "times, damage), give what was seen (--peak, --seen apogee=9.6s), or a log (--log FILE)."
)
WRONG_COLUMN = 'one is wrong? say what it is: --column "3=pressure Pa"'


def predicted_words(
    report: FlightReport | None, kept: Kept | None, units: str = "metric"
) -> dict[str, str]:
    """What is predicted of each thing to be noted, as a hint in its box: the kept prediction's
    middle, else the middle flight of the plan."""
    figures: dict[str, float | None] = {}
    if report is not None:
        figures = {name: report.figures.get(figure) for name, figure in PREDICTED.items()}
    if kept is not None:
        figures |= {name: band[len(band) // 2] for name, band in kept.bands.items()}
    return {
        noted: f"{show(round(value, 1), dimension, units)} predicted"
        for noted, (name, dimension) in NOTED.items()
        if (value := figures.get(name)) is not None and value > 0.0
    }


def refused_words(error: Refused) -> str:
    """Why a file is no log of a flight, for a reader who can correct its columns in place."""
    return f"{error.found}; expected: {error.expected}"


def count_words(study: DebriefStudy) -> str:
    """How many attempts passed, with the small number said."""
    if not study.attempts:
        return "No certification attempt is noted as passed or failed."
    words = f"{study.passed} of {study.attempts} attempts passed"
    if study.attempts < FEW:
        return f"{words}: too few to say how often this rocket passes."
    return f"{words}."


def fitted_words(each: Fitted, units: str = "metric") -> str:
    """One quantity before and after the flight."""
    before, after = (
        show_spread(one.value, one.error, each.dimension, units)
        for one in (each.before, each.after)
    )
    moved = abs(each.after.value - each.before.value)
    if not each.narrowed and moved < each.before.error:
        return f"{each.words}: {before}; this flight says nothing new"
    return f"{each.words}: {before} before, {after} with the flight"


def place_words(each: Place, units: str = "metric") -> str:
    """Where one thing seen fell."""
    kind = each.dimension
    seen = show_spread(each.seen.value, each.seen.error, kind, units)
    predicted = show_spread(each.predicted.value, each.predicted.error, kind, units)
    share = round(100.0 * each.below)
    told = "under 1" if share < 1 else "over 99" if share > 99 else str(share)
    words = (
        f"{each.words}: {seen}; predicted {predicted}: {told} in 100 predicted flights are lower"
    )
    return f"{words}; contradicts all else" if each.odd else words


def line_words(each: BookLine, units: str = "metric") -> str:
    """One flight of the log book."""
    peak = "peak in its log" if each.has_log else "peak not noted"
    if each.apogee_m is not None:
        peak = show(each.apogee_m, "length", units)
    peak += " by its log" if each.logged else ""
    delay = "" if each.delay_out_s is None else f", {brief(each.delay_out_s, 'time')} out"
    flown = f"{each.motor or 'motor not noted'}{delay}"
    return f"{each.date or 'no date'}  {each.name}: {flown}, {peak}, {each.result}"


def damage_words(each: BookLine) -> tuple[str, ...]:
    """What was found wrong; that nothing was looked for is said."""
    if each.damage:
        return tuple(f"{d.title}: {d.what or 'no words'} ({d.row})" for d in each.damage)
    return ("nothing found wrong",) if each.looked_over else ("not looked over",)


def known_words(study: DebriefStudy) -> str:
    """Whether the rocket's figures hold what this flight and others said."""
    others = [each for each in study.carried if each != study.flight]
    told = f"known before from flights: {', '.join(others)}" if others else "no flight before it"
    if study.flight in study.carried:
        return f"{told}; this flight is carried over to the rocket"
    return f"{told}; the figures before are without this flight"


def carried_words(study: DebriefStudy, units: str = "metric") -> str:
    """What is carried over, that it is inferred, and how it is taken back."""
    told = "; ".join(
        f"{each.words} {show_spread(each.before.value, each.before.error, each.dimension, units)} "
        f"before, {show_spread(each.after.value, each.after.error, each.dimension, units)} with it"
        for each in study.of_rocket
        if each.alone is not None
    )
    return (
        f"Inferred from flight {study.flight} and carried over to the rocket: {told}. Next delay "
        "and next motor with the rocket as it is known now: `goodflight delay DIR`, `goodflight "
        "motors DIR`. To take it back: `goodflight versions DIR weighings.toml`, then `goodflight "
        "restore`."
    )


def log_words(log: LogShown, units: str = "metric") -> tuple[str, ...]:
    """What a log shows: events and figures, then what is not flight."""
    said = [
        f"{each.words}: " + show_spread(each.shown.value, each.shown.error, each.dimension, units)
        for each in log.events
    ]
    if log.highest_mps2 is not None:
        most = show(log.highest_mps2, "acceleration", units)
        said.append(f"hardest push in the thrust: {most}, read along the rocket")
    said += [
        f"not flight: from {each.from_s:.1f} s to {each.to_s:.1f} s the pressure in the bay looks "
        f"like a fall by {show(each.by_m, 'length', units)}"
        for each in log.false_drops
    ]
    return tuple(said)


def read_words(log: LogShown) -> str:
    """How much a log holds, and from which columns height, push and time come."""
    kinds = {
        "time": "times",
        "pressure": "pressures of a barometer",
        "height": "heights as the logger worked them out",
        "acceleration": "an accelerometer",
    }
    groups: dict[str, list[str]] = {}
    for each in log.columns:
        if each.used:
            named = f"{each.number} {each.name}".rstrip()
            groups.setdefault(f"{kinds[each.kind]} in {each.unit}", []).append(named)
    from_columns = "; ".join(
        f"{what} from column{'s' if len(names) > 1 else ''} {', '.join(names)}"
        for what, names in groups.items()
    )
    rate = brief(1.0 / log.every_s, "ratio")
    return f"{log.readings} readings over {log.lasts_s:.0f} s, {rate} a second; {from_columns}"


def _metres(value_m: float, units: str) -> str:
    """A height, never in small units."""
    return show(value_m, "length", units, digits=2, unit=FAR_UNIT[units])


def curve_words(curve: CurveFit, units: str = "metric") -> str:
    """How the whole height curve was fitted, and what was set aside."""
    said = (
        f"Fitted to {len(curve.times_s)} heights of the log from lift-off to the ground, its "
        f"burnout and charge; {_metres(curve.rms_m, units)} (root mean square) is left: "
        "gusts, air over the barometer's vents, its scale"
    )
    if curve.wider > WIDER:
        said += f"; they scatter {curve.wider:.1f} times as much as their errors, which are widened"
    if curve.aside:
        when = ", ".join(f"{each:.1f} s" for each in curve.aside)
        said += f"; set aside, as they contradict all others: the heights at {when}"
    return f"{said}."


def load_words(each: Load, units: str = "metric") -> str:
    """What one part met against what it stands, and what to look at."""
    met, stands = (show(value, each.dimension, units) for value in (each.demand, each.capacity))
    beyond = round(100.0 * each.beyond)
    past = f", missed in {beyond} of 100 flights like this one" if beyond else ""
    limit = "at least" if each.least else "limit"
    noted = " (damage noted)" if each.damaged else ""
    return f"{each.title}{noted}: {met}, {limit} {stands}{past}. Look at {each.look}"


def order_words(found: Order, units: str = "metric") -> tuple[str, ...]:
    """What came when after the charge, who passed whom, whether the log agrees."""
    if found.missing:
        return (f"not known: {found.missing}",)
    said = [_step_words(each) for each in found.steps]
    passed = round(100.0 * found.passed)
    ahead = "the booster stays behind the packed canopy in all of these flights"
    said.append(
        ahead if not passed else f"the booster passes the canopy in {passed} of 100 of them"
    )
    jerks = ", ".join(
        f"{show(each.size_mps2, 'acceleration', units)} at {each.after_s:.2f} s"
        for each in found.jerks
    )
    said += [f"jerks in the log after the charge: {jerks}"] if jerks else []
    return (*said, f"{LOG_SAYS[found.agrees]}: {found.because}", *found.confounded)


def _step_words(each: Step) -> str:
    if each.after_s is None:
        return f"{each.words}: in none of these flights"
    low, middle, high = each.after_s
    never = f"; never in {round(100.0 * each.never)} of 100" if each.never >= RARE else ""
    return f"{each.words}: {middle:.2f} s after the charge ({low:.2f} to {high:.2f}){never}"


def again_words(found: Again, seen_mps2: float | None, units: str = "metric") -> tuple[str, ...]:
    """What was far below its limit, what has no figure, and the hardest push beside the log's."""
    rest = [each.title[:1].lower() + each.title[1:] for each in found.loads if not each.first]
    said = [f"Below half of the limit, looked at as always: {', '.join(rest)}"] if rest else []
    if found.unknown:
        names = ", ".join(each[:1].lower() + each[1:] for each in found.unknown)
        said.append(f"No figure, so look: {names}")
    push = f"Hardest push as fitted: {show(found.push_mps2, 'acceleration', units)}"
    if seen_mps2 is not None:
        push += f"; the log read {show(seen_mps2, 'acceleration', units)}"
    return (*said, push, ONLY_LOOKING)


def column_words(log: LogShown) -> tuple[str, ...]:
    """What the columns were taken for, those of one sensor together, and what was done besides."""
    groups: dict[tuple[str, str, str], list[str]] = {}
    for each in log.columns:
        if each.used:
            name = f"{each.number} {each.name}".rstrip()
            groups.setdefault((each.kind, each.unit, each.because), []).append(name)
    said = [
        f"column{'s' if len(names) > 1 else ''} {', '.join(names)}: {kind}, {unit}; from {because}"
        for (kind, unit, because), names in groups.items()
    ]
    rest = sum(not each.used for each in log.columns)
    said += [f"{rest} other columns are not used; --json lists them"] if rest else []
    said += [WRONG_COLUMN, *log.said]
    return tuple(said)
