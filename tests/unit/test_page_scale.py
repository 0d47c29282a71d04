"""The scale page: weighings entered with ticks, refused where they contradict."""

import html
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight.page.app import make_app
from goodflight.project import load

HERE = "http://127.0.0.1:8311"


@pytest.fixture
def page(folder: Path) -> TestClient:
    return TestClient(make_app(folder, 8311), base_url=HERE, headers={"origin": HERE})


def form_of(text: str) -> dict[str, str]:
    found = re.search(r'name="hash" value="(\w+)"', text[text.index('action="/weigh') :])
    assert found
    ticked = re.findall(r'name="(on:[^"]+)" checked', text)
    return {"hash": found[1], "state": "all", **{html.unescape(n): "on" for n in ticked}}


def test_a_whole_without_a_part_is_entered(page: TestClient, folder: Path) -> None:
    text = page.get("/scale").text
    assert "whole rocket without motor" in text and "What the weighings changed" in text
    form = form_of(text)
    assert "on:large" in form and "on:small" not in form  # as the first plan flies it
    del form["on:cord"]
    # 1461 g less the 150 g of the cord
    answer = page.post("/weigh", data={**form, "mass": "1311 g ± 2 g"}, follow_redirects=False)
    assert answer.status_code == 303
    last = load(folder).weighings.weighing[-1]
    assert (last.what, last.without) == (["all"], ["cord"])
    assert "without cord" in page.get("/scale").text


def test_what_contradicts_the_rest_comes_back_with_the_reason(
    page: TestClient, folder: Path
) -> None:
    before = (folder / "weighings.toml").read_text(encoding="utf-8")
    form = form_of(page.get("/scale").text)
    answer = page.post("/weigh", data={**form, "mass": "1200 g ± 2 g"})
    assert answer.status_code == 422
    assert "left off the scale" in answer.text and 'value="1200 g ± 2 g"' in answer.text
    wrong = page.post("/weigh", data={**form, "mass": "heavy"})
    assert wrong.status_code == 422 and "expected" in wrong.text
    nothing = page.post("/weigh", data={"hash": form["hash"], "mass": "10 g"})
    assert nothing.status_code == 422 and "Tick what was on the scale" in nothing.text
    assert (folder / "weighings.toml").read_text(encoding="utf-8") == before
