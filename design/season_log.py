"""The made-up log of docs/season.md: `python design/season_log.py LAPWING docs/season/first.csv`.

LAPWING is the folder of the story as it stood before the flight. The flight is one of the model
with what the builder did not know: a rough surface, a late delay, more wind. Read by a barometer
that scatters; the ground at 990 hPa.
"""

import shutil
import sys
import tempfile
from pathlib import Path

import numpy as np

import goodflight

EVERY_S, SCATTER_PA, GROUND_PA, WAIT_S = 0.05, 8.0, 99_000.0, 5.0
UNKNOWN = {
    "rocket.toml": ("[separation]\n", '[surface]\nroughness = "200 um"\n\n[separation]\n'),
    "motors/H-mild.toml": ('delay = "10 s"', 'delay = "10.9 s"'),
    "plans.toml": ('wind = "3 m/s"', 'wind = "4 m/s"'),
}


def pressure_pa(height_m: np.ndarray) -> np.ndarray:
    """Standard atmosphere above the ground's pressure [usstd1976]."""
    low = (GROUND_PA / 101_325.0) ** 0.190263
    return 101_325.0 * (low - 0.0065 / 288.15 * height_m) ** (1.0 / 0.190263)


def main(folder: Path, to: Path) -> None:
    with tempfile.TemporaryDirectory() as place:
        truth = Path(shutil.copytree(folder, Path(place) / "truth"))
        for name, (old, new) in UNKNOWN.items():
            text = (truth / name).read_text(encoding="utf-8")
            assert old in text, f"{name} has no {old!r}"
            (truth / name).write_text(text.replace(old, new, 1), encoding="utf-8")
        history = goodflight.fly(goodflight.load(truth)).history
    flown_s, up_m = np.array(history["time_s"]), np.array(history["up_m"])
    time_s = np.arange(-WAIT_S, flown_s[-1] + 2 * WAIT_S, EVERY_S)
    height_m = np.interp(time_s, flown_s, up_m - up_m[0], left=0.0, right=0.0)
    read_pa = pressure_pa(height_m) + SCATTER_PA * np.random.default_rng(1).normal(size=len(time_s))
    rows = [f"{t + WAIT_S:.2f},{p:.0f}" for t, p in zip(time_s, read_pa, strict=True)]
    to.write_text("\n".join(["time [s],pressure [Pa]", *rows]) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
