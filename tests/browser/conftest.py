"""A browser and served projects for the tests of the page; nothing outside may be asked for."""

import contextlib
import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import which
from typing import Any

import pytest

from goodflight.page.server import free_socket, server_of
from goodflight.project.demo import write_demo
from shared_answers import shared_app

sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
HOME = Path(__file__).resolve().parents[2]
# the same engine in each; the first opens no window around a page: a third of the work of a page
NAMES = ("chromium-headless-shell", "chromium", "chromium-browser")
CHROMIUM = next(filter(None, map(which, NAMES)), "")
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
FLIGHTS = 500  # of a full answer; the default would only take longer
PATIENCE_MS = 90_000  # for a full answer on a busy machine
SIZES = {"desktop": (1440, 900), "phone": (390, 844)}
AT_WORK = """
from goodflight.cli import main
from goodflight.page import app
from shared_answers import AtWork
app.Workers = AtWork
main()
"""
expect = sync_api.expect  # reads until it is so: what is read once may be read too early
expect.set_options(timeout=PATIENCE_MS)


def windows(page: Any) -> Iterator[str]:
    """Each window in turn, laid out; nothing stands outside it; the page's own comes back."""
    own = page.viewport_size
    for name, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0, name
        yield name
    page.set_viewport_size(own)


class Served:
    """One `goodflight serve` process: its address, what it says, its folder."""

    command: tuple[str, ...] = ("-m", "goodflight")

    def __init__(self, folder: Path, *more: str, settles: bool = True) -> None:
        self.folder, self.said = folder, [""]
        asked = ["serve", str(folder), "--no-open", "--flights", str(FLIGHTS), *more]
        words = [sys.executable, *(self.command if settles else ("-c", AT_WORK)), *asked]
        places = os.pathsep.join((str(HOME / "src"), str(HOME / "tests")))
        self.process = subprocess.Popen(
            words,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": places},
        )
        threading.Thread(target=self._listen, daemon=True).start()
        self.url = self.wait_for(r"(http://127\.0\.0\.1:\d+)/")

    def _listen(self) -> None:
        assert self.process.stderr is not None
        for line in self.process.stderr:
            self.said[0] += line

    def wait_for(self, pattern: str, patience_s: float = 90.0) -> str:
        end = time.monotonic() + patience_s
        while time.monotonic() < end:
            found = re.search(pattern, self.said[0])
            if found:
                return found[1]
            time.sleep(0.05)
        raise AssertionError(f"the server did not say {pattern}: {self.said[0]}")

    def stop(self) -> bool:
        """Ctrl-C; whether it ended by that, or, held up for good, had to be killed."""
        if self.process.poll() is not None:
            return True
        self.process.send_signal(signal.SIGINT)
        with contextlib.suppress(subprocess.TimeoutExpired):
            self.process.wait(30)
        ended = self.process.poll() is not None
        self.process.kill()
        return ended


class Inside:
    """The same server in a thread of the tests: nothing is started, long answers are shared."""

    def __init__(self, folder: Path, settles: bool = True, port: int | None = None) -> None:
        self.folder = folder
        self._listener = free_socket("127.0.0.1", port)
        port = int(self._listener.getsockname()[1])
        self.url = f"http://127.0.0.1:{port}"
        self._server = server_of(shared_app(folder, port, FLIGHTS, settles))
        sockets = [self._listener]
        self._thread = threading.Thread(target=self._server.run, args=(sockets,), daemon=True)
        self._thread.start()

    def cut(self) -> None:
        """As a kill does: nothing listens any more, and every connection ends without a word."""
        loop, done = self._server.servers[0].get_loop(), threading.Event()

        def all_gone() -> None:
            for each in self._server.servers:
                each.close()
            for connection in list(self._server.server_state.connections):
                connection.transport.abort()
            done.set()

        loop.call_soon_threadsafe(all_gone)
        assert done.wait(10)

    def stop(self) -> None:
        """As Ctrl-C does."""
        self._server.stopping.set()
        self._server.should_exit = True
        self._thread.join(10)
        self._listener.close()


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., Served | Inside]]:
    """Start a server of a folder of the test's own; `own`: as a process that works all out anew.

    `settles=False`: the full answer of a sheet is worked at for good; for what does not wait for
    it, and would only have it begun and dropped with every change of a file.
    """
    running: list[Served | Inside] = []

    def start(
        *more: str,
        demo: bool = True,
        own: bool = False,
        settles: bool = True,
        port: int | None = None,
    ) -> Served | Inside:
        folder = tmp_path / f"project{len(running)}"
        if demo:
            write_demo(folder)
        running.append(
            Served(folder, *more, settles=settles) if own or more else Inside(folder, settles, port)
        )
        return running[-1]

    yield start
    for served in running:
        served.stop()


@pytest.fixture(scope="session")
def shown(demo_folder: Path) -> Iterator[Inside]:
    """One server of the demo for every test that keeps nothing and needs no fresh answer."""
    served = Inside(demo_folder)
    yield served
    served.stop()


@pytest.fixture(scope="package")
def browser() -> Iterator[Any]:
    """One for all files of a worker that follow each other in this folder: while it is open its
    event loop runs, and a file that has nothing to do with the page could start none."""
    if not CHROMIUM:
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    with sync_api.sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield found
        found.close()


@pytest.fixture(params=list(SIZES))
def size(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def look(browser: Any, size: str) -> Iterator[Callable[..., Any]]:
    """Open a page that fails its test on a console error or a request to anywhere else."""
    wrong: list[str] = []
    contexts = []

    def opened(
        served: Served | Inside,
        path: str = "/",
        base: str = "",
        refusals: bool = False,
        finished: Callable[[Any], None] | None = None,
    ) -> Any:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height}, has_touch=size == "phone"
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        page = context.new_page()
        home = base or served.url

        def console(message: Any) -> None:
            refused = any(w in message.text for w in ("status of 4", "status of 503", "ERR_"))
            if message.type in ("error", "warning") and not (refusals and refused):
                wrong.append(f"console {message.type}: {message.text}")

        page.on("console", console)
        page.on("pageerror", lambda error: wrong.append(f"error: {error}"))
        page.on(
            "request",
            lambda r: None if r.url.startswith(home) else wrong.append(f"outside: {r.url}"),
        )
        if finished is not None:
            page.on("requestfinished", finished)
        page.goto(home + path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not wrong, "\n".join(wrong)
