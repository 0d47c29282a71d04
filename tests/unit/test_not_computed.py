"""What no model computes is refused with the reason, never flown as something else."""

import re

import pytest

from goodflight.project import ProjectErrors, read_project
from goodflight.project.demo import demo_files

FILES = demo_files()
MOUNT = re.search(r'\[\[part\]\]\nkind = "motor_tube"\n.*?\n\n', FILES["rocket.toml"], re.S)
assert MOUNT is not None
SECOND = MOUNT[0] + MOUNT[0].replace('name = "', 'name = "second ')


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        ("rocket.toml", MOUNT[0], SECOND, "clusters and stages are not computed"),
        ("plans.toml", 'motor = "H-b"', 'motor = "H-b"\nmotor_count = 2', "one motor; clusters"),
        ("plans.toml", 'motor = "H-b"', 'motor = ["H-b", "H-a"]', "one motor; clusters"),
        ("rocket.toml", "separates_at", "stages = 2\nseparates_at", "clusters and stages"),
        ("rocket.toml", "count = 3", "count = 2", "not stable in every direction"),
        ("rocket.toml", 'kind = "fins"', 'kind = "tube_fins"', "tube fins"),
        ("rocket.toml", 'kind = "buttons"', 'kind = "lug"', "two lugs, or the two ends"),
        (
            "rocket.toml",
            'kind = "buttons"',
            'kind = "buttons"\nrail = "rod"',
            "rail_kind of the field",
        ),
    ],
)
def test_it_is_refused_with_the_reason(file: str, old: str, new: str, words: str) -> None:
    assert old in FILES[file]
    with pytest.raises(ProjectErrors) as caught:
        read_project({**FILES, file: FILES[file].replace(old, new, 1)})
    assert any(words in fault.expected and fault.line for fault in caught.value.faults)
