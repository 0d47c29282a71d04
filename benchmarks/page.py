"""How soon the page answers a what-if, in the browser: `python benchmarks/page.py`.

One slider of the demo project is stepped by key (each step waits for its answer) and dragged (a
new position every 30 ms for two seconds). Measured from the input event to the frame that shows
the answer; under drag, from the oldest move that the answer takes in. Median and worst tenth.

Before that the first view of the ledger, of the demo and of a rocket told by the first form alone,
which has many rows that are not known: least time to the first paint of several, bytes as sent,
height of the page in its full answer.
"""

import os
import re
import statistics
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from goodflight.project import write_project
from goodflight.project.demo import write_demo
from goodflight.project.newcomer import project_files

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
TOLD = {  # answers of the first form; invented
    "motor_name": "H-told", "motor_impulse": "257 N s", "motor_burn": "1.82 s",
    "motor_propellant": "128 g", "motor_loaded": "305 g", "motor_diameter": "38 mm",
    "motor_length": "203 mm", "motor_delay": "11 s", "motor_delays": "2 s, 4 s",
}  # fmt: skip
VIEWS = 5
VIEW = """() => {
  const sum = (a, e) => a + e.encodedBodySize;
  const of = (kind) => performance.getEntriesByType(kind);
  const paint = of("paint").find((e) => e.name === "first-contentful-paint");
  return [paint.startTime, of("navigation").reduce(sum, 0), of("resource").reduce(sum, 0),
          document.documentElement.scrollHeight];
}"""
SIZES = {"desktop": (1440, 900), "phone": (390, 844)}
DRAG = """async () => {
  const input = document.getElementById("try-wind"), middle = Number(input.max) / 2;
  for (let i = 0; i < 66; i++) {
    input.value = String(Math.round(middle + middle * Math.sin(i / 6)));
    input.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((done) => setTimeout(done, 30));
  }
}"""


def said(name: str, moves: list[float]) -> None:
    """One line of figures."""
    worst = statistics.quantiles(moves, n=10)[-1]
    middle = statistics.median(moves)
    print(f"{name:32} {middle:5.0f} ms, worst tenth {worst:5.0f} ms, {len(moves)} answers")


def stepped(page: Any) -> list[float]:
    """Times of single moves, one after the other."""
    slider = page.locator("#try-wind")
    slider.focus()
    for i in range(24):
        before = page.evaluate("() => goodflight.moves.length")
        slider.press("ArrowRight" if i < 12 else "ArrowLeft")
        page.wait_for_function("(n) => goodflight.moves.length > n", arg=before)
    found: list[float] = page.evaluate("() => goodflight.moves.splice(0)")
    return found


def dragged(page: Any) -> list[float]:
    """Times of the answers while the slider is dragged."""
    page.evaluate(DRAG)
    page.wait_for_timeout(400)
    found: list[float] = page.evaluate("() => goodflight.moves.splice(0)")
    return found


def first_view(url: str, name: str) -> None:
    """One line for each width."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=ARGUMENTS)
        for size, (width, height) in SIZES.items():
            times, page = [], browser.new_page()
            for _ in range(VIEWS):
                page.close()
                page = browser.new_page(viewport={"width": width, "height": height})
                page.goto(f"{url}/ledger", timeout=120_000)
                page.wait_for_selector("body:not(.busy)", timeout=120_000)
                paint, sheet, rest, tall = page.evaluate(VIEW)
                times.append(paint)
            print(
                f"{name}, {size}, first paint {min(times):.0f} ms, {sheet / 1e3:.1f} kB and "
                f"{rest / 1e3:.1f} kB beside it, {tall} px",
                flush=True,
            )
        browser.close()


def measure(url: str) -> None:
    """All sheets, both widths."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=ARGUMENTS)
        for size, (width, height) in SIZES.items():
            for sheet in ("ledger", "drawing", "flight"):
                page = browser.new_page(viewport={"width": width, "height": height})
                page.goto(f"{url}/{sheet}?plan=midday")
                if sheet == "flight":
                    page.wait_for_selector("#curves[data-drawn]", timeout=60_000)
                page.wait_for_selector("body:not(.busy)", timeout=60_000)
                if page.locator("details.what-if").get_attribute("open") is None:
                    page.locator("details.what-if summary").first.click()
                said(f"{size} {sheet}, step by step", stepped(page))
                page.wait_for_selector("body:not(.busy)", timeout=60_000)
                said(f"{size} {sheet}, dragged", dragged(page))
                page.close()
        browser.close()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Address of a server of one project."""
    words = [sys.executable, "-m", "goodflight", "serve", str(folder), "--no-open"]
    server = subprocess.Popen(words, stderr=subprocess.PIPE, text=True, env={**os.environ})
    assert server.stderr is not None
    line = next(line for line in server.stderr if "http://" in line)
    threading.Thread(target=server.stderr.read, daemon=True).start()
    found = re.search(r"http://127\.0\.0\.1:\d+", line)
    assert found is not None
    try:
        yield found[0]
    finally:
        server.terminate()
        server.wait(5)


def main() -> None:
    """Serve both projects and measure."""
    with tempfile.TemporaryDirectory() as folder:
        demo, told = Path(folder) / "demo", Path(folder) / "told"
        write_demo(demo)
        write_project(told, project_files(TOLD))
        with served(told) as url:
            first_view(url, "a rocket told by the form")
        with served(demo) as url:
            first_view(url, "demo")
            measure(url)


if __name__ == "__main__":
    main()
