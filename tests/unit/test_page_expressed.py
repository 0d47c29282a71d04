"""What a rocket may be is told on the page, or refused there with the reason."""

from pathlib import Path

import pytest

from goodflight import load
from page_client import Page, Sheet

NARROW = {
    "table": "0.05 120\n0.9 110\n1.5 0", "name": "X-a", "propellant": "90 g", "diameter": "29 mm",
    "length": "200 mm", "loaded": "180 g", "delay": "8 s", "act": "write",
}  # fmt: skip


@pytest.fixture
def page(folder: Path) -> Page:
    return Page(folder)


def plan(page: Page, **typed: str) -> Sheet:
    form = page.get("/drawing").form("/plan")
    form.pop("add_rail")  # a tick box that is not ticked sends nothing
    return page.post("/plan", form | typed)


def brought_in(page: Page, **typed: str) -> Sheet:
    drawn = page.get("/drawing").form("/motor")["hash"]
    return page.post("/motor", {"hash": drawn, **NARROW, **typed})


def test_a_rail_the_field_did_not_have_is_added_to_its_list(page: Page, folder: Path) -> None:
    refused = plan(page, rail="10 ft")
    assert refused.status == 422 and "a rail of the field: 2.40 m, 3.00 m" in refused.text
    before = page.text("sites/larkrise.toml")
    assert plan(page, rail="10 ft", add_rail="yes").status == 200
    after = page.text("sites/larkrise.toml")
    assert load(folder).site_files["larkrise"][0].rails[-1].text == "10 ft"
    assert after.replace(', "10 ft"]', "]") == before  # comments and all else stay


def test_a_narrower_motor_is_flown_in_an_adapter(page: Page, folder: Path) -> None:
    assert brought_in(page).status == 200
    refused = plan(page, motor="X-a", delay_out="0 s")
    assert refused.status == 422 and "it needs an adapter" in refused.text
    half = plan(page, motor="X-a", delay_out="0 s", **{"adapter.outer_diameter": "38 mm"})
    assert half.status == 422 and "adapter.mass" in half.text
    told = {"adapter.outer_diameter": "38 mm", "adapter.mass": "45 g measured"}
    assert plan(page, motor="X-a", delay_out="0 s", **told).status == 200
    motor = load(folder).motor_files["X-a"][0]
    assert motor.adapter is not None and motor.adapter.mass.value == pytest.approx(0.045)


def test_an_adapter_comes_with_a_motor(page: Page, folder: Path) -> None:
    wrong = brought_in(page, **{"adapter.outer_diameter": "wide", "adapter.mass": "45 g"})
    assert wrong.status == 422 and 'id="m-adapter.outer_diameter"' in wrong.text
    assert 'aria-describedby="h-m-adapter.outer_diameter"' in wrong.raw
    told = {"adapter.outer_diameter": "38 mm", "adapter.mass": "45 g"}
    assert brought_in(page, **told).status == 200
    assert plan(page, motor="X-a", delay_out="0 s").status == 200
    assert load(folder).motor_files["X-a"][0].adapter is not None


def test_what_is_not_computed_is_said_where_it_is_looked_for(page: Page) -> None:
    sheet = page.get("/drawing")
    for words in ("clusters, stages, boosters: one motor", "the bending of a rod"):
        assert words in sheet.text
    drawn = sheet.form("/plan")["hash"]
    for kind, reason in (("lug", "two lugs"), ("tube_fins", "flat ones")):
        refused = page.post("/part", {"hash": drawn, "kind": kind, "name": "x"})
        assert refused.status == 409 and reason in refused.text
