"""The first questions' drawings: every length has its balloon, to scale, on the sheet."""

import re

import pytest

from goodflight.outputs.asked.start import DRAWINGS, WIDTH, asked_svg
from goodflight.project.newcomer import GROUPS, QUESTIONS, drawn_answers

NUMBERS = {each.id: i for i, each in enumerate(QUESTIONS, 1)}


def drawn(key: str, answers: dict[str, str]) -> str:
    asked = next(group for name, _, group in GROUPS if name == key)
    own = {each.id: NUMBERS[each.id] for each in asked if each.dimension != "text"}
    return asked_svg(key, drawn_answers(answers), own)


def balloons(svg: str) -> dict[int, tuple[float, float]]:
    found = re.findall(r'<text x="([\d.-]+)" y="([\d.-]+)" text-anchor="middle">(\d+)<', svg)
    assert len(found) == len({number for _, _, number in found})
    return {int(number): (float(x), float(y)) for x, y, number in found}


def test_the_groups_are_the_questions_in_their_order() -> None:
    assert [each for _, _, asked in GROUPS for each in asked] == list(QUESTIONS)
    assert [key for key, _, _ in GROUPS] == list(DRAWINGS)


# as offered; a long thin one with six fins; a short fat one in other units; nonsense
@pytest.mark.parametrize(
    "answers",
    [
        {},
        {"body_length": "3.2 m", "diameter": "54 mm", "fin_count": "6", "rail": "5 m"},
        {
            "body_length": "20 in",
            "diameter": "6 in",
            "fin_span": "7 in",
            "canopy": "6 ft across flats",
        },
        {"body_length": "long", "fin_span": "-3 mm", "rail": ""},
    ],
)
@pytest.mark.parametrize("key", list(DRAWINGS))
def test_every_figure_has_one_balloon_on_the_sheet(key: str, answers: dict[str, str]) -> None:
    svg = drawn(key, answers)
    asked = next(group for name, _, group in GROUPS if name == key)
    wanted = {NUMBERS[each.id] for each in asked if each.dimension != "text"}
    found = balloons(svg)
    assert set(found) == wanted and "nan" not in svg and "inf" not in svg
    height = DRAWINGS[key][0]
    assert all(9 <= x <= WIDTH - 9 and 9 <= y <= height for x, y in found.values()), found


def test_lengths_are_drawn_to_one_scale() -> None:
    svg = drawn("body", {"nose_length": "300 mm", "body_length": "900 mm", "separation": "600 mm"})
    lines = re.findall(r'd="M([\d.]+) ([\d.]+)H([\d.]+)M[^"]*" class="dim"', svg)
    spans = {y: [float(b) - float(a) for a, at, b in lines if at == y] for _, y, _ in lines}
    nose, body = spans["24.0"]
    (joint,) = spans["136.0"]
    # half of the last printed digit at both ends of both lengths
    assert body / nose == pytest.approx(3.0, abs=4 * 0.1 / nose)
    assert joint / nose == pytest.approx(2.0, abs=4 * 0.1 / nose)
