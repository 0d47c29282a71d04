"""Inputs larger, deeper or wider than any project: one fault in words, before they cost time."""

import json
import math

import pytest

from goodflight.project import ProjectErrors, budgets
from goodflight.project.curves import read_curve
from goodflight.project.demo import demo_files
from goodflight.project.outlines import crossing, read_outline
from goodflight.project.reading import read_project
from goodflight.quantity import parse

FILES = demo_files()
ADDED = '\n[[part]]\nkind = "added_mass"\nname = "bag {}"\nmass = "1 g"\nstation = "200 mm"\n'


def sentences(**changed: str) -> list[str]:
    """What is said of the demo's files with some texts changed; `_` in a name is its full stop."""
    texts = {**FILES, **{name.replace("_", "."): text for name, text in changed.items()}}
    with pytest.raises(ProjectErrors) as caught:
        read_project(texts)
    return [fault.sentence for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("".join(ADDED.format(i) for i in range(1000)), "at most 200 parts"),
        ("".join(ADDED.format(i) for i in range(10_000)), "at most 400000 characters"),
        ("\n".join(f"k{i} = 1" for i in range(100_000)), "at most 400000 characters"),
        ("\n" * 20_000, "at most 10000 lines"),
        ("\n".join(f"k{i} = 1" for i in range(2_000)), "at most 200 keys in one table"),
        (f"\n[charge.x]\ny = {{{', '.join(f'k{i} = 1' for i in range(500))}}}", "at most 200 keys"),
        ("\n" + ".".join("a" * 50_000) + " = 1", "names or more in one key"),
        ("\n" + ".".join(['"a b"'] * 50_000) + " = 1", "names or more in one key"),
        ("\nx = [" + "1, " * 5_000 + "1]", "at most 1000 entries in one list"),
    ],
)
def test_what_is_too_much_is_one_fault(more: str, words: str) -> None:
    found = [
        each
        for each in sentences(rocket_toml=FILES["rocket.toml"] + more)
        if each.startswith("rocket.toml:")
    ]
    assert len(found) == 1
    assert words in found[0]


def test_many_faults_are_counted_beyond_the_first() -> None:
    parts = "".join(ADDED.format(i).replace('"1 g"', '"1 s"') for i in range(150))
    found = sentences(rocket_toml=FILES["rocket.toml"] + parts)
    assert len(found) == budgets.MAX_FAULTS + 1
    assert "50 more faults from here on" in found[-1]
    one = sentences(rocket_toml=FILES["rocket.toml"] + "\n".join(f"k{i} = 1" for i in range(150)))
    assert len(one) == budgets.MAX_FAULTS_OF_A_TABLE + 1


def test_a_project_of_too_many_files_is_refused() -> None:
    texts = {**FILES, **{f"motors/m{i}.csv": "" for i in range(budgets.MAX_FILES)}}
    with pytest.raises(ProjectErrors, match="at most 400 files"):
        read_project(texts)


def _field(points: int, wave: float = 0.0) -> str:
    ring = []
    for i in range(points):
        angle, radius = 2.0 * math.pi * i / points, 400.0 * (1.0 + wave * (i % 2))
        ring.append([radius * math.cos(angle), radius * math.sin(angle)])
    shape = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
    feature = {"type": "Feature", "properties": {"role": "field"}, "geometry": shape}
    return json.dumps({"type": "FeatureCollection", "features": [feature]})


def test_outlines_have_a_budget_of_points_and_stay_near() -> None:
    outline, faults = read_outline("f", _field(4_000, 0.1), False, (0.0, 0.0))
    assert outline is not None
    assert len(outline.field_m) == 4_000
    assert not faults
    _, faults = read_outline("f", _field(20_000), False, (0.0, 0.0))
    assert "20001 points" in faults[0].found
    _, faults = read_outline("f", _field(8).replace("400.0", "4e9"), False, (0.0, 0.0))
    assert "at most 50000" in faults[0].expected


def test_a_crossing_outline_is_told_where() -> None:
    # two diagonals of a square of side 2 about (1, 1): they meet in its middle
    assert crossing([(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)]) == (1.0, 1.0)
    assert crossing([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]) is None
    assert crossing([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)]) is not None  # no area


def test_a_thrust_curve_has_a_budget_of_rows() -> None:
    rows = "".join(f"{i / 1000},1\n" for i in range(20_000))
    curve, faults = read_curve("m", f"time_s,thrust_n\n{rows}")
    assert curve is None
    assert "20001 lines" in faults[0].found
    _, faults = read_curve("m", "time_s,thrust_n\n" + "a,b\n" * 4_000)
    assert len(faults) < 60
    curve_of = "time_s,thrust_n\n0,0\n1,{}\n{},0\n"
    assert "newtons" in " ".join(sentences(**{"motors/H-b_csv": curve_of.format("1e9", "2")}))
    assert "seconds" in " ".join(sentences(**{"motors/H-b_csv": curve_of.format("9", "2000")}))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            'across = "1.00 m across flats"',
            'across = "1.00 m ± 60 % across flats"',
            "a spread of at most ± 25 % here",
        ),
        ('across = "1.00 m across flats"', 'across = "1 mm across flats"', "20 mm or more"),
        ('station = "1060 mm"', 'station = "1060 mm ± 25 %"', "a spread of at most ± 0.1 m"),
        ('span = "80 mm"', 'span = "40 m"', "at most 3 m"),
        ('span = "80 mm"', 'span = "1e9 mm"', "at most 3 m"),
        ('span = "80 mm"', 'span = "80 mm ± 1 m"', "a spread of at most ± 25 % here"),
    ],
)
def test_an_extreme_figure_is_one_fault_at_its_line(old: str, new: str, words: str) -> None:
    text = FILES["rocket.toml"]
    assert text.count(old) == 1
    found = sentences(rocket_toml=text.replace(old, new))
    line = text[: text.index(old)].count("\n") + 1
    assert len(found) == 1
    assert found[0].startswith(f"rocket.toml:{line}: part[")
    assert words in found[0]


def test_the_widest_spread_is_a_share_or_a_size_of_its_own() -> None:
    assert budgets.widest_spread("mass", 0.2) == (0.2, "100 %")
    assert budgets.widest_spread("length", 2.0) == (0.5, "25 %")
    assert budgets.widest_spread("length", 2.0, 0.1) == (0.1, "")
    assert budgets.widest_spread("temperature", 280.0)[0] == 30.0
    assert parse("100 g ± 100 %", "mass").sigma == pytest.approx(0.1)
