"""Every part kind is declared in one module, and everything else follows from it."""

import json
from pathlib import Path

import pytest

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.mass import part_item
from goodflight.project import ProjectErrors, load
from goodflight.project.demo import write_demo
from goodflight.project.part_forms import entries_of
from goodflight.project.parts import KINDS, KINDS_BY_GROUP, OUTER
from goodflight.project.parts.table import GROUPS, PartTable
from goodflight.project.schemas import packaged
from goodflight.studies.case.project_case import case_of
from goodflight.studies.sampling import recovery


def test_kinds_stand_where_one_builds() -> None:
    assert list(KINDS_BY_GROUP) == list(GROUPS)
    assert list(KINDS) == [key for keys in KINDS_BY_GROUP.values() for key in keys]
    assert set(OUTER) == {"nose", "tube", "transition"}
    places = [(kind.group, kind.rank) for kind in KINDS.values()]
    assert len(places) == len(set(places))


def test_a_kind_names_only_keys_it_has() -> None:
    for kind in KINDS.values():
        keys = set(kind.table.model_fields)
        assert set(kind.table.words) <= keys, kind.key
        assert set(kind.still or ()) <= keys, kind.key
        assert not kind.fits or kind.fits in keys
        assert set(PartTable.model_fields) < keys


def test_schema_and_forms_follow() -> None:
    schema = json.loads(packaged()["rocket.json"])
    assert list(schema["properties"]["part"]["items"]["discriminator"]["mapping"]) == sorted(KINDS)
    for key, kind in KINDS.items():
        assert {entry.key for entry in entries_of(key)} == set(kind.table.model_fields) - {"kind"}


def test_every_kind_of_the_demo_becomes_a_record(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    project = load(tmp_path / "demo")
    built = {part.name: part for part in project.rocket().parts}
    for table in project.parts:
        if table.name in built:
            assert isinstance(built[table.name], p.Part)


def changed(folder: Path, old: str, new: str) -> tuple[p.Part, ...]:
    """The demo's parts with one place of its file changed."""
    write_demo(folder)
    path = folder / "rocket.toml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")
    return load(folder).rocket().parts


def test_a_retainer_weighs_where_it_sits(tmp_path: Path) -> None:
    """Derived: mass m on a station s, 20 mm long: the balance point is s + 10 mm."""
    old = 'kind = "added_mass"\nname = "retainer"\nrole = "retainer"\n'
    old += 'station = "1205 mm"\nlength = "20 mm"\nradius = "23 mm"\nmass = "35 g label"\n'
    old += 'balance = "1215 mm"\n'
    new = 'kind = "retainer"\nname = "retainer"\nstation = "1205 mm"\nlength = "20 mm"\n'
    new += 'outer_diameter = "46 mm"\nmass = "35 g label"\n'
    parts = changed(tmp_path / "a", old, new)
    found = next(part for part in parts if part.name == "retainer")
    assert part_item(found).mass_kg == pytest.approx(0.035)
    assert part_item(found).station_m == pytest.approx(1.215)
    assert isinstance(found, p.AddedMass) and found.role == "retainer"


def test_a_bevel_takes_wood_and_drag_off(tmp_path: Path) -> None:
    """The width reaches the flight: bevelled edges below Mach 0.8 cost friction only."""
    bevelled = 'edges = "bevelled"\nbevel = "8 mm"'
    parts = changed(tmp_path / "a", 'edges = "rounded"', bevelled)
    fins = next(part for part in parts if isinstance(part, p.Fins))
    assert (fins.edges, fins.bevel_m) == ("bevelled", pytest.approx(0.008))
    with pytest.raises(ProjectErrors, match="bevel only with edges bevelled"):
        changed(tmp_path / "b", 'edges = "rounded"', 'edges = "rounded"\nbevel = "8 mm"')


@pytest.mark.parametrize(
    ("removed", "key", "says"),
    [
        ('leader_strength = "6000 N label"', "part[cord].leader_strength", "beside leader;"),
        ('leader = "1.0 m"', "part[cord].leader", "beside leader_strength;"),
    ],
)
def test_half_of_what_belongs_together(tmp_path: Path, removed: str, key: str, says: str) -> None:
    """Half of it would stand for less than is there, as if it were all."""
    with pytest.raises(ProjectErrors) as caught:
        changed(tmp_path / "demo", removed, "#")
    assert key in str(caught.value) and says in str(caught.value)


def test_a_stretch_that_was_measured_is_narrower(tmp_path: Path) -> None:
    """A twentieth where it was measured (practice), or as it says; else as declared."""
    for i, (said, sigma) in enumerate(
        (
            ("0.25", recovery.cord_give.spread.sigma),
            ('"0.25 measured"', 0.05),
            ('"0.25 ± 0.01"', 0.04),
        )
    ):
        folder = tmp_path / str(i)
        changed(folder, "elongation = 0.25", f"elongation = {said}")
        (factor,) = recovery.cord_give.factors(case_of(load(folder)))
        assert factor.sigma == pytest.approx(sigma)
        assert factor.value is None
