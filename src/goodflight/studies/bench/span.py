"""How long a build takes at least: hands-on time, and the longest chain of work and cure.

Nobody sleeps here and all evenings are free: what people and daylight make of it is the calendar's.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, ClassVar

if TYPE_CHECKING:
    from goodflight.studies.bench.order import Step


@dataclass(frozen=True)
class Link:
    """A step of the longest chain."""

    HEADING: ClassVar = "chain step"  # in docs/json.md; another record bears the name
    key: Annotated[str, "name of the step"]
    title: Annotated[str, "the same in words"]
    waits_s: Annotated[float, "what its glue then needs, before the next one [s]"]


@dataclass(frozen=True)
class Span:
    """Time of a list of steps; all errors of one kind: a slow builder is slow at all of it."""

    steps: Annotated[int, "how many"] = 0
    hands_on_s: Annotated[float, "at the bench [s]"] = 0.0
    hands_on_sigma_s: Annotated[float, "one standard deviation of it [s]"] = 0.0
    least_s: Annotated[float | None, "from first step to last cure [s]; null = not known"] = 0.0
    chain: Annotated[tuple[Link, ...], "the steps that set it"] = ()
    unknown: Annotated[tuple[str, ...], "keys of steps whose cure is not known or never ends"] = ()


def span_of(order: "Sequence[Step]") -> Span:
    """Hands-on time and the longest chain of an order.

    A step begins when all that it builds on is done and has the strength it waits for, and when
    nothing still has to be reached through a way that it closes.

    Parameters
        order : sequence of Step - first to last; what it builds on and is not in it is done. [-]
    Returns
        span : Span - of these steps. [s]
    Raises
        nothing
    Validity
        A least time: no sleep, no shopping, no second thoughts; temperatures as entered.
    Source
        Longest path through the steps, derived.
    Example
        >>> from goodflight.studies.bench.order import Step
        >>> second = Step("b", "B", after=("a",), takes_s=30.0)
        >>> span_of([Step("a", "A", takes_s=60.0), second]).least_s
        90.0
    """
    hands_on = sum(step.takes_s for step in order)
    sigma = sum(step.takes_sigma_s for step in order)
    unknown = tuple(step.key for step in order if _wait_s(step, cured=True) is None)
    if unknown:
        return Span(
            steps=len(order),
            hands_on_s=hands_on,
            hands_on_sigma_s=sigma,
            least_s=None,
            chain=(),
            unknown=unknown,
        )
    ends: dict[str, float] = {}
    before: dict[str, tuple[str, float] | None] = {}
    by_key = {step.key: step for step in order}
    for number, step in enumerate(order):
        begins, cause = 0.0, None
        for key, wait_s in _waited_for(step, order[:number], by_key):
            if ends[key] + wait_s > begins:
                begins, cause = ends[key] + wait_s, (key, wait_s)
        ends[step.key], before[step.key] = begins + step.takes_s, cause
    cured = {key: end + (_wait_s(by_key[key], cured=True) or 0.0) for key, end in ends.items()}
    last = max(cured, key=lambda key: cured[key], default=None)
    return Span(
        len(order), hands_on, sigma, cured[last] if last else 0.0, _chain(last, before, by_key)
    )


def _wait_s(step: "Step", cured: bool) -> float | None:
    """Until the glue of a step may be handled, or is cured; None = nobody knows."""
    if step.glued is None:
        return 0.0
    handled = step.glued.handling_s
    return step.glued.cure_s if cured or handled is None else handled


def _waited_for(
    step: "Step", earlier: "Sequence[Step]", by_key: "dict[str, Step]"
) -> Iterator[tuple[str, float]]:
    for key in step.after:
        if key in by_key:
            yield key, _wait_s(by_key[key], step.waits_for_cure) or 0.0
    for other in earlier:
        if any(set(reach.doors) & set(step.closes) for reach in other.reaches):
            yield other.key, 0.0


def _chain(
    last: str | None, before: dict[str, tuple[str, float] | None], by_key: "dict[str, Step]"
) -> tuple[Link, ...]:
    links: list[Link] = []
    waits_s = 0.0 if last is None else _wait_s(by_key[last], cured=True) or 0.0
    while last is not None:
        links.append(Link(last, by_key[last].title, waits_s))
        last, waits_s = before[last] or (None, 0.0)
    return tuple(reversed(links))
