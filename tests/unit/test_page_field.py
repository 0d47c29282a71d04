"""The field page without a browser: the answer first, typed figures answered, faults at entries."""

import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight.outputs.field_map.allowed_words import allowed_words
from goodflight.page.app import make_app
from goodflight.project import Project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.field.allowed import allowed_of
from goodflight.studies.field.conditions import Conditions, under

HERE = "http://127.0.0.1:8311"
NOON = (
    "plan=midday&hour=12:30&wind=3.5+m/s&gust=5.6+m/s&wind_from=230+deg&cloud_base=950+m"
    "&confirmed=visibility"
)


@pytest.fixture(scope="module")
def client(demo_folder: Path) -> Iterator[TestClient]:
    with TestClient(make_app(demo_folder, 8311), base_url=HERE) as found:
        yield found


@pytest.fixture(scope="module")
def noon(client: TestClient) -> str:
    """The page for half past twelve, everything measured."""
    answer = client.get(f"/field?{NOON}")
    assert answer.status_code == 200
    return answer.text


def test_the_answer_stands_before_the_form_and_says_what_to_change(noon: str) -> None:
    assert noon.index('class="big"') < noon.index('id="measured"')
    assert "fly H-a" in noon and "use the 3 m rail" in noon
    assert "Walk away above" in noon
    assert re.findall(r'<span class="num">(\d\d:\d\d)</span>', noon) == ["13:15", "14:00", "14:45"]


def test_what_was_typed_stays_in_the_form(noon: str) -> None:
    assert 'name="wind" value="3.5 m/s"' in noon
    assert "<option selected>12:30</option>" in noon
    assert re.search(r'value="visibility" checked', noon)


def test_the_map_shows_both_footprints_of_the_choice(noon: str) -> None:
    ground = noon[noon.index('id="ground"') :]
    assert 'class="ballistic"' in ground and 'class="landed"' in ground
    assert "If no parachute opens" in ground


def test_the_answer_alone_is_given_while_typing(client: TestClient, noon: str) -> None:
    alone = client.get(f"/field-answer?{NOON}").text
    assert "<form" not in alone and 'class="big"' in alone
    assert alone.strip()[:200] in noon.replace("\n\n", "\n") or "fly H-a" in alone


def heights(text: str) -> list[list[str]]:
    """Rows of the table of allowed apogees."""
    table = text[text.index("Apogee that the field allows") :]
    return [re.findall(r"<td>([^<]*)</td>", row) for row in table.split("<tr>")[2:]]


def test_the_allowed_apogee_answers_for_what_is_typed(
    client: TestClient, demo: Project, noon: str
) -> None:
    """Typed and not saved: the plan remade so has these rows, of the study itself."""
    planned = client.get("/field-allowed?plan=morning").text
    assert "as planned. A motor" in planned and "as typed here" not in planned
    typed = client.get("/field-allowed?plan=morning&motor=H-a&canopy=small&tilt=5+deg").text
    assert "as typed here, else as planned" in typed
    assert heights(typed) != heights(planned) and len(heights(typed)) == len(heights(planned))
    changes = Conditions(motor="H-a", canopy="small", tilt_rad=math.radians(5.0))
    found = allowed_of(under(case_of(demo, "morning"), changes))
    assert heights(typed) == [list(row[1:]) for row in allowed_words(found, "metric").rows]
    assert "as typed here" in noon  # on the page as a whole, too
    assert "Apogee that" not in client.get("/field-allowed?plan=morning&wind=4").text  # not read


def test_nothing_measured_is_not_yet_and_says_what_is_open(client: TestClient) -> None:
    page = client.get("/field?plan=morning").text
    assert ">Go<" not in page
    assert '<label for="e-wind" class="link">' in page  # leads to its entry
    assert "measure it at the pad: mean wind" in page


def test_every_fault_comes_back_at_its_entry(client: TestClient) -> None:
    answer = client.get("/field?plan=midday&wind=4&cloud_base=high&seen=60+deg,+tall")
    assert answer.status_code == 422 and "Not answered" in answer.text
    assert re.search(r'id="w-wind">[^<]*without a unit', answer.text) or "w-wind" in answer.text
    assert 'id="w-cloud_base"' in answer.text and "tall" in answer.text
    assert 'name="wind" value="4"' in answer.text
    lost = client.get("/field?plan=midday&hour=08:00")
    assert lost.status_code == 422 and "no hour 08:00" in lost.text


def test_others_flights_are_told(client: TestClient) -> None:
    page = client.get(f"/field?{NOON}&seen=60+deg,+350+m,+75+s,+400+m").text
    assert "1 flight seen" in page and "drifted at" in page
