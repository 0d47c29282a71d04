"""The flight page as a flyer uses it: curves that follow, one flight, a stop, reading by keys."""

import re
import threading
from collections.abc import Callable
from typing import Any

import pytest

from browser.conftest import expect
from goodflight.page.answers import Answers

DRAWN = "#curves[data-drawn]"
AT_REST = "body:not(.busy)"


@pytest.fixture
def sheet(shown: Any, look: Callable[..., Any]) -> Any:
    """The flight page, its curves drawn."""
    page = look(shown, "/flight?plan=midday")
    page.wait_for_selector(DRAWN, timeout=60_000)
    return page


def _all_flown(page: Any) -> None:
    page.wait_for_function(
        "() => document.getElementById('delays').firstElementChild"
        " && !document.querySelector('#flying.going')",
        timeout=90_000,
    )


def _move_wind(page: Any, steps: int) -> None:
    details = page.locator("details.what-if")
    if details.get_attribute("open") is None:
        details.locator("summary").first.click()
    slider = page.locator("#try-wind")
    slider.focus()
    for _ in range(steps):
        slider.press("ArrowRight")


def test_curves_and_figures_follow_what_is_tried(
    serve: Callable[..., Any], look: Callable[..., Any], size: str
) -> None:
    sheet = look(serve(), "/flight?plan=midday")
    _all_flown(sheet)
    _move_wind(sheet, 13 if size == "desktop" else 14)  # tried nowhere else: it has to be flown
    sheet.wait_for_selector("#events .old")
    assert re.search(r"was \d+\.\d\ss, \d{3}\sm", sheet.locator("#events").inner_text())
    sheet.wait_for_selector(".names.tried")  # at once, over the planned bands
    assert sheet.locator("#field_box .stale").is_visible()  # the map is still the old one
    sheet.wait_for_selector(".names:not(.tried)", timeout=90_000)  # bands flown again
    _all_flown(sheet)
    assert sheet.locator("#field_box .stale").is_hidden()
    assert "from 230 deg" in sheet.locator("#field").inner_text().replace("\u00a0", " ")
    sheet.wait_for_selector(AT_REST, timeout=90_000)


def test_one_draw_is_flown_told_and_put_away(sheet: Any) -> None:
    _all_flown(sheet)
    entry = sheet.locator("#number")
    entry.fill("2001")
    entry.press("Enter")
    sheet.wait_for_selector("#wrong_number:has-text('from 1 to 500')")
    assert sheet.locator("#one_flight").is_hidden()
    entry.fill("17")
    entry.press("Enter")
    sheet.wait_for_selector("#one_flight h2:has-text('Flight 17 of 500')")
    assert "number=17" in sheet.url and sheet.locator("#wrong_number").inner_text() == ""
    shown = "#field .map:visible text"
    assert "flight 17" in sheet.locator(shown).all_text_contents()
    sheet.reload()
    sheet.wait_for_selector("#one_flight h2:has-text('Flight 17 of 500')")
    sheet.wait_for_selector("#field .chosen", state="attached", timeout=60_000)
    sheet.locator("#no_number").click()
    assert sheet.locator("#one_flight").is_hidden() and "number" not in sheet.url
    assert sheet.locator("#field .chosen").count() == 0


@pytest.fixture
def map_goes_on(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Until it is set the map is still being worked out, however fast the machine."""
    whole, goes_on = Answers.landings, threading.Event()

    def held(self: Answers, plan: Any, settings: Any, tell: Any) -> Any:
        while not goes_on.wait(0.02):
            tell("simulating where it lands", 0.4)
        return whole(self, plan, settings, tell)

    monkeypatch.setattr(Answers, "landings", held)
    return goes_on


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_long_work_is_shown_and_stops(
    serve: Callable[..., Any], look: Callable[..., Any], map_goes_on: threading.Event
) -> None:
    page = look(serve(), "/flight?plan=midday")
    page.wait_for_selector(DRAWN, timeout=60_000)
    bar = page.wait_for_selector("#flying [role=progressbar][aria-valuenow='40']")
    assert bar.get_attribute("aria-valuetext") == "simulating where it lands, 40 %"
    stop = page.locator("#flying .stop")
    stop.focus()
    stop.press("Enter")
    page.wait_for_selector("#flying:has-text('Stopped. What is shown is kept.')")
    assert page.locator(DRAWN).count() == 1 and page.locator("#delays > *").count() == 0
    map_goes_on.set()
    page.get_by_role("button", name="resume").click()
    _all_flown(page)
    assert page.locator("#delays svg").count() > 0


def test_a_curve_is_read_by_keyboard(sheet: Any) -> None:
    chart = sheet.locator(".chart").first
    chart.focus()
    for _ in range(41):
        chart.press("ArrowRight")
    sheet.wait_for_selector("#reading:has-text('4.0 s')", state="attached")
    said = sheet.locator("#reading").text_content()
    found = re.match(r"4\.0\ss: (\d+)\sm, 9\sin\s10 between (\d+) and (\d+)$", said)
    assert found and int(found[2]) < int(found[1]) < int(found[3])
    assert chart.get_attribute("aria-valuetext") == "4.0 s"
    chart.press("End")
    sheet.wait_for_selector("#reading:has-text('13.')", state="attached")
    chart.press("Escape")
    assert sheet.locator(".reading:visible").count() == 0


def test_down_to_the_ground_and_names_that_stand_apart(sheet: Any) -> None:
    assert sheet.locator(".chart").count() == 5
    sheet.locator("label:has-text('to the ground')").click()
    expect(sheet.locator(".chart")).to_have_count(2)
    names = sheet.locator(".names text")
    expect(names).to_have_count(8)
    words = names.all_text_contents()
    assert len(words) == len(set(words)) == 8 and "on the ground" in words
    overlaps = sheet.evaluate(
        """() => { const b = [...document.querySelectorAll('.names text')].map(t => [t.textContent,
        t.getBoundingClientRect()]); const wrong = [];
        b.forEach(([n, r], i) => { if (r.right > innerWidth || r.left < 0) wrong.push(n);
          b.slice(i + 1).forEach(([m, q]) => { if (r.left < q.right && q.left < r.right
            && r.top + 1 < q.bottom && q.top + 1 < r.bottom) wrong.push([n, m]); }); });
        return wrong; }"""
    )
    assert overlaps == []


def test_the_inks_follow_the_light(sheet: Any) -> None:
    pale = (  # points paler than any ink on paper; the lines of a blueprint are
        "(() => { const c = document.querySelector('.chart canvas'), o = document"
        ".createElement('canvas'); o.width = c.width; o.height = c.height;"
        " const x = o.getContext('2d', { willReadFrequently: true }); x.drawImage(c, 0, 0);"
        " const d = x.getImageData(0, 0, o.width, o.height).data; let n = 0;"
        " for (let i = 0; i < d.length; i += 4) if (d[i + 3] > 120 && d[i] > 222) n += 1;"
        " return n; })()"
    )
    assert sheet.evaluate(pale) == 0
    sheet.evaluate("() => { document.documentElement.dataset.mode = 'dark'; }")
    sheet.wait_for_function(f"() => {pale} > 5", timeout=10_000)


def test_the_curves_stand_in_a_table_too(sheet: Any) -> None:
    sheet.locator("#times_box summary").click()
    rows = sheet.locator(".times tbody tr")
    assert rows.count() > 15
    first = rows.first.inner_text()
    assert re.search(r"1\.00\ss", first) and " to " in first


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_a_draw_put_away_while_the_map_is_flown_is_not_marked(
    serve: Callable[..., Any], look: Callable[..., Any], map_goes_on: threading.Event
) -> None:
    page = look(serve(), "/flight?plan=midday&number=17")
    page.wait_for_selector("#one_flight h2:has-text('Flight 17 of 500')")
    page.wait_for_selector("#flying [aria-valuenow='40']")  # the map has been asked for
    page.locator("#no_number").click()
    map_goes_on.set()
    page.wait_for_selector("#field .map", state="attached", timeout=60_000)
    page.wait_for_selector("#delays svg", state="attached", timeout=60_000)
    assert page.locator("#field .chosen").count() == 0
    assert page.locator("#one_flight").is_hidden()
