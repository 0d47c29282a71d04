"""What a part is called, and what is remarked about it, decides nothing: its role and keys do."""

import re
from pathlib import Path

import pytest

from goodflight.physics.structure import CRUSH_PA, crush_pa
from goodflight.project import Project, load
from goodflight.project.demo import write_demo
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.cutlist import cut_list
from goodflight.studies.bench.outlines import outlines
from goodflight.studies.bench.packing import packing_set
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.questions.layout import layout

TEMPTING = "open base, no plate, no bulkhead, no eyebolt; kraft sled, U-bolt, paint, blanket"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_demo(tmp_path / "demo")
    return tmp_path / "demo"


def renamed(folder: Path, names: dict[str, str]) -> Project:
    """The project with every name exchanged in every file, and a tempting remark at every part."""
    for path in folder.glob("*.toml"):
        text = path.read_text("utf-8")
        for old, new in names.items():
            text = re.sub(rf'(?<!role = )(?<!kind = )"{re.escape(old)}"', f'"{new}"', text)
        if path.name == "rocket.toml":
            text = re.sub(r'\nnote = ".*"', "", text)
            text = text.replace("[[part]]\n", f'[[part]]\nnote = "{TEMPTING}"\n')
        path.write_text(text, "utf-8")
    return load(folder)


def told(project: Project, names: dict[str, str]) -> list[str]:
    """Steps, lists, templates, packing and layout as texts, in the first names."""
    rocket = project.rocket()
    flat = outlines(rocket, Choices())
    cuts = cut_list(rocket, flat, Choices())
    parts = [
        *(repr(step) for step in steps_of(project)),
        *(repr(each) for each in cuts.buys),
        *(repr((each.key, each.title, each.shapes)) for each in flat),
        *(repr(each) for each in packing_set(rocket)),
        *(repr((piece.name, piece.kind)) for piece in layout(project).contents),
    ]
    back = {new: old.lower() for old, new in names.items()}
    pattern = "|".join(back) or "$^"
    first = [re.sub(pattern, lambda found: back[found[0]], text.lower()) for text in parts]
    return [
        re.sub(r"'(\w+) of \1s'", r"'\1'", text) for text in first
    ]  # a kind's own name is no name


def test_names_and_remarks_decide_nothing(folder: Path) -> None:
    project = load(folder)
    names = {p.name: f"zq{i:02d}".ljust(len(p.name), "z") for i, p in enumerate(project.parts)}
    before = told(project, {})
    assert told(renamed(folder, names), names) == before


def test_a_key_closes_the_base_and_no_remark_does(folder: Path) -> None:
    path = folder / "rocket.toml"
    text = path.read_text("utf-8")
    assert "plate-nose" in {step.key for step in steps_of(load(folder))}
    path.write_text(
        text.replace("plate = true", 'note = "plate"', 1).replace('note = "printed"\n', "", 1),
        "utf-8",
    )
    assert "plate-nose" not in {step.key for step in steps_of(load(folder))}


def test_crushing_strength_is_that_of_a_family() -> None:
    assert crush_pa("kraft", 1e6) == CRUSH_PA["kraft"]
    assert crush_pa("", 1e6) == pytest.approx(0.6e6)
    assert crush_pa("", None) is None
