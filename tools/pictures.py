"""The two pictures of README, made anew from the demo: `python tools/pictures.py`.

The ledger page as a browser shows it (needs Chromium and playwright), and the drawing as
`goodflight draw` writes it. Both go to docs/pictures.
"""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from goodflight.project.demo import write_demo

HOME = Path(__file__).resolve().parents[1]
PICTURES = HOME / "docs" / "pictures"
WIDE, HIGH = 1280, 860
PATIENCE_MS = 300_000


def main() -> None:
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "fieldfare"
        write_demo(folder)
        asked = [sys.executable, "-m", "goodflight"]
        env = {**os.environ, "PYTHONPATH": str(HOME / "src")}
        drawing = PICTURES / "drawing.svg"
        subprocess.run([*asked, "draw", str(folder), "--out", str(drawing)], env=env, check=True)
        server = subprocess.Popen(
            [*asked, "serve", str(folder), "--no-open"], stderr=subprocess.PIPE, text=True, env=env
        )
        try:
            assert server.stderr is not None
            url = next(
                found[0]
                for line in server.stderr
                if (found := re.search(r"http://[\d.]+:\d+", line))
            )
            _ledger(f"{url}/ledger?plan=midday", PICTURES / "ledger.png")
        finally:
            server.terminate()
            server.wait(10)


def _ledger(url: str, file: Path) -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox"]
        )
        page = browser.new_page(viewport={"width": WIDE, "height": HIGH})
        page.goto(url)
        page.wait_for_selector('.columns[data-full="yes"]', timeout=PATIENCE_MS)
        page.screenshot(path=file)
        browser.close()


if __name__ == "__main__":
    main()
