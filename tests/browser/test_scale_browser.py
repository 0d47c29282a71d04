"""The scale at the bench: one figure a screen on a phone, the picture lights what is ticked."""

from collections.abc import Callable
from typing import Any

import pytest

from goodflight.project import load


@pytest.mark.parametrize("size", ["phone"], indirect=True)
def test_a_weighing_is_typed_with_big_keys(serve: Callable[..., Any], look: Any) -> None:
    served = serve()
    page = look(served, "/scale")
    page.get_by_role("link", name="weigh something").click()
    assert page.locator("#step-what").is_visible() and not page.locator("#step-mass").is_visible()
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    cord = page.locator(".state.upright [data-part=cord]")
    assert "on" in cord.get_attribute("class").split()
    page.get_by_label("cord", exact=True).uncheck()
    assert "on" not in cord.get_attribute("class").split()
    page.locator("#step-what").get_by_role("link", name="next").click()
    for key in ("1", "3", "1", "9", "⌫", "1", " g", "±", "2", " g"):  # 1311 g: less 150 g of cord
        button = page.locator(f"#step-mass [data-key='{key}']")
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= 44  # a thumb's width, WCAG 2.5.5
        button.click()
    assert page.locator("#w-mass").input_value() == "1311 g ± 2 g"
    page.locator("#step-mass").get_by_role("button", name="enter").click()
    page.wait_for_selector("text=without cord")
    last = load(served.folder).weighings.weighing[-1]
    assert (last.what, last.without) == (["all"], ["cord"])
    assert last.mass is not None and last.mass.text == "1311 g ± 2 g"


@pytest.mark.parametrize("size", ["desktop"], indirect=True)
def test_a_touch_on_the_picture_ticks_the_part(shown: Any, look: Any) -> None:
    page = look(shown, "/scale")
    box = page.get_by_label("nose ballast", exact=True)
    assert box.is_checked()
    page.locator(".state.lying [data-part='nose ballast']").click()
    assert not box.is_checked()
    page.get_by_label("only what is ticked").check()
    assert page.locator(".state.lying .part.on").count() == 0
