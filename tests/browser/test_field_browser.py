"""The field page as somebody at the pad uses it: the answer first, figures typed, nothing cut."""

from collections.abc import Callable
from typing import Any

NOON = (
    "/field?plan=midday&hour=12:30&wind=3.5+m/s&gust=5.6+m/s&wind_from=230+deg&cloud_base=950+m"
    "&confirmed=visibility"
)


def test_the_answer_is_seen_first_and_nothing_is_cut(shown: Any, look: Callable[..., Any]) -> None:
    page = look(shown, NOON)
    big = page.locator(".big")
    box, height = big.bounding_box(), page.viewport_size["height"]
    assert box["y"] + box["height"] < height / 2
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    drawn = page.locator(".verdict").evaluate(
        """e => ['go', 'change', 'wait', 'no_go'].map(v => { e.className = 'verdict ' + v;
        const drawn = getComputedStyle(e); return drawn.textDecorationLine + drawn.padding; })"""
    )
    assert len(set(drawn)) == 1 and drawn[0].startswith("none")  # whatever the answer
    for field in page.locator("#measured input:visible, #measured select:visible").all():
        if field.get_attribute("type") != "checkbox":
            assert field.bounding_box()["height"] >= 43.0  # a gloved finger
    pressed = page.locator(".at-field :is(.link, .go, summary):visible").all()
    assert len(pressed) > 3
    for each in pressed:
        assert each.bounding_box()["height"] >= 43.0, each.inner_text()


def test_a_typed_wind_is_answered_in_place(shown: Any, look: Callable[..., Any]) -> None:
    page = look(shown, NOON, refusals=True)
    page.fill("#e-wind", "6 m/s")
    page.locator("#e-wind").press("Tab")
    page.wait_for_function("() => location.search.includes('wind=6+m')", timeout=90_000)
    told = page.locator(".checks").first.inner_text()
    assert "Mean wind" in told and "5\u00a0m/s" in told  # no line ends between figure and unit
    assert page.locator("#e-wind").input_value() == "6 m/s"
    page.fill("#e-wind", "fast")
    page.locator("#e-wind").press("Tab")
    page.wait_for_function("() => location.search.includes('fast')", timeout=90_000)
    assert "Not answered" in page.locator(".verdict").inner_text()
