"""Where a rocket separates, its charges and what holds, told on the drawing page."""

from pathlib import Path

from goodflight import load
from page_client import Page


def test_every_entry_beside_the_parts_is_on_the_form_and_only_what_differs_is_written(
    folder: Path,
) -> None:
    page, before = Page(folder), (folder / "rocket.toml").read_text("utf-8")
    form = page.get("/drawing?plan=morning&head=1").form("/rocket")
    assert form["separates_at"] == "460 mm" and form["retention.kind"] == "cap"
    for key in ("main_separation.at", "main_charge.powder", "hatch.holds", "surface.paint"):
        assert form[key] == ""
    page.post("/rocket?plan=morning", form)
    assert (folder / "rocket.toml").read_text("utf-8") == before
    form = page.get("/drawing?plan=morning&head=1").form("/rocket")
    typed = {"separates_at": "455 mm", "separation.pins": "2", "charge.pack_pull": "",
             "main_separation.at": "300 mm", "charge.wadding": "true"}  # fmt: skip
    assert page.post("/rocket?plan=morning", form | typed).status == 200
    head = load(folder).head
    assert head.separates_at is not None and head.separates_at.value == 0.455
    assert head.main_separation.at is not None and head.main_separation.at.value == 0.3
    assert head.separation.pins == 2 and head.charge.pack_pull is None and head.charge.wadding
    now = (folder / "rocket.toml").read_text("utf-8")
    assert len(set(before.splitlines()) - set(now.splitlines())) == 2  # comments stay


def test_a_fault_stands_at_its_entry_and_one_of_a_part_above(folder: Path) -> None:
    page = Page(folder)
    form = page.get("/drawing?plan=morning&head=1").form("/rocket")
    wrong = page.post("/rocket?plan=morning", form | {"separation.pull": "32", "hatch.width": "x"})
    assert wrong.status == 422 and "2 entries need correcting" in wrong.text
    assert 'value="32"' in wrong.raw and load(folder).head.separation.pull is not None
    odd = page.post("/rocket?plan=morning", form | {"part.mass": "1 g"})
    assert odd.status == 409
