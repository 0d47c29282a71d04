"""Saving: comments and order stay, nothing is lost, earlier texts come back."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from goodflight.project import (
    Project,
    ProjectErrors,
    SaveRefused,
    add_part,
    changed_texts,
    edit,
    edit_all,
    load,
    remove_part,
    restore,
    versions,
)
from goodflight.project.demo import demo_files, write_demo

NOSE_MASS = "rocket.toml:part[nose].mass"


@pytest.fixture
def project(folder: Path) -> Project:
    return load(folder)


def changed_lines(before: str, after: str) -> list[tuple[str, str]]:
    pairs = zip(before.splitlines(), after.splitlines(), strict=True)
    return [(old, new) for old, new in pairs if old != new]


def test_an_edit_changes_one_line_and_keeps_its_comment(project: Project) -> None:
    after = edit(project, NOSE_MASS, "146 g measured")
    assert changed_lines(project.texts["rocket.toml"], after.texts["rocket.toml"]) == [
        (
            'mass = "144 g measured"       # planned 150 g',
            'mass = "146 g measured"       # planned 150 g',
        ),
    ]
    assert after.rocket().parts[0].mass_kg == pytest.approx(0.146)


@pytest.mark.parametrize(
    ("path", "text", "line"),
    [
        ("plans.toml:plan[midday].day.gust_factor", "1.7", "gust_factor = 1.7"),
        ("plans.toml:plan[morning].delay_out", "3 s", 'delay_out = "3 s"                  # taken'),
        ("plans.toml:plan[morning].day.pressure", "1002 hPa", 'pressure = "1002 hPa"'),
        ("motors/H-b.toml:impulse_spread", "2 %", 'impulse_spread = "2 %"'),
        ("rocket.toml:part[fins].cant", "0.2 deg", 'cant = "0.2 deg"'),
        ("rocket.toml:part[fins].count", "4", "count = 4"),
        ("rocket.toml:part[#1].mass", "146 g", 'mass = "146 g"       # planned'),
        ("rocket.toml:surface.roughness", "20 um", 'roughness = "20 um"'),
        ("rocket.toml:invented", "false", "invented = false"),
        ("sites/larkrise.toml:rails[#3]", "3.6 m", 'rails = ["2.4 m", "2.4 m", "3.6 m"]'),
    ],
)
def test_edits_of_every_kind(project: Project, path: str, text: str, line: str) -> None:
    file = path.partition(":")[0]
    if file.startswith("sites"):
        plans = {"plans.toml": project.texts["plans.toml"].replace("3.0 m", "2.4 m")}
        (project.root or Path()).joinpath("plans.toml").write_text(plans["plans.toml"])
        project = load(project.root or "")
    after = edit(project, path, text)
    assert line in after.texts[file]
    assert "#" in path or after.line(path) is not None


def test_an_inline_material_and_a_missing_table(project: Project) -> None:
    files = demo_files()
    root = project.root or Path()
    old = 'material = "birch_plywood_4mm"\nmass = "92 g label"'
    new = 'material = { name = "my ply", density = "680 kg/m3" }\nmass = "92 g label"'
    text = files["rocket.toml"].replace(old, new).replace('[surface]\nroughness = "30 um"', "")
    (root / "rocket.toml").write_text(text, "utf-8")
    project = load(root)
    changes = [
        ("rocket.toml:part[fins].material.shear_modulus", "0.62 GPa"),
        ("rocket.toml:surface.roughness", "40 um"),
    ]
    after = edit_all(project, changes)
    fins = next(part for part in after.rocket().parts if part.name == "fins")
    assert fins.material is not None
    assert fins.material.shear_modulus_pa == pytest.approx(0.62e9)
    assert after.rocket().roughness_m == pytest.approx(40e-6)


def test_a_preview_writes_nothing(project: Project) -> None:
    texts = changed_texts(project, [(NOSE_MASS, "146 g")])
    assert '"146 g"' in texts["rocket.toml"]
    assert load(project.root or "").texts == project.texts


def test_a_wrong_edit_is_refused_and_writes_nothing(project: Project) -> None:
    with pytest.raises(ProjectErrors, match=r"Write 12\.5 with a decimal point"):
        edit(project, NOSE_MASS, "12,5 oz")
    assert load(project.root or "").texts == project.texts
    assert versions(project.root or Path(), "rocket.toml") == ()


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("rocket.toml:part[nosse].mass", "nothing is named 'nosse'"),
        ("rokcet.toml:name", "no file rokcet.toml"),
        ("rocket.toml:part[#99].mass", "the list has 24 entries"),
        ("rocket.toml:part[nose].material.density", "there is no such entry"),
        ("rocket.toml:", "name an entry after the colon"),
        ("rocket.toml:name[#1]", "there is no list"),
    ],
)
def test_paths_that_lead_nowhere(project: Project, path: str, words: str) -> None:
    with pytest.raises(SaveRefused) as caught:
        edit(project, path, "1 g")
    assert words in str(caught.value)


def test_a_change_made_elsewhere_is_never_overwritten(project: Project) -> None:
    target = (project.root or Path()) / "rocket.toml"
    target.write_text(target.read_text("utf-8") + "\n# by hand\n", "utf-8")
    with pytest.raises(SaveRefused, match="was changed by another program"):
        edit(project, NOSE_MASS, "146 g")
    assert target.read_text("utf-8").endswith("# by hand\n")
    (target.parent / "plans.toml").unlink()
    with pytest.raises(SaveRefused, match=r"plans.toml was removed"):
        edit(project, "plans.toml:plan[morning].delay_out", "1 s")


def test_add_and_remove_a_part_keep_everything_else(project: Project) -> None:
    part = 'kind = "added_mass"\nname = "mirror"\nstation = "300 mm"\nmass = "3 g"'
    more = add_part(project, part, after="payload tube")
    assert [p.name for p in more.parts][2] == "mirror"
    less = remove_part(more, "mirror")
    assert less.texts == project.texts
    last = add_part(project=less, part_text=part)
    assert last.parts[-1].name == "mirror"
    with pytest.raises(SaveRefused, match="no part is named 'wing'"):
        remove_part(last, "wing")
    with pytest.raises(ProjectErrors, match="holds"):
        remove_part(last, "cord")


def test_removing_a_part_keeps_the_heading_of_the_next(project: Project) -> None:
    after = remove_part(edit(project, NOSE_MASS, "145 g"), "fillets and internal epoxy")
    assert "# --- inside, front to back ---" in after.texts["rocket.toml"]


def test_earlier_versions_come_back(project: Project) -> None:
    root = project.root or Path()
    first = edit(project, NOSE_MASS, "146 g measured")
    second = edit(first, NOSE_MASS, "147 g measured")
    kept = versions(root, "rocket.toml")
    assert [each.number for each in kept] == [1, 2]
    assert kept[0].path.read_text("utf-8") == project.texts["rocket.toml"]
    back = restore(second, "rocket.toml", 1)
    assert back.texts == project.texts
    assert versions(root, "rocket.toml")[-1].path.read_text("utf-8") == second.texts["rocket.toml"]
    with pytest.raises(SaveRefused, match="has no version 9; there are: 1, 2, 3"):
        restore(back, "rocket.toml", 9)


def test_a_new_project_never_covers_an_old_one(project: Project) -> None:
    with pytest.raises(SaveRefused, match="is not empty"):
        write_demo(project.root or Path())


_SAVER = """
import os, signal, sys
from goodflight.project import edit, folder, load
project, at, count = load(sys.argv[1]), int(sys.argv[2]), 0
def call(act, *args, **more):
    global count
    count += 1
    if count == at:
        os.kill(os.getpid(), signal.SIGKILL)
    return act(*args, **more)
folder.call = call
edit(project, "rocket.toml:part[nose].mass", "146 g measured")
"""


@pytest.mark.parametrize("at", [60, 120, 150, 180])
def test_a_killed_save_leaves_the_old_or_the_new_file(project: Project, at: int) -> None:
    """SIGKILL in a real process at a set call; test_project_faults does it in effect at all."""
    root = project.root or Path()
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    command = [sys.executable, "-c", _SAVER, str(root), str(at)]
    done = subprocess.run(command, env=environment, check=False, timeout=300)
    after = load(root).texts["rocket.toml"]
    assert done.returncode in (0, -signal.SIGKILL)
    old = project.texts["rocket.toml"]
    assert after in (old, old.replace("144 g measured", "146 g measured"))
    edit(load(root), NOSE_MASS, "200 g")
    assert list((root / ".versions/scratch").iterdir()) == []
