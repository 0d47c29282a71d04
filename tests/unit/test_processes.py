"""Work shared out among copies of a process: what one process finds, whatever becomes of a copy."""

import os
import threading
import time
from collections import Counter
from functools import partial

import numpy as np
import pytest

from goodflight.outputs.json_ import to_json
from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.studies import processes
from goodflight.studies.judging import remedies
from goodflight.studies.processes import side_by_side
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.sampling.remembered import Remembered
from sample_case import sample_case

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no process can be copied here")


@pytest.fixture
def copied(monkeypatch: pytest.MonkeyPatch) -> None:
    """Copies are allowed, as in a command of its own, and there are three of them."""
    allowed = threading.Event()
    allowed.set()
    monkeypatch.setattr(processes, "_may_copy", allowed)
    monkeypatch.setattr(os, "cpu_count", lambda: 4)


@pytest.mark.usefixtures("copied")
def test_what_copies_find_stands_in_the_order_of_the_works() -> None:
    def work(number: int) -> tuple[int, int]:
        time.sleep(0.02)
        return number, os.getpid()

    found = side_by_side([partial(work, number) for number in range(60)])
    assert [number for number, _ in found] == list(range(60))
    assert found[0][1] == os.getpid()
    shares = Counter(process for _, process in found)
    assert len(shares) == 4
    assert shares[os.getpid()] < 50  # an even share is 15


@pytest.mark.usefixtures("copied")
def test_what_stood_in_memory_is_handed_back_as_it_is() -> None:
    held = lambda: 7  # noqa: E731  what cannot be packed

    def work() -> tuple[object, int]:
        time.sleep(0.05)
        return held, os.getpid()

    found = side_by_side([work] * 8, known=[held])
    assert all(each is held for each, _ in found)
    assert {process for _, process in found} != {os.getpid()}


@pytest.mark.usefixtures("copied")
def test_what_a_copy_remembers_is_remembered_here() -> None:
    kept = Remembered()
    rows = np.arange(24.0).reshape(12, 2)

    def work(place: int) -> None:
        time.sleep(0.05)
        kept.of(rows[[place]], lambda new: rows[[place]] * 2.0)

    side_by_side([partial(work, place) for place in range(12)], keeps=[kept])
    asked = list[int]()

    def again(new: np.ndarray) -> np.ndarray:
        asked.extend(new)
        return rows[new] * 2.0

    assert (kept.of(rows, again) == rows * 2.0).all()
    assert not asked


@pytest.mark.usefixtures("copied")
def test_what_a_copy_that_ends_before_its_time_took_is_done_here() -> None:
    here = os.getpid()

    def work(number: int) -> int:
        time.sleep(0.02)
        if os.getpid() != here:
            os._exit(1)
        return number

    assert side_by_side([partial(work, number) for number in range(6)]) == list(range(6))


@pytest.mark.usefixtures("copied")
def test_what_goes_wrong_in_a_copy_is_told_as_without_it() -> None:
    def wrong() -> int:
        raise ValueError("nothing of this kind")

    def right() -> int:
        time.sleep(0.1)
        return 1

    with pytest.raises(ValueError, match="nothing of this kind"):
        side_by_side([right, wrong])


def _where() -> int:
    time.sleep(0.05)
    return os.getpid()


def test_no_copy_is_made_unless_it_was_allowed() -> None:
    assert side_by_side([_where] * 5) == [os.getpid()] * 5


@pytest.mark.usefixtures("copied")
def test_no_copy_is_made_in_another_thread_as_a_server_has_them() -> None:
    found = list[int]()
    thread = threading.Thread(target=lambda: found.extend(side_by_side([_where] * 5)))
    thread.start()
    thread.join()
    assert found == [os.getpid()] * 5


@pytest.mark.usefixtures("copied")
def test_a_ledger_shared_out_is_the_same_to_the_last_character(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shared = to_json(ledger_record(ledger_of(sample_case(), 120, 1)))
    for kept in remedies.KEEPS:
        kept.forget()
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    assert to_json(ledger_record(ledger_of(sample_case(), 120, 1))) == shared
