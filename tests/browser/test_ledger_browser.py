"""The ledger page as a stranger meets it: the answer at first sight, folds, remedies tried."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from browser.conftest import expect

FULL = ".columns[data-full=yes]"
AT_REST = "body:not(.busy)"


def settled(page: Any) -> Any:
    """The page once all flights are in."""
    page.wait_for_selector(FULL, timeout=90_000)
    page.wait_for_selector(AT_REST, timeout=90_000)
    return page


def top(page: Any, selector: str) -> float:
    return float(page.locator(selector).first.bounding_box()["y"])


def text_of(folder: Path, file: str) -> str:
    return (folder / file).read_text("utf-8")


def test_what_fails_and_what_to_do_stand_on_the_first_screen(
    shown: Any, look: Any, size: str
) -> None:
    page = settled(look(shown, "/ledger?plan=midday"))
    height = page.viewport_size["height"]
    first = top(page, ".canfail li.fails")
    print(
        f"\n{size}: first failing row {first:.0f} px down, {page.locator('.stand').count()} folds"
    )
    assert first < 0.75 * height
    if size == "desktop":
        assert top(page, ".next .do") < height
    course = page.locator(".course:visible")
    assert course.count() == 1
    marks = course.locator("a")
    assert marks.count() == page.locator("article.row").count()
    assert all(a.get_attribute("aria-label") for a in marks.all())
    named = page.locator(".course:visible a.fails").first.get_attribute("aria-label")
    assert "fails, about" in named


def test_a_mark_leads_to_its_row_and_opens_the_fold(shown: Any, look: Any) -> None:
    page = settled(look(shown, "/ledger?plan=midday"))
    row = page.locator("#row-flutter")
    assert not row.is_visible()
    link = page.locator(".course:visible a[href='#row-flutter']")
    link.focus()
    link.press("Enter")
    page.wait_for_selector("#row-flutter", state="visible")
    assert page.locator("#stand-boost").get_attribute("open") is not None
    page.wait_for_function("document.activeElement.dataset.why === 'flutter'")


def test_a_fold_stays_open_while_a_what_if_moves(shown: Any, look: Any) -> None:
    page = settled(look(shown, "/ledger?plan=midday&wind=3"))
    page.locator("#stand-workmanship summary").click()
    slider = page.locator("#try-wind")
    slider.focus()
    slider.press("ArrowRight")
    page.wait_for_function("() => window.goodflight.moves.length > 0")
    assert page.locator("#stand-workmanship").get_attribute("open") is not None
    assert page.locator("#stand-boost").get_attribute("open") is None


def test_every_row_that_is_not_ok_is_printed(shown: Any, look: Any) -> None:
    """What is ok stays folded, a line a phase: a printed ledger takes two sheets."""
    page = settled(look(shown, "/ledger?plan=midday"))
    page.emulate_media(media="print")
    page.evaluate("() => dispatchEvent(new Event('beforeprint'))")
    hidden = page.evaluate(
        "() => [...document.querySelectorAll('.row.fails, .row.marginal, .row.unknown')]"
        ".filter(r => !r.checkVisibility()).length"
    )
    assert hidden == 0 and page.locator(".stand > summary:visible").count() > 3
    page.evaluate("() => dispatchEvent(new Event('afterprint'))")
    assert page.locator(".stand[open]").count() == 0


def test_remedies_are_tried_together_dropped_and_kept(serve: Callable[..., Any], look: Any) -> None:
    served = serve()
    before = text_of(served.folder, "rocket.toml")
    page = settled(look(served, "/ledger?plan=small%20motor&why=zipper"))
    guard = page.locator("#why-zipper .remedies tr", has_text="wide zipper guard").first
    wide = re.search(r"(\d+)\smm wide zipper guard", guard.inner_text())
    assert wide is not None
    guard.locator("a.try").click()
    page.wait_for_selector(".also li")
    tried = f"cord_width={int(wide[1]) / 1000:g}"
    assert tried in page.url
    settled(page)
    page.goto(page.url.split("#")[0].replace("cord_width=", "anchors=1.5&cord_width="))
    settled(page)
    items = page.locator(".also li")
    expect(items).to_have_count(2)
    slider = page.locator("#try-wind")
    slider.focus()
    slider.press("ArrowLeft")
    page.wait_for_function("() => window.goodflight.moves.length > 0")
    assert all(each in page.url for each in (tried, "anchors=1.5", "wind="))
    settled(page)
    page.get_by_role("link", name="drop: reinforce both cord attachments").click()
    expect(items).to_have_count(1)
    assert text_of(served.folder, "rocket.toml") == before
    settled(page)
    page.get_by_role("button", name="keep", exact=True).first.click()
    page.wait_for_selector("#undo:not([disabled])")
    after = text_of(served.folder, "rocket.toml")
    assert f'width = "{wide[1]} mm"' in after and "2250" not in after
    assert page.locator(".also").count() == 0


def test_a_step_of_the_way_is_kept_in_one_press(serve: Callable[..., Any], look: Any) -> None:
    served = serve()
    files = ("plans.toml", "rocket.toml", "build.toml")
    before = [text_of(served.folder, file) for file in files]
    page = settled(look(served, "/ledger?plan=midday"))
    page.locator(".step").get_by_role("button", name="keep").first.click()
    page.wait_for_selector("#undo:not([disabled])")
    assert [text_of(served.folder, file) for file in files] != before


def test_flights_that_fail_lead_to_the_flight_sheet(shown: Any, look: Any) -> None:
    page = settled(look(shown, "/ledger?plan=midday&why=too_early"))
    failing = page.locator("#why-too_early .failing")
    assert "delay of the motor" in failing.inner_text()
    links = failing.locator("a")
    assert 1 < links.count() <= 5
    links.first.click()
    page.wait_for_url("**/flight?*number=*")
    assert page.locator("h1").inner_text() == "Fieldfare"


@pytest.mark.parametrize("tries", ["rail=99", "pull=22&rail=99"])
def test_a_change_that_is_not_there_is_one_clear_message(shown: Any, look: Any, tries: str) -> None:
    page = look(shown, f"/ledger?plan=midday&{tries}", refusals=True)
    assert "no setting '99'" in page.locator(".refused").inner_text()
