"""What-if under the hand: dragged, opened meanwhile, stopped, let rest."""

from collections.abc import Callable
from typing import Any

import pytest

AT_REST = "body:not(.busy)"
DRAG = """async (to) => {
  const input = document.getElementById("try-wind");
  // on a busy machine the hand goes on until four answers are in
  for (let i = 0; i < 60 || (i % 60 || goodflight.moves.length < 4) && i < 3000; i++) {
    input.value = String(Math.round(to * (i % 60 + 1) / 60));
    input.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((done) => setTimeout(done, 30));
  }
}"""


def morning(serve: Callable[..., Any], look: Any, own: bool = False) -> Any:
    page = look(serve(own=own), "/ledger?plan=morning")
    page.wait_for_selector(AT_REST, timeout=60_000)
    details = page.locator("details.what-if")
    if details.get_attribute("open") is None:
        details.locator("summary").first.click()
    return page


def row_ids(page: Any) -> list[str]:
    found: list[str] = page.evaluate("() => [...document.querySelectorAll('.row')].map(r => r.id)")
    return found


def test_a_drag_is_followed_and_every_row_stays_once(serve: Callable[..., Any], look: Any) -> None:
    page = morning(serve, look)
    before = row_ids(page)
    total = page.locator("#total .spoken").inner_text()
    page.evaluate(DRAG, 34)
    page.wait_for_function("() => goodflight.moves.length > 3")
    page.wait_for_selector("#total .old")
    moved = row_ids(page)
    assert len(set(moved)) == len(moved)  # no row twice while some stand in closed folds
    page.wait_for_selector(".columns[data-full=yes]", timeout=90_000)
    page.wait_for_selector(AT_REST, timeout=90_000)
    assert sorted(row_ids(page)) == sorted(before)
    assert page.locator("#total .spoken").inner_text() != total
    assert page.locator(".row .strip").count() == len(before)
    shown = page.evaluate("() => document.querySelector('.columns').dataset.full")
    assert shown == "yes"


def test_a_fold_opened_while_something_is_tried_is_filled(
    serve: Callable[..., Any], look: Any
) -> None:
    page = morning(serve, look)
    page.evaluate(
        """() => { window.goodflight.moves.length = 0;
        const input = document.getElementById("try-wind");
        input.value = input.max; input.dispatchEvent(new Event("input", { bubbles: true })); }"""
    )
    page.wait_for_function("() => goodflight.moves.length > 0")
    fold = page.locator("details.stand:not([open])").first
    fold.locator("summary").click()
    page.wait_for_function("() => goodflight.moves.length > 1")
    links = page.locator("details.stand[open] .row .whylink")
    links.first.wait_for(state="attached")
    for href in links.evaluate_all("all => all.map(a => a.getAttribute('href'))"):
        assert "wind=10" in href  # rows of what is tried, not those of the plan


def test_a_question_that_arrives_late_does_not_leave_the_page_with_few_flights(
    serve: Callable[..., Any], look: Any
) -> None:
    page = morning(serve, look)
    page.evaluate(
        """() => { const sent = window.fetch;  // a slow machine: all are asked for meanwhile
        window.late = 0;
        window.fetch = async (to, how) => {
          if (!String(to).startsWith("/moved")) return sent(to, how);
          await new Promise((done) => setTimeout(done, 900));
          window.late += 1;
          return sent(to, how);
        };
        const input = document.getElementById("try-wind");
        for (const to of [1, 2]) {
          input.value = String(to);
          input.dispatchEvent(new Event("input", { bubbles: true }));
        } }"""
    )
    page.wait_for_function("() => window.late > 0")
    page.wait_for_selector(".columns[data-full=yes]", timeout=60_000)


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_flying_all_draws_can_be_stopped_and_asked_for_again(
    serve: Callable[..., Any], look: Any
) -> None:
    page = morning(serve, look, own=True)
    page.evaluate(
        """() => { const input = document.getElementById("try-wind");
        input.value = input.max; input.dispatchEvent(new Event("input", { bubbles: true }));
        new MutationObserver(() => document.querySelector("#working button.stop")?.click())
          .observe(document.getElementById("working"), { childList: true, subtree: true }); }"""
    )
    again = page.get_by_role("button", name="simulate all of them")
    again.wait_for(timeout=20_000)
    assert "so far" in page.locator("#total .flights").inner_text()
    assert page.locator("[role=progressbar]").count() == 0
