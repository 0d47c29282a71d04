"""What ticks and steps have to do with one another: too early, locked out, left behind."""

from collections.abc import Collection, Sequence

from goodflight.studies.bench.order import Step, needs_words, reachable


def still_open(steps: Sequence[Step], done: Collection[str], key: str) -> tuple[str, ...]:
    """Why a step cannot be ticked yet, in sentences; empty when it can.

    Parameters
        steps : sequence of Step - all that must be done. [-]
        done : collection of str - keys of those that are. [-]
        key : str - of the step to tick. [-]
    Returns
        reasons : tuple of str - steps not done that it needs, and those it would lock out. [-]
    Raises
        KeyError - no such step
    Validity
        As find_order.
    Source
        Own.
    Example
        >>> from goodflight.studies.bench.order import Reach
        >>> inside = Step("nut", "nut", (Reach("inside", ("rear",)),))
        >>> still_open([Step("ring", "ring", closes=("rear",)), inside], (), "ring")
        ("it closes the last way to inside, where 'nut' (nut) still has to get",)
    """
    by_key = {step.key: step for step in steps}
    step = by_key[key]
    needs = tuple(
        f"it {needs_words(step, by_key[need])} ({need}), which is not done"
        for need in step.after
        if need not in done
    )
    before = {late.key for _, late in locked_out(steps, done)}
    shuts = tuple(
        f"it closes the last way to {_lost(late, steps, {*done, key})}, where {late.title!r} "
        f"({late.key}) still has to get"
        for _, late in locked_out(steps, {*done, key})
        if late.key not in before
    )
    return needs + shuts


def _lost(late: Step, steps: Sequence[Step], done: Collection[str]) -> str:
    closed = {door for step in steps if step.key in done for door in step.closes}
    return " and ".join(r.place for r in late.reaches if r.doors and not reachable(r, closed))


def locked_out(steps: Sequence[Step], done: Collection[str]) -> tuple[tuple[Step, Step], ...]:
    """Steps not done that nobody can get at any more, each after the done step that shut it out.

    Parameters
        steps : sequence of Step - all that must be done. [-]
        done : collection of str - keys of those that are. [-]
    Returns
        pairs : tuple of (Step, Step) - the one that closed the way, the one locked out. [-]
    Validity
        As find_order.
    Source
        Own.
    Example
        >>> from goodflight.studies.bench.order import Reach
        >>> inside = Step("nut", "nut", (Reach("inside", ("rear",)),))
        >>> ring = Step("ring", "ring", closes=("rear",))
        >>> [late.key for _, late in locked_out([ring, inside], {"ring"})]
        ['nut']
    """
    shut = {door: step for step in steps if step.key in done for door in step.closes}
    return tuple(
        (shut[reach.doors[0]], step)
        for step in steps
        if step.key not in done
        for reach in step.reaches
        if reach.doors and not reachable(reach, set(shut))
    )


def left_behind(steps: Sequence[Step], done: Collection[str]) -> tuple[tuple[Step, Step], ...]:
    """Steps not done that a done step builds on: (the done one, the one not done), each once."""
    by_key = {step.key: step for step in steps}
    found = {
        need: (step, by_key[need])
        for step in steps
        if step.key in done
        for need in step.after
        if need not in done
    }
    return tuple(found.values())
