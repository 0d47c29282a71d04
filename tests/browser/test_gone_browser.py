"""A server that goes away: the page says so, keeps what was typed, and goes on by itself."""

import socket
from collections.abc import Callable
from typing import Any

import pytest

from browser.conftest import Inside, windows


def free_port() -> int:
    """One that no other test's server takes meanwhile: those look upwards from the usual one."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return int(door.getsockname()[1])


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_a_page_says_that_the_server_is_gone_and_that_it_is_back(
    serve: Callable[..., Any], look: Any
) -> None:
    port = free_port()
    served = serve(settles=False, port=port)
    page = look(served, "/drawing?part=nose", refusals=True)
    page.wait_for_selector("#gone", state="attached")
    page.wait_for_timeout(1500)
    assert not page.locator("#gone").is_visible()
    mass = page.locator("input[name=mass]").first
    mass.fill("151 g measured")

    served.cut()
    start = page.evaluate("performance.now()")
    page.wait_for_selector("#gone", timeout=20_000)
    print(f"\nthe bar stood {page.evaluate('performance.now()') - start:.0f} ms after")
    bar = page.locator("#gone")
    assert f"--port {port}" in bar.inner_text() and "goodflight serve" in bar.inner_text()
    for _ in windows(page):
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        box, height = bar.bounding_box(), page.viewport_size["height"]
        assert box and 0 <= box["y"] <= height - box["height"]  # it stays in sight

    again = Inside(served.folder, settles=False, port=port)
    page.wait_for_selector("#again", timeout=60_000)
    assert not bar.is_visible()
    assert mass.input_value() == "151 g measured"
    again.stop()


SLOW = """window.EventSource = class {
  readyState = 0;
  addEventListener(name, act) { if (name === "watching") setTimeout(act, 2500); }
  close() {}
};
addEventListener("DOMContentLoaded", () => {
  const shown = window.shown = [];
  const note = (all) => {
    for (const one of all) if (!one.target.hidden) shown.push(one.target.id);
  };
  new MutationObserver(note)
    .observe(document.body, { subtree: true, attributes: true, attributeFilter: ["hidden"] });
});"""


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_a_first_word_that_comes_late_says_neither(serve: Callable[..., Any], look: Any) -> None:
    """As on a busy machine: the stream opens two seconds and a half after the page."""
    page = look(serve(settles=False), "/drawing")
    page.add_init_script(SLOW)
    page.reload()
    page.wait_for_timeout(3500)
    assert not {"gone", "again"} & set(page.evaluate("window.shown"))
