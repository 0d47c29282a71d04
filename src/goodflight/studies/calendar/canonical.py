"""Tasks of a plan of work in an order of their own, whatever order they were written in.

A solver's time and its choice between equal plans hang on the order of the unknowns. Tasks are
sorted by the work ahead of them, and those alike by all that is known of them and of what is tied
to them; what then still ties are twins, and either may stand first.
"""

from collections.abc import Iterable
from dataclasses import replace
from hashlib import blake2b

import numpy as np

from goodflight.studies.calendar.problem import Ints, Problem

ROUNDS = 4  # of looking at the neighbours' neighbours


def _mark(parts: Iterable[bytes]) -> bytes:
    return blake2b(b"|".join(parts), digest_size=16).digest()


def _depths(problem: Problem) -> Ints:
    """How many tasks, at most, stand in a row before each."""
    depth = np.zeros(problem.tasks, dtype=np.int64)
    for _ in range(problem.tasks):
        before = depth.copy()
        for i, j in problem.after:
            depth[i] = max(depth[i], depth[j] + 1)
        if np.array_equal(before, depth):
            break
    return depth


def _marks(problem: Problem) -> list[bytes]:
    """One mark for each task: what it is, and what it is tied to."""
    p = problem
    tables = [p.allowed, p.ready, p.touch, p.cured, p.whole]
    tables += [] if p.latest is None else [p.latest]
    kept = set(p.keep)
    marks = [
        _mark(
            [str((int(p.minutes[i]), i in kept)).encode(), *(each[i].tobytes() for each in tables)]
        )
        for i in range(p.tasks)
    ]
    ties: list[list[tuple[bytes, tuple[int, ...]]]] = [[] for _ in marks]
    for name, pairs in ((b"a", p.after), (b"f", p.full), (b"w", p.within)):
        for i, j in pairs:
            ties[i].append((name + b"<", (j,)))
            ties[j].append((name + b">", (i,)))
    for i, later in p.either:
        ties[i].append((b"e<", later))
        for k in later:
            ties[k].append((b"e>", (i,)))
    for _ in range(ROUNDS):
        marks = [
            _mark(
                [
                    own,
                    *sorted(name + b"".join(sorted(marks[k] for k in to)) for name, to in tied),
                ]
            )
            for own, tied in zip(marks, ties)
        ]
    return marks


def canonical_order(problem: Problem) -> Ints:
    """Numbers of the tasks, in the order that does not hang on how they were written."""
    depth, marks = _depths(problem), _marks(problem)
    ranked = sorted(range(problem.tasks), key=lambda i: (int(depth[i]), marks[i]))
    return np.array(ranked, dtype=np.int64)


def reordered(problem: Problem, order: Ints) -> Problem:
    """The same problem with its tasks in another order, and what ties them sorted."""
    p, place = problem, np.argsort(order)

    def pairs(told: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
        return tuple(sorted({(int(place[i]), int(place[j])) for i, j in told}))

    either = sorted(
        {(int(place[i]), tuple(sorted(int(place[k]) for k in later))) for i, later in p.either}
    )
    return replace(
        p,
        minutes=p.minutes[order],
        allowed=p.allowed[order],
        ready=p.ready[order],
        touch=p.touch[order],
        cured=p.cured[order],
        whole=p.whole[order],
        after=pairs(p.after),
        full=pairs(p.full),
        either=tuple(either),
        keep=tuple(sorted(int(place[k]) for k in p.keep)),
        within=pairs(p.within),
        latest=None if p.latest is None else p.latest[order],
    )
