"""Entries that are refused: each fault stands at its field, in the words of a form."""

import html
import re
from pathlib import Path

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from goodflight.page.app import make_app

HERE = "http://127.0.0.1:8311"


@pytest.fixture
def page(folder: Path) -> TestClient:
    return TestClient(make_app(folder, 8311), base_url=HERE, headers={"origin": HERE})


def drawn(page: TestClient) -> str:
    """The state of the files that the sheet was drawn from."""
    found = re.search(r'name="hash" value="(\w+)"', page.get("/drawing").text)
    assert found
    return found[1]


def refused(answer: Response) -> tuple[set[str], str]:
    """Ids of the fields marked as wrong, and the sheet as it reads."""
    assert answer.status_code == 422
    fields = re.findall(r'<(?:input|select) id="([\w-]+)"[^>]*aria-invalid="true"', answer.text)
    return set(fields), html.unescape(answer.text)


def test_a_part_without_a_name_is_refused_at_its_fields(page: TestClient) -> None:
    """It has no name to be known by yet: its faults stand at its fields all the same."""
    form = {"hash": drawn(page), "kind": "bulkhead", "mass": "heavy"}
    fields, text = refused(page.post("/part", data=form))
    assert fields == {"f-name", "f-station", "f-thickness", "f-diameter", "f-mass"}
    assert "5 entries need correcting" in text
    assert "other entries would no longer fit" not in text
    assert 'found "heavy"; expected a mass like' in text


def test_a_form_does_not_speak_of_lines_to_add(page: TestClient) -> None:
    form = {"hash": drawn(page), "kind": "bulkhead", "name": "wall"}
    _, text = refused(page.post("/part", data=form))
    assert "dd the line" not in text and "found nothing" not in text
    assert "expected a length like 12.5 mm or 1 1/2 in" in text


def test_a_second_nose_is_refused_and_no_fault_of_the_program(
    page: TestClient, folder: Path
) -> None:
    before = (folder / "rocket.toml").read_bytes()
    form = {
        "hash": drawn(page), "kind": "nose", "name": "n2", "length": "100 mm",
        "diameter": "66 mm", "wall": "2 mm", "mass": "20 g",
    }  # fmt: skip
    _, text = refused(page.post("/part", data=form))
    assert "a second nose" in text
    assert (folder / "rocket.toml").read_bytes() == before


def test_a_motor_lacking_figures_is_refused_at_its_fields(page: TestClient) -> None:
    form = {
        "hash": drawn(page), "table": "0,0\n0.1,100\n2,0", "act": "write",
        "name": "own", "diameter": "38",
    }  # fmt: skip
    fields, text = refused(page.post("/motor", data=form))
    assert fields == {"m-diameter", "m-length", "m-propellant", "m-loaded"}
    assert "4 entries need correcting" in text
    assert 'found "38"' in text and "dd the line" not in text


def test_the_first_part_moves_no_further_forward_nor_the_last_back(page: TestClient) -> None:
    sheet = page.get("/drawing").text
    ways = re.findall(r'name="way" value="(\w+)"[^>]*?( disabled)?>', sheet)
    assert [way for way, off in ways if off] == ["up", "down"]
    assert ways[0] == ("up", " disabled") and ways[-1] == ("down", " disabled")
