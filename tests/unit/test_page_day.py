"""Own limits and the forecast entered on the field page, without a browser."""

import shutil
from pathlib import Path

import pytest

from goodflight import load
from goodflight.project import SaveRefused
from goodflight.project.day_forms import change_hour, change_limits, hours_written, remove_hour
from page_client import Page, Sheet

HOUR = {"time": "9:30", "wind": "3 m/s", "wind_from": "270 deg", "temperature": "9 degC"}
LIMITS = {"wind": "5 m/s", "chance": "0.25", "signed_by": "the mentor", "signed_on": "2026-10-09"}


@pytest.fixture
def folder(demo_folder: Path, tmp_path: Path) -> Path:
    """The demo as it is before anybody thought of the day."""
    folder = tmp_path / "day"
    shutil.copytree(demo_folder, folder)
    (folder / "day.toml").unlink()
    return folder


def sent(page: Page, action: str, texts: dict[str, str], sheet: Sheet) -> Sheet:
    return page.post(action, sheet.form(action) | texts, follow=False)


def test_limits_and_hours_are_entered_on_the_page_and_refused_at_their_field(folder: Path) -> None:
    page = Page(folder)
    before = page.get("/field?plan=morning")
    assert '<a href="#own-limits">' in before.raw and "day.toml" not in before.text
    assert sent(page, "/field/limits", LIMITS, before).status == 303
    assert load(folder).day.limits is not None
    refused = sent(
        page, "/field/hour", HOUR | {"number": "0", "wind": "3"}, page.get("/field?plan=morning")
    )
    assert refused.status == 422 and "add the unit" in refused.text
    assert 'value="9:30"' in refused.raw and not load(folder).day.hour
    assert sent(page, "/field/hour", {"wind": "3 m/s"}, refused).status == 303
    assert [each.time for each in load(folder).day.hour] == ["09:30"]
    after = page.get("/field?plan=morning")
    assert "the mentor, 2026-10-09" in after.text and "1 hour entered" in after.text
    taken = page.post("/field/hour/remove", after.form("/field/hour"), follow=False)
    assert taken.status == 303
    assert not load(folder).day.hour


def test_the_file_keeps_its_order_and_remarks(demo_folder: Path, tmp_path: Path) -> None:
    folder = tmp_path / "kept"
    shutil.copytree(demo_folder, folder)
    project = load(folder)
    rows = project.texts["day.toml"].splitlines()
    project = change_limits(project, {"wind": "6 m/s"})
    assert [b for a, b in zip(rows, project.texts["day.toml"].splitlines()) if a != b] == [
        'wind = "6 m/s"               # mean at 2 m'
    ]
    count = len(hours_written(project))
    project = change_hour(project, count, HOUR)
    assert hours_written(project)[-1] == HOUR
    assert remove_hour(project, count).texts["day.toml"].splitlines()[6:] == rows[6:]


def test_limits_all_emptied_are_none_and_an_hour_that_is_gone_is_refused(folder: Path) -> None:
    project = change_limits(load(folder), LIMITS)
    assert change_limits(project, dict.fromkeys(LIMITS, "")).day.limits is None
    for act in (lambda: change_hour(project, 3, HOUR), lambda: remove_hour(project, 0)):
        with pytest.raises(SaveRefused, match="the forecast has 0 hours"):
            act()
