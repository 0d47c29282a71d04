"""The bench page: steps in their order, ticked in their turn."""

from pathlib import Path

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.bench.steps import assembly_order
from page_client import Page, Sheet


def ticked(page: Page, key: str, **more: str) -> Sheet:
    """The answer to the tick of a step, sent from the page as it is now."""
    drawn = page.get("/bench").form("/bench/tick")["hash"]
    return page.post("/bench/tick", {"hash": drawn, "key": key, **more})


def test_a_step_is_ticked_in_its_turn_and_one_too_early_is_asked_about(tmp_path: Path) -> None:
    folder = tmp_path / "heron"
    write_demo(folder)
    (folder / "build.toml").write_text("", encoding="utf-8")
    page = Page(folder)
    assert "No return: after this you can no longer reach" in page.get("/bench").text
    early = ticked(page, "mount-in")
    assert early.status == 422
    assert "Its turn has not come" in early.text
    assert "(ring-forward ring), which is not done" in early.text
    assert (folder / "build.toml").read_text(encoding="utf-8") == ""
    ticked(page, "cut-flat")
    ticked(page, "mount-in", anyway="yes")
    done = assembly_order(load(folder)).done
    assert done["cut-flat"].done
    assert done["mount-in"].done
    ticked(page, "cut-flat", done="no")
    assert not assembly_order(load(folder)).done["cut-flat"].done
    assert "has closed the way to it" in page.get("/bench").text


def test_steps_that_are_done_are_folded_and_the_sheets_can_be_printed_here(tmp_path: Path) -> None:
    write_demo(tmp_path / "heron")
    page = Page(tmp_path / "heron")
    text = page.get("/bench").text
    assert text.count('<summary><span class="soft">done:') == text.count(
        'class=" ticked"'
    ) + text.count('class="shuts ticked"')
    assert all(f"/paper/{what}.pdf" in text for what in ("templates", "guides", "packing", "book"))
