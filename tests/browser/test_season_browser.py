"""Bench, Calendar and Debrief in use, one after the other on one server.

It is done on a phone; every page is looked at in the window of a desk, too.
"""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from browser.conftest import windows
from made_logs import APOGEE_M, made, table

M = made(0.1)
TWO = table(
    {"time_s": M["time"], "bay": M["pressure"] / 100.0 + 3.0, "nose": M["pressure"] / 100.0}
)
LOG = {"name": "LOG7.CSV", "mimeType": "text/csv", "buffer": TWO.encode()}


IN_VIEW = """() => {
  const row = document.querySelector('.tabs nav').getBoundingClientRect()
  const at = document.querySelector('.tabs [aria-current]').getBoundingClientRect()
  return row.left - 1 <= at.left && at.right <= row.right + 1
}"""


def goes_to(page: Any, name: str) -> None:
    """Follow a page of the navigation, which stands in one line at any width."""
    pages = page.get_by_role("navigation", name="pages")
    for _ in windows(page):
        one = page.locator(".tabs a").first.bounding_box()["height"]
        assert pages.bounding_box()["height"] < 1.5 * one
        pages.get_by_role("link", name=name).click(trial=True)
    pages.get_by_role("link", name=name).click()
    page.wait_for_selector(f'.tabs a[aria-current]:text-is("{name}")')
    page.wait_for_function(IN_VIEW)  # the script of the page brings it there
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def within_reach(page: Any, *controls: Any) -> None:
    """In every window nothing covers these controls."""
    for _ in windows(page):
        for control in controls:
            control.click(trial=True)


@pytest.mark.parametrize("size", ["phone"], indirect=True)
def test_a_step_is_ticked_the_calendar_answers_a_flight_and_its_log_are_entered(
    serve: Callable[..., Any], look: Any
) -> None:
    served = serve(settles=False)
    page = look(served, "/bench", refusals=True)
    step = page.locator(".bench > li").last
    button = step.get_by_role("button", name="mark not done")
    assert not button.is_visible()  # what is done is folded to its title
    step.locator("summary").click()
    within_reach(page, button)
    button.click()
    page.wait_for_selector("#undo:not([disabled])")
    page.wait_for_load_state()
    assert page.locator(".bench > li.ticked").count() == page.locator(".bench > li").count() - 1
    goes_to(page, "Calendar")
    planning = page.get_by_role("button", name="plan from this day")
    within_reach(page, page.locator("[name=start]"), planning)
    page.locator("[name=start]").fill("2026-09-01")
    planning.click()
    page.wait_for_selector(".sitting")
    goes_to(page, "Bench")
    step.get_by_role("button", name="mark done").click()
    page.wait_for_selector(".bench > li:last-child.ticked")
    goes_to(page, "Calendar")
    assert "Every step is ticked" in page.locator(".answer").inner_text()

    goes_to(page, "Debrief")
    hints = page.locator("[name^=after_]").evaluate_all("e => e.map(each => each.placeholder)")
    assert len(set(hints)) >= 5 and all(re.match(r"[\d.]+ s predicted|$", each) for each in hints)
    note = page.locator("#note")
    note.locator("[name=flight]").fill("first")
    note.locator("[name=apogee]").fill("10 s")
    note.get_by_role("button", name="write it down").click()
    page.wait_for_selector(".faults")
    assert note.locator("[name=apogee]").input_value() == "10 s"
    writing = note.get_by_role("button", name="write it down")
    within_reach(page, note.locator("[name=flight]"), note.locator("[name=apogee]"), writing)
    note.locator("[name=apogee]").fill(f"{APOGEE_M:.0f} m ± 5 m")
    writing.click()
    page.wait_for_selector("#t-fell")

    page.locator("input[type=file]").set_input_files(LOG)
    page.get_by_role("button", name="read it", exact=True).click()
    page.wait_for_selector("#log .overlay")
    page.get_by_label("column 2 bay is").select_option("ignore")
    page.locator("#log details summary").click()
    nose = page.get_by_label("column 3 nose is")
    within_reach(page, nose)
    nose.select_option("pressure hPa")
    page.get_by_role("button", name="read it again").click()
    page.wait_for_selector("#log :text('hPa from column 3 nose')")
    keeping = page.get_by_role("button", name="keep it with the flight")
    within_reach(page, keeping)
    keeping.click()
    page.wait_for_selector("section[aria-label='log LOG7.CSV'] .overlay .nine", state="attached")
    kept = Path(served.folder) / "flights" / "first"
    assert (kept / "LOG7.CSV").read_bytes() == TWO.encode()
    assert "3=pressure hPa" in (kept / "notes.toml").read_text("utf-8")
