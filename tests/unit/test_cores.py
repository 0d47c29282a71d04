"""Work shared out among the cores: everything once, in shares worth a thread."""

import threading

import pytest

from goodflight.physics.cores import on_cores


@pytest.mark.parametrize("cores", [None, 1, 2, 3, 64])
@pytest.mark.parametrize("count", [0, 1, 9, 10, 19, 20, 101, 1000])
def test_every_thing_is_done_once(
    cores: int | None, count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.cpu_count", lambda: cores)
    done, held = list[tuple[int, int]](), threading.Lock()

    def work(first: int, end: int) -> None:
        with held:
            done.append((first, end))

    on_cores(work, count, least=5)
    assert [i for first, end in sorted(done) for i in range(first, end)] == list(range(count))
    assert len(done) == 1 or min(end - first for first, end in done) >= 5
    assert cores in (None, 1) or count < 10 or len(done) >= min(cores, count // 5)


def test_what_goes_wrong_in_a_share_is_heard() -> None:
    def work(first: int, end: int) -> None:
        raise MemoryError((first, end))

    with pytest.raises(MemoryError):
        on_cores(work, 100, 5)
