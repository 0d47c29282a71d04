"""The calendar page: figures that the plan waits for are entered where they are asked for."""

import html
import re
from pathlib import Path

from goodflight import load
from goodflight.project.answering import answer, in_build
from page_client import Page

EVENING, WEEKEND = "person[builder].evening", "person[builder].weekend"


def test_what_the_plan_waits_for_is_entered_on_the_page(folder: Path) -> None:
    (folder / "build.toml").write_text("", encoding="utf-8")
    page = Page(folder)
    sheet = page.get("/calendar?start=2026-09-01")
    action = "/calendar/answer"
    form = sheet.form(action)
    assert {EVENING, WEEKEND} <= set(form)
    to = html.unescape(re.findall(rf'action="({action}[^"]*)"', sheet.raw)[0])
    wrong = page.post(to, form | {EVENING: "two", WEEKEND: "4 h"})
    assert wrong.status == 422 and 'found "two"' in wrong.text and 'value="4 h"' in wrong.raw
    assert "nothing was entered" in page.post(to, form).text
    done = page.post(to, form | {EVENING: "2 h", WEEKEND: "4 h"})
    assert done.status == 200 and EVENING not in done.text
    (who,) = load(folder).build.person
    assert who.name == "builder" and who.evening is not None and who.evening.value == 7200.0


def test_tables_that_are_there_are_changed_and_others_are_new(folder: Path) -> None:
    (folder / "build.toml").write_text('[[person]]\nname = "Ida"\n', encoding="utf-8")
    typed = {
        "person[Ida].evening": "2 h", "person[Bo].evening": "1 h", "person[Cy].weekend": "3 h",
        "person[Bo].weekend": "5 h",
    }  # fmt: skip
    found = answer(load(folder), in_build(load(folder), typed)).build.person
    hours = {each.name: (each.evening, each.weekend) for each in found}
    assert {n: tuple(h and h.value / 3600 for h in both) for n, both in hours.items()} == {
        "Ida": (2.0, None), "Bo": (1.0, 5.0), "Cy": (None, 3.0),
    }  # fmt: skip


def test_launch_day_is_set_and_taken_out(folder: Path) -> None:
    page = Page(folder)
    form = page.get("/calendar?start=2026-09-01").form("/calendar/launch")
    done = page.post("/calendar/launch?start=2026-09-01", form | {"launch_day": "2026-11-28"})
    assert done.status == 200 and load(folder).build.launch_day == "2026-11-28"
    form = done.form("/calendar/launch")
    assert form["launch_day"] == "2026-11-28"
    wrong = page.post("/calendar/launch", form | {"launch_day": "soon"})
    assert wrong.status == 422 and "Nothing was written" in wrong.text
    page.post("/calendar/launch", form | {"launch_day": ""})
    assert load(folder).build.launch_day == ""
