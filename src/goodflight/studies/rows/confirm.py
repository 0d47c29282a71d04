"""Rows of the code that no figure shows: the builder answers, or they stay unknown.

A plan's `confirmed` list says which are met, `denied` which are not. What the code set does not
state is said so and stays unknown; the local authority and the range safety officer decide.
"""

from collections.abc import Callable

from goodflight.project.codes import CONFIRM_WORDS
from goodflight.studies.asking import asked, entry, of_site
from goodflight.studies.rows.answers import answered, no_code, to_answer
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full

# key of the rule -> (key of the row, title)
_RULES = {
    "night": ("night", "Flies at night"),
    "visibility": ("visibility", "Visibility not confirmed"),
    "airspace": ("airspace", "Airspace not cleared"),
    "notice": ("notice", "Air traffic control not notified"),
    "permission": ("permission", "Permission or waiver missing"),
    "responsible": ("responsible", "No responsible person named"),
    "fire": ("fire", "No precautions against fire"),
}


def _answered(view: View, key: str) -> Evaluation | None:
    code = view.case.rules.code
    clause = None if code is None else (code.clauses or {}).get(key)
    rule = "the rule" if clause is None else f"{clause.text} ({clause.cited})"
    return answered(view, key, rule)


def _open(view: View, key: str) -> Missing:
    code = view.case.rules.code
    if code is None:
        return no_code(view.case)
    clause = (code.clauses or {}).get(key)
    if clause is None:
        how = f"not stated in the code set '{code.key}'; ask the range safety officer"
    else:
        how = f"to confirm: {clause.text} ({clause.cited})"
    asks = [to_answer(view, key, f"rule on {CONFIRM_WORDS[key]}", how)]
    if key == "airport" and code.airport_m is not None:
        away = "pad to the nearest airport's boundary"
        asks.append(of_site(view.case, "airport", f"or {away}", "from a map", 10.0))
    return asked(f"{how}; enter yes or no", *asks)


def _rule(key: str) -> Callable[[View], Evaluation | Missing]:
    def evaluate(view: View) -> Evaluation | Missing:
        return _answered(view, key) or _open(view, key)

    return evaluate


def _airport(view: View) -> Evaluation | Missing:
    """The distance when it is entered and the code states one; else the builder's answer."""
    code, distance = view.case.rules.code, view.case.field_says.airport
    answered = _answered(view, "airport")
    if answered is not None:
        return answered
    if code is None or code.airport_m is None or distance is None:
        return _open(view, "airport")
    needed = code.airport_m.value
    close = 1.0 if distance.value < needed else 0.0
    words = (
        f"{distance.value / 1000:.1f} km to the airport, the code asks for {needed / 1000:.2f} km",
    )
    return Evaluation(full(view, close), full(view, 0.5), warnings=words if close else ())


def _membership(view: View) -> Evaluation | Missing:
    """Launch day against the last day of the membership, where that is given."""
    until, launch = view.case.plan_says.member_until, view.case.workshop.launch_day
    if not until:
        return not_here(view, "no last day of a membership is given")
    if not launch:
        how = "the day it is to fly, as 2026-10-10"
        return asked("say the launch day", entry("build.toml:launch_day", "launch day", how))
    late = launch > until  # ISO dates
    words = (f"the membership ends {until}, launch day is {launch}: renew it before",)
    return Evaluation(
        full(view, 1.0 if late else 0.0), full(view, 0.5), warnings=words if late else ()
    )


ROWS = (
    LimitState(
        "airport",
        "Too close to an airport",
        phase="code",
        unit="count",
        more_is_worse=True,
        evaluate=_airport,
        formula=(
            "rules not met: distance of the pad from the nearest airport's boundary less than "
            "the code's, or as the builder answers in the plan; against none"
        ),
        sources=("code", "builder"),
        kind="statement",
    ),
    LimitState(
        "membership",
        "Membership ends before launch day",
        phase="code",
        unit="count",
        more_is_worse=True,
        evaluate=_membership,
        formula="launch days after the last day of the membership, against none",
        sources=("builder",),
        kind="statement",
    ),
    *(
        LimitState(
            row,
            title,
            phase="code",
            unit="count",
            more_is_worse=True,
            evaluate=_rule(key),
            formula="rules of the code not met, as the builder answers in the plan, against none",
            sources=("code", "builder"),
            kind="statement",
        )
        for key, (row, title) in _RULES.items()
    ),
)
