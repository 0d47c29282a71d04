"""How a canopy is measured, from the text in the file to the area of its cloth."""

from math import cos, hypot, pi, sin, sqrt
from pathlib import Path
from typing import get_args

import pytest

from goodflight import ProjectErrors, demo, load
from goodflight.physics import recovery
from goodflight.physics.recovery.canopy_kinds import CLOTH_WAY, CORNERS, FLATS, MOUTH
from goodflight.physics.vehicle.parts import Canopy
from goodflight.project.parts.canopy import CanopyShape


def shoelace(sides: int) -> tuple[float, float, float]:
    """Area, width across corners and across flats of a polygon with corners on the unit circle."""
    corners = [(cos(2 * pi * i / sides), sin(2 * pi * i / sides)) for i in range(sides)]
    pairs = list(zip(corners, corners[1:] + corners[:1], strict=True))
    area = 0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)
    middle = [((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in pairs]
    return area, 2.0, 2.0 * hypot(*middle[0])


@pytest.mark.parametrize("sides", [4, 6, 8, 12])
def test_polygon_against_its_corners(sides: int) -> None:
    """Derived: the shoelace area of the corners themselves."""
    area, corners, flats = shoelace(sides)
    ratio = recovery.polygon_area_over_square
    assert ratio(sides, CORNERS) == pytest.approx(area / corners**2, rel=1e-12)
    assert ratio(sides, FLATS) == pytest.approx(area / flats**2, rel=1e-12)


def test_hexagon_by_hand() -> None:
    """Derived: six equal triangles; 3 sqrt(3)/8 D2 across corners, sqrt(3)/2 D2 across flats."""
    ratio = recovery.polygon_area_over_square
    assert ratio(6, CORNERS) == pytest.approx(3 * sqrt(3) / 8)
    assert ratio(6, FLATS) == pytest.approx(sqrt(3) / 2)
    with pytest.raises(ValueError, match="no opposite edges; give its cloth area"):
        ratio(5, FLATS)
    with pytest.raises(ValueError, match="across corners or across flats, not along the cloth"):
        ratio(6, CLOTH_WAY)


def test_cone_and_hemisphere_measure_the_same_cloth_both_ways() -> None:
    """Derived: hemisphere of mouth D, 2 pi r2 of cloth, pi r over the top; cone pi r s, 2 s."""
    mouth = 1.2
    ball = recovery.canopy_kind("hemispherical")
    assert ball.area_over_square(MOUTH) * mouth**2 == pytest.approx(2 * pi * (mouth / 2) ** 2)
    over = pi * mouth / 2
    assert ball.area_over_square(CLOTH_WAY) * over**2 == pytest.approx(2 * pi * (mouth / 2) ** 2)
    cone = recovery.canopy_kind("conical")
    area = cone.area_over_square(MOUTH) * mouth**2
    slant = area / (pi * mouth / 2)
    assert cone.area_over_square(CLOTH_WAY) * (2 * slant) ** 2 == pytest.approx(area)


def test_every_kind_can_be_written_and_takes_its_own_drag() -> None:
    assert set(get_args(CanopyShape)) == set(recovery.CANOPY_KINDS)
    for kind in recovery.CANOPY_KINDS.values():
        assert kind.drag_low <= kind.usual_drag_coefficient <= kind.drag_high
    assert recovery.canopy_kind("streamer").usual_drag_coefficient == pytest.approx(0.27)


def changed(folder: Path, old: str, new: str) -> Canopy:
    """The first canopy of the demo with one line of its file changed."""
    path = demo(folder).root
    assert path is not None
    text = (path / "rocket.toml").read_text("utf-8")
    assert old in text
    (path / "rocket.toml").write_text(text.replace(old, new, 1), "utf-8")
    canopies = [part for part in load(path).rocket().parts if isinstance(part, Canopy)]
    return canopies[0]


@pytest.mark.parametrize(
    ("new", "area"),
    [
        ('across = "1.00 m across flats"', sqrt(3) / 2),
        ('across = "1.00 m ± 5 mm measured across corners"', 3 * sqrt(3) / 8),
        ('across = "across corners: 1.00 m"', None),
        ('cloth_area = "0.7 m2"', 0.7),
    ],
)
def test_written_ways(tmp_path: Path, new: str, area: float | None) -> None:
    old = 'across = "1.00 m across flats"'
    if area is None:
        from goodflight.project import ProjectErrors

        with pytest.raises(ProjectErrors):
            changed(tmp_path / "a", old, new)
        return
    canopy = changed(tmp_path / "a", old, new)
    assert recovery.cloth_area_m2(canopy) == pytest.approx(area)


def test_a_streamer_needs_no_width_and_drags_as_one(tmp_path: Path) -> None:
    old = 'shape = "flat_hexagonal"\nacross = "1.00 m across flats"     # 0.866 m2 of cloth\n'
    old += 'cloth = "48 g/m2 label"\ndrag_coefficient = "0.75 ± 0.08"   # on the cloth area\n'
    canopy = changed(tmp_path / "a", old, 'shape = "streamer"\ncloth_area = "0.15 m2"\n')
    assert recovery.drag_area_m2(canopy) == pytest.approx(0.27 * 0.15)


def test_a_streamer_without_its_cloth_is_asked_for_it(tmp_path: Path) -> None:
    old = 'shape = "flat_hexagonal"\nacross = "1.00 m across flats"     # 0.866 m2 of cloth\n'
    with pytest.raises(ProjectErrors, match=r'part\[large\].cloth_area.*length x width.*0.1 m2"'):
        changed(tmp_path / "a", old, 'shape = "streamer"\n')


def test_haack_takes_its_own_default(tmp_path: Path) -> None:
    from goodflight.physics.vehicle.parts import Nose

    folder = demo(tmp_path / "a").root
    assert folder is not None
    text = (folder / "rocket.toml").read_text("utf-8")
    for figure in ("", '\nhaack_c = "0"', "\nhaack_c = 0"):
        (folder / "rocket.toml").write_text(
            text.replace('outline = "tangent_ogive"', f'outline = "haack"{figure}'), "utf-8"
        )
        nose = next(part for part in load(folder).rocket().parts if isinstance(part, Nose))
        assert (nose.shape, nose.outline_constant) == ("haack", 0.0)
