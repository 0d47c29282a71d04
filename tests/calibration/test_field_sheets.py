"""Papers for the field as printed: on how many sheets, what they say, whether it can be read."""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from as_files import files_of
from numpy.typing import NDArray
from well_built import ROCKETS

from emptied import emptied
from goodflight.cli.shell import run
from goodflight.interface import printout
from goodflight.outputs.bench.files import papers_of as papers_for
from goodflight.outputs.field_sheets.evidence_pdf import evidence_pdf
from goodflight.outputs.field_sheets.evidence_words import answer_words
from goodflight.outputs.field_sheets.marked import marked
from goodflight.outputs.field_sheets.papers_pdf import papers_pdf
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import CAUTIONS
from goodflight.studies.evidence.seen import Seen, see
from goodflight.studies.lists.cards import PAPERS, FieldPapers, papers_of
from goodflight.studies.questions.evidence import evidence_seen

pdfium = pytest.importorskip("pypdfium2")
raw = pytest.importorskip("pypdfium2.raw")

FOOT = ("made 2026-10-17", "figures 7F3A C21B")
MM = 72 / 25.4
WHICH = ("demo", "two canopies", "bare")
PROJECTS = {
    "demo": lambda: read_project(demo_files()),
    "two canopies": lambda: read_project(files_of(next(b for b in ROCKETS if b.dual))),
    "bare": emptied,
}


@cache
def seen(which: str) -> Seen:
    project = PROJECTS[which]()
    return see(project, case_of(project), 100, 1)


@cache
def papers(which: str) -> FieldPapers:
    return papers_of(seen(which))


OPEN = []


@cache
def pdf(which: str, what: Any, paper: str) -> Any:
    """A printed sheet, made once."""
    if what == "evidence":
        content = evidence_pdf(evidence_seen(seen(which)), paper, FOOT)
    else:
        content = papers_pdf(papers(which).only(what), paper, FOOT)[0]
    OPEN.append(pdfium.PdfDocument(content))
    return OPEN[-1]


@pytest.fixture(scope="module", autouse=True)
def closed() -> Iterator[Any]:
    """What `pdf` keeps is closed before the library ends."""
    yield
    pdf.cache_clear()
    while OPEN:
        OPEN.pop().close()


def words_of(document: Any) -> str:
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    return " ".join(text.replace("\u00a0", " ").replace("\ufffe", "").split())


def letters(page: Any) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Every letter of a page: (left, low, right, high) in mm, and its size in points."""
    text = page.get_textpage()
    boxes, sizes = [], []
    for i in range(text.count_chars()):
        if not text.get_text_range(i, 1).strip():
            continue
        boxes.append([each / MM for each in text.get_charbox(i)])
        sizes.append(raw.FPDFText_GetFontSize(text, i))
    return np.array(boxes), np.array(sizes)


def overlaps(boxes: NDArray[np.float64]) -> int:
    """How many pairs of letters lie on one another by a third of the smaller; neighbours in a word
    may be one sign."""
    left, low, right, high = boxes.T
    wide = np.minimum.outer(right, right) - np.maximum.outer(left, left)
    tall = np.minimum.outer(high, high) - np.maximum.outer(low, low)
    shared = np.clip(wide, 0, None) * np.clip(tall, 0, None)
    area = (right - left) * (high - low)
    bad = shared > 0.33 * np.minimum.outer(area, area) + 1e-9
    return int(np.triu(bad, 2).sum())


@pytest.mark.parametrize("which", WHICH)
@pytest.mark.parametrize(("what", "paper", "sheets"), [
    ("evidence", "a4", 1), ("evidence", "letter", 1), ("cards", "a4", 1), ("cards", "letter", 1),
    ("cards", "a5", 2), ("cards", "a6", 4), ("lists", "a4", 3), ("lists", "letter", 3),
    ("lists", "a5", 6), ("carry", "a4", 1), ("carry", "letter", 1),
])  # fmt: skip
def test_how_many_sheets_there_are_and_of_which_size(
    which: str, what: str, paper: str, sheets: int
) -> None:
    found = pdf(which, what, paper)
    size = {"a4": (210, 297), "letter": (215.9, 279.4), "a5": (148, 210), "a6": (105, 148)}[paper]
    assert len(found) == sheets
    for page in found:
        assert sorted(each / MM for each in page.get_size()) == pytest.approx(size, abs=0.1)


@pytest.mark.parametrize("which", WHICH)
def test_all_35_answers_stand_on_one_sheet(which: str) -> None:
    text = words_of(pdf(which, "evidence", "a4"))
    for answer in evidence_seen(seen(which)).answers:
        assert f"{answer.number} {answer.subject}:" in text
        said = answer_words(answer).replace("[ ]", " ").replace("_", " ")
        start = " ".join(said.split()[:4])
        assert start in text, (answer.key, start)
    assert "figures 7F3A C21B" in text and "made 2026-10-17" in text
    assert "range safety officer decide" in text


@pytest.mark.parametrize("which", WHICH)
@pytest.mark.parametrize(("what", "paper"), [
    ("cards", "a4"), ("cards", "letter"), ("cards", "a6"), ("lists", "a4"), ("lists", "a6"),
    ("carry", "a5"), ("carry", "a6"), ("evidence", "letter"),
])  # fmt: skip
def test_letters_are_large_enough_apart_and_not_cut(which: str, what: str, paper: str) -> None:
    for page in pdf(which, what, paper):
        boxes, sizes = letters(page)
        wide, high = (each / MM for each in page.get_size())
        if what == "evidence":  # inside the frame: its ticks and the block below are another matter
            inside = (boxes[:, 1] > 26) & (boxes[:, 0] > 10) & (boxes[:, 2] < wide - 10)
            inside &= boxes[:, 3] < high - 10
            boxes, sizes = boxes[inside], sizes[inside]
        assert sizes.min() >= 7.99
        assert overlaps(boxes) == 0
        cuts = [0.0, wide] if paper in ("a5", "a6") else [0.0, wide / 2, wide]
        if what == "evidence":
            cuts = [0.0, wide]
        for cut in cuts:
            across = (boxes[:, 0] < cut + 4) & (boxes[:, 2] > cut - 4)
            assert not across.any(), f"letters within 4 mm of a cut at {cut} mm"


@pytest.mark.parametrize("what", ["evidence", *PAPERS])
def test_nothing_depends_on_colour(what: str) -> None:
    for page in pdf("demo", what, "a4"):
        pixels = page.render(scale=0.7).to_numpy()[:, :, :3].astype(int)
        assert (pixels.max(axis=2) - pixels.min(axis=2)).max() < 16  # black ink and greys


@pytest.mark.parametrize("which", WHICH)
def test_every_card_and_list_carries_what_to_do_with_a_live_charge(which: str) -> None:
    for what, count in (("cards", 4), ("lists", 6)):  # each once
        text = words_of(pdf(which, what, "a5"))
        for key in ("misfire", "landed"):
            assert text.count(CAUTIONS[key].words.split(". ")[-1][:20]) == count, (what, key)


def test_lists_stand_on_paper_line_by_line_with_figures() -> None:
    text = words_of(pdf("demo", "lists", "a5"))
    for found in papers("demo").lists:
        for line in found.lines:
            assert line.call in text, line.call
    assert "2 s taken out by the maker's tool" in text and "9 s after burnout left" in text
    arm = text.index("Pad order")
    assert text.index("Recorder, last before the igniter", arm) < text.index("Igniter: now", arm)


def test_words_of_the_project_cannot_break_the_sheet() -> None:
    """What looks like markup is printed as it stands."""
    assert marked("a_b #c; [d] ______; 5 g") == "a\\_b \\#c; \\[d\\] #blank(13mm, 1em);; 5\u00a0g"
    odd = {**demo_files()}
    odd["rocket.toml"] = odd["rocket.toml"].replace('"Fieldfare"', '"#x; _y_ $z$ *v ~w"', 1)
    project = read_project(odd)
    found = papers_of(see(project, case_of(project), 20, 1)).only("cards")
    assert "#x; _y_ $z$ *v ~w" in words_of(pdfium.PdfDocument(papers_pdf(found)[0]))


def test_the_command_prints_them_and_refuses_paper_that_is_too_small(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "e.pdf"
    assert run(["print", str(folder), "--what", "evidence", "--json", "-o", str(out)]) == 0
    said = json.loads(capsys.readouterr().out)
    assert len(said["answers"]) == 35 and len(said["numbers"]) == 8
    assert out.read_bytes().startswith(b"%PDF-")
    assert run(["print", str(folder), "--what", "evidence", "--paper", "a6"]) == 2
    assert "for evidence: a4, letter" in " ".join(capsys.readouterr().err.split())
    assert papers_for("lists") == ("a4", "letter", "a5", "a6")
    assert printout(read_project(demo_files()), "carry", day="").content.startswith(b"%PDF-")
