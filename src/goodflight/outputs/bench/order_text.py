"""The order of assembly for a terminal, and a hand-made order read."""

from collections.abc import Mapping, Sequence
from textwrap import wrap as folded
from typing import Final

from goodflight.quantity import show
from goodflight.quantity.said import placed as placed_in
from goodflight.quantity.said import told as told_in
from goodflight.studies.bench.gluing import Glued
from goodflight.studies.bench.order import Order, Placed, Refusal, Step
from goodflight.studies.bench.span import Span
from goodflight.studies.cautions import CAUTIONS, cautions_of

FOOT: Final = (
    "Times at the bench are guesses for a first build unless they say how they are known. Times "
    "of glue are those of its sheet, as entered, at the temperature of the place, by the law the "
    "ledger uses; else common practice. The label decides."
)

NEXT: Final = 3  # steps told after a tick


def glue_words(step: Step, units: str = "metric") -> str:
    """The glue of a step, where it is left, and its times there; empty without glue."""
    glued = step.glued
    if glued is None:
        return ""
    sheet, words = glued.sheet, []
    kelvin = sheet.reference_k if glued.temperature_k is None else glued.temperature_k
    warm = show(kelvin, "temperature", units)
    if glued.cold:
        least = show(sheet.min_k, "temperature", units)
        return f"{sheet.name}, {_place(glued, warm)}: does not cure below {least}, warm the place"
    for name, seconds in (
        ("work within", glued.working_s),
        ("handle after", glued.handling_s),
        ("cured after", glued.cure_s),
    ):
        if seconds is not None:
            words.append(f"{name} {duration(seconds)}")
    told = ", ".join(words) or "its sheet says no times"
    practice = " (common practice)" if sheet.known == "practice" else ""
    return f"{sheet.name}{practice}, {_place(glued, warm)}: {told}"


def _place(glued: Glued, warm: str) -> str:
    return f"{glued.place} at {warm}" if glued.place else f"no workplace entered, counted at {warm}"


def duration(seconds: float) -> str:
    """A time as a builder says it: minutes, hours, days."""
    if seconds < 2 * 3600:
        return f"{seconds / 60:.0f} min"
    return f"{seconds / 3600:.0f} h" if seconds < 3 * 86400 else f"{seconds / 86400:.1f} days"


def takes_words(step: Step) -> str:
    """Hands-on time with its spread and what it stands on."""
    known = "" if step.takes_known == "guess" else f", {step.takes_known}"
    return f"{duration(step.takes_s)} ± {duration(step.takes_sigma_s)} at the bench{known}"


def span_words(order: Order) -> list[str]:
    """Hands-on time and the longest chain: of the whole build, and of what is left of it."""
    titles = {placed.step.key: placed.step.title for placed in order.steps}
    rows, left = [_span(order.span, "In all", titles)], order.span_left
    if 0 < left.steps < order.span.steps:
        rows.append(_span(left, f"Left, {left.steps} steps", titles, _waits(order.span)))
    return rows


def _span(span: Span, head: str, titles: Mapping[str, str], said: str = "") -> str:
    """What takes the days is left out where it was said just before."""
    told = f"{head}: {_hours(span.hands_on_s)} ± {_hours(span.hands_on_sigma_s)} at the bench; "
    if span.least_s is None:
        steps = ", ".join(repr(titles[key]) for key in span.unknown)
        return f"{told}days not known, because the cure is not known or never ends at: {steps}."
    waits = _waits(span)
    days = f"no sooner than {span.least_s / 86400:.1f} days from first step to last cure"
    return told + days + (f" (glue and paint take {waits})." if waits not in ("", said) else ".")


def _waits(span: Span) -> str:
    """`16 h each after 'Glue the fins' and 'Glue the rear ring', 3.2 days after 'Paint'`."""
    after: dict[str, list[str]] = {}
    for link in span.chain:
        if link.waits_s > 3600.0:
            after.setdefault(duration(link.waits_s), []).append(repr(link.title))
    return ", ".join(
        f"{took} each after {', '.join(steps[:-1])} and {steps[-1]}"
        if len(steps) > 1
        else f"{took} after {steps[0]}"
        for took, steps in after.items()
    )


def _hours(seconds: float) -> str:
    return f"{seconds / 3600:.0f} h"


def _block(placed: Placed, order: Order, width: int, units: str) -> list[str]:
    step = placed.step
    ticked = order.done.get(step.key)
    box = "[x]" if ticked and ticked.done else "[ ]"
    head = f"{placed.number:>3} {box} {step.title}  ({step.key})"
    rows = folded(head, width, subsequent_indent=" " * 8)
    details = [
        ("takes", takes_words(step)),
        ("glue", glue_words(step, units)),
        ("tools", ", ".join(step.tools)),
        ("how", told_in(step.how, units)),
        ("check", told_in(step.check, units)),
        ("care", ", ".join(CAUTIONS[key].title.lower() for key in step.cautions)),
        ("LOOK AGAIN", placed_in(step.warning, units)),
        ("why here", "; ".join(placed.reasons)),
        (
            "NO RETURN",
            "after this you can no longer reach: " + "; ".join(placed.shut_off)
            if placed.no_return
            else "",
        ),
        ("weight", ticked.mass if ticked else ""),
        ("photo", ticked.photo if ticked else ""),
    ]
    for name, words in details:
        if words:
            lines = folded(words, max(30, width - 20))
            rows.append(f"        {name:<11}{lines[0]}")
            rows += [" " * 19 + line for line in lines[1:]]
    return rows


def order_text(order: Order, width: int = 80, units: str = "metric") -> str:
    """All steps, numbered, with points of no return."""
    done = sum(1 for x in order.steps if (d := order.done.get(x.step.key)) and d.done)
    shut = sum(1 for x in order.steps if x.no_return)
    head = f"{order.rocket}: order of assembly, {done} of {len(order.steps)} steps done, "
    head += f"{shut} point{'' if shut == 1 else 's'} of no return"
    rows = [head + (", invented" if order.invented else ""), ""]
    for doubt in order.doubts:
        rows += folded(f"LOOK AGAIN  {doubt}.", width, subsequent_indent=" " * 12)
    rows += [""] if order.doubts else []
    rows += [*(line for words in span_words(order) for line in folded(words, width)), ""]
    rows += ["Care"]
    for words in care(order):
        rows += folded(words, width, initial_indent="  ", subsequent_indent="    ")
    rows += [""]
    for placed in order.steps:
        rows += _block(placed, order, width, units)
    if order.own:
        rows += ["", "Steps of your own (build.toml)"]
        rows += [f"    {'[x]' if each.done else '[ ]'} {each.key}" for each in order.own]
    rows += ["", *folded(FOOT, width)]
    return "\n".join(rows) + "\n"


def ticked_text(order: Order, key: str, width: int = 80, units: str = "metric") -> str:
    """A step after it was ticked or not, what that leaves to doubt, and what may be done next."""
    by_key = {placed.step.key: placed for placed in order.steps}
    done = {name for name, each in order.done.items() if each.done and name in by_key}
    now = order.done.get(key)
    told = "done" if key in done else "not done"
    more = ", ".join(each for each in (now.mass, now.photo) if each) if now and now.done else ""
    head = f"{by_key[key].step.title} ({key}): {told}" + (f", {more}" if more else "")
    rows = [*folded(f"{head}. {len(done)} of {len(order.steps)} steps done.", width), ""]
    for doubt in order.doubts:
        rows += folded(f"LOOK AGAIN  {doubt}.", width, subsequent_indent=" " * 12)
    rows += [""] if order.doubts else []
    left = [placed for placed in order.steps if placed.step.key not in done]
    rows += ["Next"] if left else ["Every step is done."]
    for placed in left[:NEXT]:
        rows += _block(placed, order, width, units)
    care_of = cautions_of(each for placed in left[:NEXT] for each in placed.step.cautions)
    rows += ["", "Care"] if care_of else []
    for words in care_of:
        rows += folded(words, width, initial_indent="  ", subsequent_indent="    ")
    if len(left) > NEXT:
        rows += ["", f"{len(left) - NEXT} more after these: goodflight order"]
    return "\n".join(rows) + "\n"


def care(order: Order) -> tuple[str, ...]:
    """Every caution of the steps, once."""
    return cautions_of(key for placed in order.steps for key in placed.step.cautions)


def refusal_text(refusals: Sequence[Refusal], width: int = 80) -> str:
    """Why a hand-made order cannot be built, step by step."""
    if not refusals:
        return "This order can be built: no step is locked out.\n"
    count = len(refusals)
    rows = [f"This order cannot be built: {count} fault{'s' if count > 1 else ''}."]
    for each in refusals:
        place = f"step {each.number} ({each.key})" if each.number else each.key
        rows += folded(f"{place}: {each.reason}.", width, subsequent_indent="  ")
    return "\n".join(rows) + "\n"


def keys_in(text: str, steps: Sequence[Step]) -> list[str]:
    """Read a hand-made order: one step a line by key or title; `#` begins a remark."""
    by_title = {step.title.lower(): step.key for step in steps}
    found = []
    for line in text.splitlines():
        words = line.split("#", 1)[0].strip()
        number, _, rest = words.partition(" ")
        if number.rstrip(".)").isdigit():
            words = rest.strip()
        if words:
            found.append(by_title.get(words.lower(), words))
    return found
