"""The search on the page: what is tapped and typed, the patch, the files to take along."""

from pathlib import Path

import pytest

from page_client import Page

ASKED = (
    "/find?plan=midday&look=yes&apogee=11.0&landing=104+s+%C2%B1+0.5+s&who1=pad&bearing1=50"
    "&kind1=true&who2=hut&place2=-60,+40&bearing2=900,+700&kind2=over&cover=short&people=2"
)


@pytest.fixture(scope="module")
def page(demo_folder: Path) -> Page:
    return Page(demo_folder)


def test_the_form_alone_asks_nothing_of_the_flights(page: Page) -> None:
    sheet = page.get("/find?plan=midday")
    assert sheet.status == 200
    assert "Where to look" not in sheet.text
    for each in ("lift-off now", "canopy open", "declination of the compass"):
        assert each in sheet.text


def test_what_was_seen_gives_a_patch_lanes_and_a_sheet(page: Page) -> None:
    sheet = page.get(ASKED)
    assert sheet.status == 200
    assert "9 in 10 of the flights that agree" in sheet.text
    assert sheet.text.count('class="map find') == 2
    assert "landing on 050 deg true from pad" in sheet.text
    assert "from hut" in sheet.text
    assert "2 walking" in sheet.text
    assert "Never take a rocket down from a power line" in sheet.text
    printed = page.client.get(ASKED.replace("/find?", "/find/sheet.pdf?"))
    assert printed.status_code == 200 and printed.content[:5] == b"%PDF-"
    assert page.get(ASKED.replace("/find?", "/find/lanes.gpx?")).status == 422
    lanes = page.client.get(ASKED.replace("/find?", "/find/lanes.gpx?") + "&pad=11.58,+52.13")
    assert lanes.status_code == 200 and "<gpx" in lanes.text


def test_what_cannot_be_read_is_told_and_kept(page: Page) -> None:
    sheet = page.get("/find?plan=midday&look=yes&apogee=soon&bearing1=50&kind1=compass&people=no")
    assert sheet.status == 422
    for each in ("apogee: found", "declination: found", "people: found", 'value="soon"'):
        assert each in sheet.text
    assert "Where to look" not in sheet.text
    for each in ("sheet.pdf", "lanes.gpx"):
        wrong = page.get(f"/find/{each}?look=yes&apogee=soon")
        assert wrong.status == 422 and "Correct what is entered first." in wrong.text
        empty = page.get(f"/find/{each}")
        assert empty.status == 422 and "Enter what was seen first." in empty.text
