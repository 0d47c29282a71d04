"""How results are spoken: chances as flights, states, costs, how a figure is known.

Every output takes its words from here, so that terminal, page and paper say the same.
"""

import math
from collections.abc import Sequence
from typing import Final

from goodflight.studies.results import Cost, Ledger, Phase, State

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
CAUTION: Final = (
    "This is advice, not a certificate. The local code, the motor maker's sheet and the range "
    "safety officer decide."
)


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
    """Say the total: "about 12 in 100 (10–14)"; "at least" where a way to fail is not known."""
    spoken = speak(ledger.chance, ledger.low, ledger.high)
    if not ledger.unknown:
        return spoken
    if ledger.chance <= 0:
        return "not known"
    return f"at least {spoken.removeprefix('about ')}"


def open_words(ledger: Ledger) -> str:
    """Say what stands beside the total: "2 ways to fail not known, 1 rule not met"."""
    count, unmet, waiting = (len(each) for each in (ledger.unknown, ledger.unmet, ledger.open))
    said = (
        f"{count} way{'s' if count > 1 else ''} to fail not known" if count else "",
        f"{unmet} rule{'s' if unmet > 1 else ''} not met" if unmet else "",
        f"{waiting} to confirm" if waiting else "",
    )
    return ", ".join(each for each in said if each)


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


def cautions(warnings: Sequence[str]) -> tuple[str, ...]:
    """The warnings, with the standing caution after them unless they carry it already."""
    said = any("range safety officer" in warning for warning in warnings)
    return tuple(warnings) if said else (*warnings, CAUTION)


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
