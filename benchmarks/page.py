"""How soon the page answers a what-if, in the browser: `python benchmarks/page.py`.

One slider of the demo project is stepped by key (each step waits for its answer) and dragged (a
new position every 30 ms for two seconds). Measured from the input event to the frame that shows
the answer; under drag, from the oldest move that the answer takes in. Median and worst tenth.
"""

import os
import re
import statistics
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from goodflight.project.demo import write_demo

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
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


def main() -> None:
    """Serve the demo project and measure."""
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        words = [sys.executable, "-m", "goodflight", "serve", f"{folder}/demo", "--no-open"]
        server = subprocess.Popen(words, stderr=subprocess.PIPE, text=True, env={**os.environ})
        assert server.stderr is not None
        line = next(line for line in server.stderr if "http://" in line)
        threading.Thread(target=server.stderr.read, daemon=True).start()
        found = re.search(r"http://127\.0\.0\.1:\d+", line)
        assert found is not None
        try:
            measure(found[0])
        finally:
            server.terminate()
            server.wait(5)


if __name__ == "__main__":
    main()
