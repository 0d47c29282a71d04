"""The files to send and to carry, opened from the disk without a network or a server."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from browser.conftest import expect
from goodflight.page.card_file import card_html
from goodflight.page.sent_file import send
from goodflight.project import Project
from goodflight.studies.field.card import card

DAY = "2026-03-01"
TARGET = 48  # pixels of a gloved thumb


@pytest.fixture(scope="module")
def files(demo: Project, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place: Path = tmp_path_factory.mktemp("alone")
    field = card(demo, winds=(1.0, 3.0), tilts=(), flights=20)
    (place / "card.html").write_text(card_html(demo, field, day=DAY), "utf-8")
    sent = send(demo, flights=60, day=DAY, remedies=False)
    (place / "sent.html").write_text(sent, "utf-8")
    for each in place.iterdir():
        assert each.stat().st_size < 1_000_000
    return place


@pytest.fixture(scope="module")
def phone(browser: Any) -> Iterator[Any]:
    """A page on a phone in airplane mode that fails its test on any error or request."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, offline=True
    )
    page, wrong = context.new_page(), []
    page.on("console", lambda m: wrong.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on(
        "request",
        lambda r: None if r.url.startswith(("file:", "data:")) else wrong.append(r.url),
    )
    yield page
    assert not wrong
    context.close()


def test_the_card_is_chosen_from_and_ticked_with_a_thumb(phone: Any, files: Path) -> None:
    phone.goto((files / "card.html").as_uri())
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    wind = phone.locator("#wind")
    expect(wind).to_have_text("1 m/s")
    phone.tap("#more")
    expect(wind).to_have_text("3 m/s")
    expect(phone.locator("#said")).to_contain_text("Anything fails:")
    if phone.locator("#plan").is_visible():
        phone.tap("#plan")
    expect(phone.locator("#said .do").first).to_have_text(re.compile("^H-b: take 2\u00a0s out"))
    phone.tap("#l-pad summary")
    first = phone.locator("#l-pad .tick").first
    first.tap()
    expect(first).to_have_attribute("aria-pressed", "true")
    phone.tap("#mode")
    expect(phone.locator("html")).to_have_attribute("data-mode", "sun")
    phone.reload()
    expect(phone.locator("html")).to_have_attribute("data-mode", "sun")
    expect(wind).to_have_text("3 m/s")
    expect(phone.locator("#l-pad .count")).to_have_text(re.compile("^1 of "))
    expect(first).to_have_attribute("aria-pressed", "true")
    phone.locator("details").evaluate_all("all => all.forEach((each) => each.open = true)")
    sizes = phone.locator("button:visible, summary:visible").evaluate_all(
        "all => all.map((each) => each.getBoundingClientRect())"
        ".map((box) => Math.min(box.width, box.height))"
    )
    assert len(sizes) > 60 and min(sizes) >= TARGET
    phone.tap("#clear")
    assert first.get_attribute("aria-pressed") == "true"  # asked once more first
    phone.tap("#clear")
    expect(first).to_have_attribute("aria-pressed", "false")
    expect(phone.locator("#kept")).to_be_hidden()


def test_the_card_says_when_it_keeps_nothing(browser: Any, files: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, offline=True)
    page = context.new_page()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('denied'); }})"
    )
    page.goto((files / "card.html").as_uri())
    assert "keeps nothing" in page.locator("#kept").text_content()
    page.click("#l-pad summary")
    page.click("#l-pad .tick >> nth=0")
    expect(page.locator("#l-pad .count")).to_have_text(re.compile("^1 of "))
    context.close()


def test_the_sent_answer_is_read_without_a_script(phone: Any, files: Path) -> None:
    phone.goto((files / "sent.html").as_uri())
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    assert phone.locator("script, form, button, input").count() == 0
    phone.locator(".canfail a").first.tap()
    phone.wait_for_function("location.hash")
    target = phone.evaluate("location.hash")
    assert phone.locator(f"article{target}").is_visible()
    phone.tap(f"article{target} details.why summary")
    expect(phone.locator(f"article{target} .formula").first).to_be_visible()
    assert phone.evaluate("document.fonts.check('16px \"Source Sans 3\"')")
