"""How results are spoken: chances as flights, states, costs, how a figure is known.

Every output takes its words from here, so that terminal, page and paper say the same.
"""

import math
from collections.abc import Sequence
from typing import Final

from goodflight.quantity.said import Words, placed, told
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.results import Cost, Ledger, Measurement, Phase, State

PHASES: Final[dict[Phase, str]] = {
    "pad": "Pad and rail",
    "boost": "Boost",
    "coast": "Coast",
    "deployment": "Deployment",
    "descent": "Descent and landing",
    "code": "Code",
    "workmanship": "Workmanship",
}
STATES: Final[dict[State, str]] = {
    "ok": "ok",
    "marginal": "marginal",
    "fails": "fails",
    "unknown": "unknown",
}
COSTS: Final[dict[Cost, str]] = {
    "free": "free",
    "minutes": "minutes",
    "evening": "an evening",
    "purchase": "purchase",
    "another_day": "another day",
}
KNOWN: Final[dict[str, str]] = {
    "guess": "guess",
    "label": "label",
    "measured": "measured",
    "flight": "from a flight",
}
CAUTION: Final = f"This is advice, not a certificate. {WHO_DECIDES}"


def speak(chance: float | None, low: float | None = None, high: float | None = None) -> str:
    """Say a chance as flights: "about 7 in 100 (5–9)", "fewer than 1 in 500"."""
    if chance is None or not math.isfinite(chance):
        return "not known"
    if chance <= 0:
        return f"fewer than 1 in {_round_down(1 / high)}" if high else "none"
    if chance >= 1:
        return (
            f"more than {_round_down(1 / (1 - low)) - 1} in {_round_down(1 / (1 - low))}"
            if (low is not None and low < 1)
            else "every flight"
        )
    base = _base(chance)
    middle = f"about {chance * base:.0f} in {base}"
    if low is None or high is None:
        return middle
    first, last = f"{low * base:.0f}", f"{high * base:.0f}"
    return middle if first == last else f"{middle} ({first}–{last})"


def speak_total(ledger: Ledger) -> str:
    """Say the total and how far the guesses go: "17 in 100; 6 to 34 depending on the guesses".

    "At least" where a way to fail is not known. Where the guesses are not told (few flights), the
    interval of counting stands in their place.
    """
    told = ledger.knowledge
    if told is None or ledger.chance <= 0:
        spoken = speak(ledger.chance, ledger.low, ledger.high)
    else:
        spoken = f"{speak(ledger.chance)}; {_ends(told.low, told.high)}"
    return at_least(spoken, ledger.chance, len(ledger.unknown))


def at_least(spoken: str, chance: float | None, unknown: int) -> str:
    """A spoken total as a lower bound where some ways to fail are not known."""
    if not unknown or chance is None:
        return spoken
    if chance <= 0:
        return "not known"
    bound = spoken.startswith("more than") or chance >= 1
    return spoken if bound else f"at least {spoken.removeprefix('about ')}"


def not_known(ledger: Ledger) -> str:
    """Say what is not known: "retention of the motor is not known"; empty where all is."""
    waiting = [row for row in ledger.rows if row.key in ledger.unknown]
    what = [row.asks[0].label if row.asks else row.title for row in waiting]
    names = sorted(dict.fromkeys(what), key=lambda each: -what.count(each))
    if not names:
        return ""
    more = (
        f" and {len(names) - 1} more" if len(names) > 2 else "".join(f" and {n}" for n in names[1:])
    )
    if any(row.title == names[0] for row in waiting if not row.asks):  # a way to fail, no figure
        return f"not known: {names[0][0].lower()}{names[0][1:]}{more}"
    return f"{names[0]}{more} {'are' if more else 'is'} not known"


def headline(ledger: Ledger) -> str:
    """Say the answer in one sentence: "at least 12 in 100; retention is not known"."""
    spoken, unknown = speak_total(ledger), not_known(ledger)
    return f"{spoken}; {unknown}" if unknown and spoken != "not known" else unknown or spoken


def guessed_share(ledger: Ledger) -> str:
    """Say what of the total rests on guesses; empty where it is not told."""
    told = ledger.knowledge
    if told is None or ledger.chance <= 0:
        return ""
    middle = speak(told.frozen) if told.frozen > 0 else "none"
    if told.share < 0.005:
        return f"with each guess at its middle, {middle}"
    return f"{told.share * 100:.0f} % of it rests on guesses: with each at its middle, {middle}"


def counting(ledger: Ledger) -> str:
    """Say what the number of flights leaves open: "counted on 2000 flights: 16–19 in 100"."""
    spoken = speak(ledger.chance, ledger.low, ledger.high)
    return f"counted on {ledger.flights} flights: {spoken}"


def _ends(low: float, high: float) -> str:
    base = 100 if high >= 0.0095 else _base(high)
    first, last = f"{low * base:.0f}", f"{high * base:.0f}"
    if first == last == f"{base}":
        return "wherever the guesses lie"
    return f"{'under 1' if first == '0' else first} to {last} depending on the guesses"


def open_words(ledger: Ledger) -> str:
    """Say what stands beside the total: "2 ways to fail not known, 1 rule not met"."""
    count, unmet, waiting = (len(each) for each in (ledger.unknown, ledger.unmet, ledger.open))
    said = (
        f"{count} way{'s' if count > 1 else ''} to fail not known" if count else "",
        f"{unmet} rule{'s' if unmet > 1 else ''} not met" if unmet else "",
        f"{waiting} to confirm" if waiting else "",
    )
    return ", ".join(each for each in said if each)


def how_words(each: Measurement) -> str:
    """`pull it apart (luggage scale, 10 min)`."""
    if each.why_not:
        return f"cannot be measured: {each.why_not}"
    minutes = "" if each.minutes is None else f"{each.minutes:.0f} min"
    work = ", ".join(part for part in (each.instrument, minutes) if part)
    return each.how + (f" ({work})" if work else "")


def weigh_command(part: str) -> str:
    """The command that enters a part weighed alone."""
    return f'goodflight weigh DIR --what "{part}" --mass MASS'


def entered_words(each: Measurement) -> str:
    """`, enter in rocket.toml: separation.pull`: for the terminal, the page has the box."""
    if each.part:
        return f", enter by {weigh_command(each.part)}"
    where = f"{each.file}: {each.place}" if each.place else each.file
    return f", enter in {where}" if where and not each.why_not else ""


def worth_words(each: Measurement) -> str:
    """`not known: 3 ways to fail wait for it`; `measuring it could change the total by ...`."""
    if each.moves is None:
        count = len(each.rows)
        waits = f"{count} ways to fail wait" if count > 1 else "one way to fail waits"
        return f"not known, {waits} for it"
    knowing = "knowing" if each.why_not else "measuring"
    return f"{knowing} it could change the total by {moves_words(each.moves)}, either way"


def moves_words(moves: float) -> str:
    """`about 14 in 100`: how far knowing a figure could move the total."""
    return f"about {100 * moves:.0f} in 100"


def percent(chance: float | None) -> str:
    """The same chance as a percentage: `6.8 %`; empty when it is not known or was not counted."""
    if chance is None or not math.isfinite(chance) or chance <= 0:
        return ""
    return f"{chance * 100:.2g} %" if chance < 0.1 else f"{chance * 100:.0f} %"


def change(before: float, after: float) -> str:
    """Say what a change does to a chance: `12 → 4 in 100`."""
    most = max(before, after)
    base = 100 if most >= 0.0095 or most <= 0 else _base(most)
    if f"{before * base:.0f}" == f"{after * base:.0f}" and before != after and base < 1000:
        base = 1000  # a small change is said as one
    first, last = f"{before * base:.0f}", f"{after * base:.0f}"
    return f"{first} → {'under 1' if last == '0' else last} in {base}"


def knowledge(measured: int, figures: int) -> str:
    """Say how much is measured: `9 of 21 figures measured`."""
    return f"{measured} of {figures} figures measured"


def cautions(warnings: Sequence[Words]) -> tuple[Words, ...]:
    """The warnings, with the standing caution after them unless they carry it already."""
    carried = any(WHO_DECIDES in told(each) for each in warnings)
    return tuple(warnings) if carried else (*warnings, CAUTION)


def edited(warnings: Sequence[Words], units: str) -> tuple[str, ...]:
    """The same for a terminal: in the reader's units, with the entry to be edited behind each."""
    return tuple(placed(each, units) for each in cautions(warnings))


def _base(chance: float) -> int:
    """The round number of flights in which the chance is best said."""
    rare = min(chance, 1 - chance)
    if rare >= 0.0095:
        return 100
    return 1000 if rare >= 0.00095 else 10000


def _round_down(count: float) -> int:
    """One leading digit, rounded to the cautious side: 522 -> 500."""
    if count < 10:
        return max(1, math.floor(count))
    unit = int(10 ** math.floor(math.log10(count)))
    return math.floor(count / unit) * unit
