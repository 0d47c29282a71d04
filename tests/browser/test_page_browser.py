"""The page as a flyer uses it: first project, what-if, parts, conflicts, faults, devices.

Times and weights are printed; only weight is asserted (budget of the page: 300 kB a sheet).
"""

import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from goodflight.page.server import own_address

AT_REST = "body:not(.busy)"


def open_what_if(page: Any) -> None:
    details = page.locator("details.what-if")
    if details.get_attribute("open") is None:
        details.locator("> summary").click()


def text_of(folder: Path, file: str) -> str:
    return (folder / file).read_text("utf-8")


def test_a_what_if_is_answered_kept_and_taken_back(
    serve: Callable[..., Any], look: Any, size: str
) -> None:
    served = serve()
    before = text_of(served.folder, "plans.toml")
    page = look(served, "/ledger?plan=midday")
    page.wait_for_selector(AT_REST, timeout=60_000)
    open_what_if(page)
    slider = page.locator("#try-wind")
    slider.focus()
    for _ in range(8):
        slider.press("ArrowRight")
    page.wait_for_selector("#total .old")
    assert "was 3.5 m/s" in page.locator("[data-key=wind]").inner_text().replace("\u00a0", " ")
    assert page.evaluate("() => document.activeElement.id") == "try-wind"
    page.wait_for_selector(".columns[data-full=yes]", timeout=90_000)
    page.wait_for_selector(AT_REST, timeout=90_000)
    moves = sorted(page.evaluate("() => window.goodflight.moves"))
    print(f"\n{size}: what-if answered in {moves[len(moves) // 2]:.0f} ms (middle of {len(moves)})")
    assert text_of(served.folder, "plans.toml") == before
    assert "wind=5.5" in page.url
    page.get_by_role("button", name="keep", exact=True).first.click()
    page.wait_for_selector("#undo:not([disabled])")
    assert 'wind = "5.5 m/s ± 0.47 m/s"' in text_of(served.folder, "plans.toml")
    page.locator("#undo").click()
    page.wait_for_selector("#redo:not([disabled])")
    assert text_of(served.folder, "plans.toml") == before


def test_a_row_opens_to_why(shown: Any, look: Any) -> None:
    page = look(shown, "/ledger?plan=breezy")
    page.wait_for_selector(AT_REST, timeout=60_000)
    link = page.locator("[data-why=too_early]")
    link.focus()
    link.press("Enter")
    page.wait_for_selector("#why-too_early .formula")
    assert link.get_attribute("aria-expanded") == "true"
    assert page.locator("#why-too_early .histogram").count() == 1
    assert page.locator("#why-too_early .remedies button").count() >= 1
    page.locator("#why-too_early .remedies a.try").first.click()
    page.wait_for_selector("#what_if_foot .writes")


def test_parts_are_edited_added_moved_and_undone(serve: Callable[..., Any], look: Any) -> None:
    served = serve(settles=False)
    before = text_of(served.folder, "rocket.toml")
    page = look(served, "/drawing", refusals=True)
    page.get_by_role("link", name="fins", exact=True).click()
    span = page.locator("#f-span")
    span.fill("80")
    page.get_by_role("button", name="save", exact=True).click()
    hint = page.locator("#h-span")
    page.wait_for_selector(".wrong")
    assert "add the unit" in hint.inner_text() and span.input_value() == "80"
    assert text_of(served.folder, "rocket.toml") == before
    span.fill("85 mm measured")
    page.get_by_role("button", name="save", exact=True).click()
    page.wait_for_selector("#undo:not([disabled])")
    after = text_of(served.folder, "rocket.toml")
    assert after == before.replace('span = "80 mm"', 'span = "85 mm measured"')
    page.locator("#undo").click()
    page.wait_for_selector("#redo:not([disabled])")
    assert text_of(served.folder, "rocket.toml") == before
    page.locator("#redo").click()
    page.wait_for_selector("#undo:not([disabled])")
    assert text_of(served.folder, "rocket.toml") == after
    page.locator("#add").select_option("added_mass")
    page.get_by_role("button", name="add", exact=True).click()
    page.locator("#f-name").fill("shot")
    page.locator("#f-station").fill("60 mm")
    page.locator("#f-mass").fill("25 g measured")
    page.locator(".partform button.keep").click()
    page.wait_for_selector("#undo[title='shot added']")
    page.get_by_role("button", name="move shot forward in the list").click()
    page.wait_for_selector("#undo[title='shot moved']")
    page.get_by_role("button", name="delete shot").click()
    page.wait_for_selector("#undo[title='shot deleted']")
    assert "shot" not in text_of(served.folder, "rocket.toml")


def test_a_motor_is_brought_in(serve: Callable[..., Any], look: Any) -> None:
    served = serve(settles=False)
    page = look(served, "/drawing", refusals=True)
    page.locator("#m-table").fill("time thrust\n0 0\n0,1 120\n1.5 0")
    page.get_by_role("button", name="preview").click()
    page.wait_for_selector(".motorbox .faults")
    assert "0.12 and not 0,12" in page.locator(".motorbox .faults").inner_text()
    page.locator("#m-table").fill("time\tthrust\n0.05\t120\n0.9\t110\n1.5\t0")
    page.get_by_role("button", name="preview").click()
    page.wait_for_selector(".told-table")
    for key, text in (("name", "T-x"), ("diameter", "38 mm"), ("length", "180 mm"),
                      ("propellant", "90 g"), ("loaded", "250 g"), ("delay", "9 s")):  # fmt: skip
        page.locator(f"#m-{key}").fill(text)
    page.get_by_role("button", name="add this motor").click()
    page.wait_for_selector("#p-motor option:has-text('T-x')", state="attached")
    assert text_of(served.folder, "motors/T-x.csv").startswith("time_s,thrust_n\n0,0\n0.05,120")


@pytest.mark.parametrize("path", ["/ledger?plan=breezy", "/drawing", "/flight?plan=breezy"])
def test_sheets_are_light_and_stand_in_the_window(
    serve: Callable[..., Any], look: Any, size: str, path: str
) -> None:
    served = serve()
    look(served, path).wait_for_selector(AT_REST)
    finished: list[Any] = []

    def note(request: Any) -> None:
        finished.append(request)

    page = look(served, path, finished=note)
    first = page.wait_for_function(
        "() => performance.getEntriesByName('first-contentful-paint')[0]?.startTime"
    ).json_value()
    if "/flight" in path:
        page.wait_for_selector("#curves[data-drawn]", timeout=60_000)
    page.wait_for_selector(AT_REST, timeout=60_000)
    still = [r for r in finished if not r.url.split("?")[0].endswith(("/settled", "/flown"))]
    sent = sum(r.sizes()["responseBodySize"] for r in still)
    unpacked = sum(len(r.response().body()) for r in still)
    said = f"{sent / 1000:.0f} kB sent, {unpacked / 1000:.0f} kB unpacked"
    print(f"\n{size} {path}: first view {first:.0f} ms, {said}")
    assert sent < 300_000
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    unnamed = page.evaluate(
        "() => [...document.querySelectorAll('input:not([type=hidden]),select,textarea,button')]"
        ".filter(e => !(e.labels && e.labels.length) && !e.textContent.trim()"
        " && !e.getAttribute('aria-label')).map(e => e.outerHTML)"
    )
    assert unnamed == []


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_another_device_shows_the_code_first(serve: Callable[..., Any], look: Any) -> None:
    address = own_address()
    if address.startswith("127."):
        pytest.skip("this machine has no address but loopback")
    served = serve("--lan", settles=False)
    assert "not encrypted" in served.said[0]
    port = served.url.rsplit(":", 1)[1]
    base = f"http://{address}:{port}"
    page = look(served, "/code", base, refusals=True)
    answer = page.goto(base + "/ledger")
    from_here = answer.status == 200  # this machine's own address may count as loopback
    assert from_here or answer.status == 401
    page.goto(base + "/code")
    page.get_by_label("Code").fill("00000000")
    page.get_by_role("button", name="enter").click()
    page.wait_for_selector(".wrong")
    code = served.wait_for(r"code for one more device: (\d{4} \d{4})")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="enter").click()
    page.wait_for_selector(".row", state="attached")


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_only_loopback_listens_without_lan(serve: Callable[..., Any], look: Any) -> None:
    address = own_address()
    served = serve(own=True, settles=False)
    look(served, "/ledger")
    if address.startswith("127."):
        pytest.skip("this machine has no address but loopback")
    with pytest.raises(OSError), socket.create_connection((address, int(served.url[-4:])), 2):
        pass


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_ctrl_c_ends_it_with_streams_open(serve: Callable[..., Any], look: Any) -> None:
    served = serve(own=True)
    page = look(served, "/ledger", refusals=True)
    page.wait_for_selector(".row", state="attached")
    assert served.stop()
    assert "Traceback" not in served.said[0]
