"""Where a run of the tests keeps its long answers: apart, so that no test loads the page for it."""

from pathlib import Path

place: list[Path] = []  # set at the start of a run
