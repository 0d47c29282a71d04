"""A new 4-inch rocket told in the browser alone: no file is opened. It is told on a desk; what is
met on the way is looked at on a phone, too.

Every figure of it is invented. An entry is a box that is typed into; what is chosen or left as it
stands is none. What is known already (code, field, tests of strength) is counted apart.
"""

from collections.abc import Callable, Iterable
from typing import Any

import pytest

from browser.conftest import windows
from sample_case import MOTOR_TOLD

ROCKET = {
    "name": "Wren", "diameter": "4.02 in", "inner_diameter": "3.9 in", "nose_length": "400 mm",
    "body_length": "1200 mm", "separation": "700 mm", "fin_root": "180 mm", "fin_tip": "80 mm",
    "fin_span": "100 mm", "fin_sweep": "80 mm", "mass": "2.05 kg ± 10 g measured",
    "balance": "930 mm", "canopy": "1.2 m across flats", "guide_fore": "1100 mm",
    "guide_aft": "1560 mm",
}  # fmt: skip
KNOWN = {
    "ceiling": "800 m",
    "people": "600 m", "spectators": "90 m", "airport": "9 km", "cloud_base": "900 m",
    "rules": "night, visibility, notice, airspace, permission, responsible, fire, airport",
    "cloud_cover": "0.4", "motor_charge": "1 g", "motor_lifts": "4 kg", "pull": "60 N measured",
    "anchors": "1500 N", "bulkhead": "1500 N", "nose_joint": "700 N", "retention_holds": "600 N",
    "nose_mass": "250 g",
    "shield": "wadding", "line_strength": "450 N", "cord_width": "14 mm",
    "guide_strength": "300 N", "battery": "none", "pad_wait": "30 min", "fin_limit": "1 deg",
}  # fmt: skip
CHOSEN = {
    "code": "us", "avoid": "true", "retention": "cap", "paint": "false", "fin_edges": "rounded",
    "rail_kind": "1 in, slot 1/4 in", "guide_kind": "1 in, slot 1/4 in",
}  # fmt: skip
BOXES = {  # what is typed or chosen in a row, by the end of its box's name
    "glue[+].cure": "24 h", "glue[+].working_time": "40 min", "joint[+].work": "20 min",
    "stay[+].temperature": "18 degC", "stay[+].time": "7 d", "check[+].state": "tight",
    "[cord].canopy_at": "1.5 m",
}  # fmt: skip
TICKED = {
    "joint[+].parts": ("fins", "motor tube", "forward ring", "middle ring", "rear ring"),
    "step[+].fits": ("cord",), "step[+2].closes": ("cord",),
}  # fmt: skip


def unknown(page: Any) -> list[str]:
    ids = page.locator(".row.unknown").evaluate_all("rows => rows.map(row => row.id)")
    return [each.removeprefix("row-") for each in ids]


def answer(page: Any, row: str) -> None:
    """Fill the boxes of one row and send them."""
    page.evaluate(
        """row => { let e = document.getElementById('asks-' + row);
           for (; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true; }""",
        row,
    )
    form = page.locator(f"#asks-{row}")
    for end, names in TICKED.items():
        for name in names:
            for box in form.locator(f'input[name$="{end}"][value="{name}"]').all():
                box.check()
    for end, text in BOXES.items():
        for box in form.locator(f'input[name$="{end}"]').all():
            box.fill(text)
        for box in form.locator(f'select[name$="{end}"]').all():
            box.select_option(text)
    save = form.get_by_role("button", name="save")
    for _ in windows(page):
        save.click(trial=True)
    save.click()
    page.wait_for_selector(f"#row-{row}:not(.unknown)", state="attached")
    page.wait_for_load_state()  # the rows below it too


def draw_field(page: Any) -> None:
    """Three corners by pointer, the fourth by keys; the last is moved by dragging."""
    page.locator('[data-draw="q-edges"]').click()
    board = page.locator(".board")
    board.scroll_into_view_if_needed()
    at = board.bounding_box()
    for x, y in ((0.1, 0.9), (0.9, 0.9), (0.9, 0.1)):
        page.mouse.click(at["x"] + x * at["width"], at["y"] + y * at["height"])
    for key in (*["Shift+ArrowLeft"] * 16, "Enter"):
        board.press(key)
    assert page.locator(".board .corner").count() == 4
    page.mouse.move(at["x"] + 0.1 * at["width"], at["y"] + 0.1 * at["height"])
    page.mouse.down()
    page.mouse.move(at["x"] + 0.2 * at["width"], at["y"] + 0.1 * at["height"])
    page.mouse.up()
    corners = page.locator("#q-edges").input_value()
    assert corners == "-400 -400; 400 -400; 400 400; -300 400"


def told(page: Any, keys: Iterable[str]) -> None:
    """Send the answers, each box of which stands free in every window."""
    send = page.get_by_role("button", name="show what can fail")
    for _ in windows(page):
        for key in keys:
            page.locator(f"#q-{key}").click(trial=True)
        send.click(trial=True)
    send.click()


def test_what_is_left_as_offered_goes_with_what_is_typed(
    serve: Callable[..., Any], look: Callable[..., Any]
) -> None:
    page = look(serve(demo=False), "/start?rocket=building")
    page.locator("#q-fin_root").fill("180 mm")
    page.locator("#q-fin_root").press("Tab")
    page.wait_for_function("() => document.getElementById('q-fin_span').value === '95 mm'")
    page.locator("#q-diameter").fill("4 in")
    page.locator("#q-diameter").press("Tab")
    page.wait_for_function("() => document.getElementById('q-inner_diameter').value === '3.85 in'")
    assert page.locator("#q-cord_length").input_value() == "21 ft"
    assert page.locator("#q-fin_root").input_value() == "180 mm"
    assert page.locator("#q-fin_span").input_value() == "3.75 in"  # 80 x 180 / 150 = 96 mm


@pytest.mark.parametrize("size", ["phone"], indirect=True)
def test_the_field_is_drawn_with_a_thumb_too(serve: Callable[..., Any], look: Any) -> None:
    page = look(serve(demo=False), "/start")
    page.locator("details.known > summary").first.click()
    draw_field(page)
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_a_rocket_of_four_inches_is_told_and_answered_on_the_page(
    serve: Callable[..., Any], look: Any
) -> None:
    served = serve(demo=False, settles=False)
    page = look(served, refusals=True)
    typed = ROCKET | MOTOR_TOLD
    assert len(typed) <= 25
    for key, text in typed.items():
        page.locator(f"#q-{key}").fill("2,05 kg" if key == "mass" else text)
    told(page, typed)
    page.wait_for_selector(".wrong")
    wrong = page.locator(".wrong .hint")
    assert wrong.count() == 1 and "write 2.05" in wrong.inner_text()
    assert not (served.folder / "rocket.toml").exists()
    page.locator("#q-mass").fill(ROCKET["mass"])
    page.locator("details.known > summary").first.click()
    draw_field(page)
    for key, text in KNOWN.items():
        page.locator(f"#q-{key}").fill(text)
    for key, text in CHOSEN.items():
        page.locator(f"#q-{key}").select_option(text)
    told(page, [*typed, *KNOWN, *CHOSEN])
    page.wait_for_selector(".row", state="attached")
    page.wait_for_load_state()
    assert page.locator("h1").inner_text() == "Wren"
    left = unknown(page)
    print(f"\n{len(typed)} entries, {len(KNOWN) + len(CHOSEN)} known already, left: {left}")
    assert 0 < len(left) <= 10
    while (now := unknown(page)) and len(now) <= len(left):
        left = now
        own = [row for row in now if page.locator(f"#asks-{row}").count()]
        answer(page, own[0])
    assert unknown(page) == []
