"""Saving: comments and order stay, nothing is lost, earlier texts come back."""

import multiprocessing
import os
import random
import signal
import subprocess
import sys
import time
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
        ('mass = "144 g measured"       # planned 150 g',
         'mass = "146 g measured"       # planned 150 g'),
    ]  # fmt: skip
    assert after.rocket().parts[0].mass_kg == pytest.approx(0.146)


@pytest.mark.parametrize(
    ("path", "text", "line"),
    [
        ("plans.toml:plan[midday].day.gust_factor", "1.7", "gust_factor = 1.7"),
        ("plans.toml:plan[calm].delay_out", "3 s", 'delay_out = "3 s"                  # taken'),
        ("plans.toml:plan[calm].day.pressure", "1002 hPa", 'pressure = "1002 hPa"'),
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
        edit(project, "plans.toml:plan[calm].delay_out", "1 s")


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


def _race(root: str, mass: int) -> int:
    """Try one edit on a project read before anyone saved; 1 when it was saved."""
    project = load(root)
    time.sleep(0.5)
    try:
        edit(project, NOSE_MASS, f"{mass} g")
    except SaveRefused:
        return 0
    return 1


def test_of_two_at_once_one_wins_and_the_other_is_told(project: Project) -> None:
    jobs = [(str(project.root), mass) for mass in (150, 151, 152)]
    with multiprocessing.get_context("spawn").Pool(3) as pool:
        saved = pool.starmap(_race, jobs)
    kept = versions(project.root or Path(), "rocket.toml")
    assert sum(saved) == len(kept) >= 1


_SAVER = """
import sys
from dataclasses import replace
from goodflight.project import load, saving
project = load(sys.argv[1])
if sys.argv[2] == "fast":  # leave out the checks, so that nearly all the time goes into saving
    saving.read_project = lambda *a: None
    saving.load = lambda root: project
print("ready", flush=True)
texts = [project.texts["rocket.toml"] + f"# {mark * 40}\\n" * 8000 for mark in "ab"]
number = 0
while True:
    number += 1
    text = texts[number % 2]
    saving.write_files(project, {"rocket.toml": text})
    digests = {**project.hashes, "rocket.toml": saving.digest(text)}
    project = replace(project, texts={**project.texts, "rocket.toml": text}, hashes=digests)
"""


def _kill_a_save(root: Path, how: str, seconds: float) -> None:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    command = [sys.executable, "-c", _SAVER, str(root), how]
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment) as saver:
        assert saver.stdout is not None
        assert saver.stdout.readline() == b"ready\n"
        time.sleep(seconds)
        assert saver.poll() is None, "the saver stopped by itself"
        saver.send_signal(signal.SIGKILL)
        saver.wait()


@pytest.mark.parametrize(("how", "kills"), [("fast", 8), ("checked", 3)])
def test_a_killed_save_leaves_the_old_or_the_new_file(
    project: Project, how: str, kills: int
) -> None:
    """SIGKILL at random times in an endless row of saves: the old or the new text, whole."""
    root = project.root or Path()
    first = project.texts["rocket.toml"]
    whole = {first, *(first + f"# {mark * 40}\n" * 8000 for mark in "ab")}
    rng = random.Random(20)
    for _ in range(kills):
        _kill_a_save(root, how, rng.uniform(0.02, 0.2))
        assert load(root).texts["rocket.toml"] in whole
        kept = versions(root, "rocket.toml")
        assert [each.number for each in kept] == list(range(1, len(kept) + 1))
        assert all(each.path.read_text("utf-8") in whole for each in kept)
        (root / "rocket.toml").write_text(first, "utf-8")  # a saver begins with the demo's text
    assert kept[0].path.read_text("utf-8") == first
    edit(load(root), NOSE_MASS, "200 g")
    assert list((root / ".versions/scratch").iterdir()) == []
