"""Studies beside the server: parts come as they are there, a stop really stops."""

import asyncio
import json
import threading
import time
from typing import Any

from goodflight.page.work import MAX_TABS, Reporter, Workers


async def _events(workers: Workers, tab: str, act: Any, on: Any = None) -> list[tuple[str, Any]]:
    found = []
    async for text in workers.stream(tab, act, str):
        name, data = text.strip().split("\n")
        found.append((name.removeprefix("event: "), json.loads(data.removeprefix("data: "))))
        if on is not None:
            on(found[-1])
    return found


def _endless(steps: list[int], ended: threading.Event) -> Any:
    def act(tell: Reporter) -> dict[str, Any]:
        try:
            for i in range(100_000):
                steps.append(i)
                tell("stepping", 0.5)
                time.sleep(0.001)
        finally:
            ended.set()
        return {}

    return act


def test_parts_come_before_the_end() -> None:
    go_on = threading.Event()

    def act(tell: Reporter) -> dict[str, Any]:
        tell("first", 0.0)
        tell.part({"bands": 1})
        assert go_on.wait(10.0)  # the part must reach the reader while the study still runs
        return {"delays": 2}

    def on(event: tuple[str, Any]) -> None:
        if event[0] == "part":
            go_on.set()

    found = asyncio.run(_events(Workers(), "tab", act, on))
    assert [name for name, _ in found] == ["progress", "part", "done"]
    assert found[1][1] == {"bands": 1} and found[2][1] == {"delays": 2}


def test_a_stop_stops_the_study_and_says_so() -> None:
    workers, steps, ended = Workers(), list[int](), threading.Event()
    found = asyncio.run(
        _events(workers, "tab", _endless(steps, ended), lambda _event: workers.stop("tab"))
    )
    assert found[-1][0] == "stopped"
    assert ended.wait(10.0)
    assert len(steps) < 100_000
    assert not workers.stop("tab")  # nothing is left to stop


def test_newer_work_of_a_tab_takes_over() -> None:
    workers, steps, ended = Workers(), list[int](), threading.Event()
    found = asyncio.run(
        _events(workers, "tab", _endless(steps, ended), lambda _event: workers.take("tab"))
    )
    assert found[-1][0] == "superseded" and ended.wait(10.0)


def test_other_tabs_go_on() -> None:
    workers = Workers()
    mine = workers.take("mine")
    workers.take("other")
    assert not workers.stop("nobody")
    assert workers.stop("other") and not mine.is_set()


def test_a_fault_is_told_in_words() -> None:
    def act(_tell: Reporter) -> dict[str, Any]:
        raise ValueError("no canopy")

    assert asyncio.run(_events(Workers(), "tab", act)) == [("fault", {"words": "no canopy"})]


def test_many_tabs_push_out_the_oldest_only() -> None:
    workers = Workers()
    first, second = workers.take("first"), workers.take("second")
    workers.take("first")
    assert first.is_set() and not second.is_set()
    for number in range(MAX_TABS - 1):
        workers.take(f"tab {number}")
    assert workers.stop("first") and not workers.stop("second")
