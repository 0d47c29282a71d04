"""A progress line on stderr for work that takes more than a moment; stdout stays clean."""

import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

import click

PATIENCE_S: Final = 0.25  # quicker work says nothing
EVERY_S: Final = 0.25


@contextmanager
def working(words: str, patience_s: float = PATIENCE_S) -> Iterator[Callable[[str, float], None]]:
    """Say what is being done once it takes longer than a moment; on a terminal, with a clock.

    Hands out what a study is told to report to: (what, share done).
    """
    now = [words]
    done = threading.Event()
    said = threading.Event()
    tty = sys.stderr.isatty()

    def tell() -> None:
        start = time.monotonic()
        if done.wait(patience_s):
            return
        said.set()
        if not tty:
            click.echo(f"goodflight: {words} ...", err=True)
            return
        while not done.wait(EVERY_S):
            clock = f"{time.monotonic() - start:.0f} s"
            click.echo(f"\rgoodflight: {now[0]} ... {clock}\033[K", nl=False, err=True)

    thread = threading.Thread(target=tell, daemon=True)
    thread.start()
    try:
        with stop_at_once():
            yield lambda what, share: now.__setitem__(0, f"{100 * share:.0f} % {what}"[:60])
    finally:
        done.set()
        thread.join()
        if said.is_set() and tty:
            click.echo("\r\033[K", nl=False, err=True)


@contextmanager
def stop_at_once() -> Iterator[None]:
    """Let Ctrl-C end the process itself: compiled work cannot be asked to stop.

    Nothing is written while a study runs, so nothing can be lost.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def ready_kernel() -> None:
    """Load the flight kernel; before a first compile, say so and how long it takes."""
    from goodflight.physics.flight import compiled_before, make_ready

    if compiled_before():
        make_ready()
        return
    with working("compiling the flight kernel, once on this machine (up to a minute)"):
        make_ready()
