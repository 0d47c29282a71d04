"""The search: for every motor at hand by itself, the design of least chance to fail.

Each motor's search has a seed of its own, so another motor at hand changes nothing for the others.
Differential evolution [storn1997] over whole numbers: which pieces, and sizes in steps a builder
cuts to.
"""

from collections.abc import Callable
from typing import Final
from zlib import crc32

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import differential_evolution
from scipy.stats import qmc

from goodflight.project.idea_design import Design
from goodflight.studies.sizing.trying import CANNOT, Tried, Trying, effort

Progress = Callable[[str, float], None]
Genes = tuple[int, ...]
TRIES: Final = 56  # designs of each motor
POPULATION: Final = 14  # of them at first, spread over all there is; then as many at a time
FEWEST: Final = 5
# sizes as (first, step, steps), fins and nose in calibres, the rest in SI
ROOT: Final = (1.2, 0.1, 13)
SPAN: Final = (0.6, 0.05, 18)
NOSE: Final = (2.5, 0.25, 8)
SPARE: Final = (0.0, 0.03, 10)
BALLAST: Final = (0.0, 0.02, 10)
SPARE_AT: Final = 8  # its place in the genes
TILT: Final = (0.0, 0.03490658503988659, 3)  # 2 deg
CUT_M: Final = 0.005  # sizes are whole multiples


def searched(
    trying: Trying, motor: str, tries: int = TRIES, tell: Progress | None = None
) -> dict[Genes, Tried]:
    """Every design of a motor that was flown in the search for the best; `tries` of them, about."""
    found: dict[Genes, Tried] = {}
    worse: dict[Genes, float] = {}
    bounds = _bounds(trying)
    seed = trying.seed ^ crc32(motor.encode())
    population = min(POPULATION, max(FEWEST, tries))
    generations = max(0, tries // population - 1)
    most = population * (generations + 1)

    def try_one(raw: NDArray[np.float64]) -> float:
        genes = tuple(int(x) for x in np.rint(raw))
        if genes not in worse:
            if tell is not None:
                tell(
                    f"{motor}: design {len(worse) + 1}, best {_best(found)}",
                    min(1.0, len(worse) / most),
                )
            one = trying.tried(_design(trying, motor, genes), genes[-1])
            worse[genes] = one if isinstance(one, float) else one.worse
            if isinstance(one, Tried):
                found[genes] = one
        return worse[genes]

    lows, highs = np.array(bounds, dtype=np.float64).T
    spread = qmc.LatinHypercube(len(bounds), rng=np.random.default_rng(seed))
    first = np.floor(lows + spread.random(population) * (highs - lows + 1.0))
    first[0] = _usual(bounds)
    differential_evolution(
        try_one,
        bounds,
        init=np.clip(first, lows, highs),
        maxiter=generations,
        integrality=np.ones(len(bounds), dtype=bool),
        rng=np.random.default_rng(seed),
        polish=False,
        tol=0.0,
        atol=0.0,
        mutation=(0.4, 0.9),
        recombination=0.8,
    )
    for genes in _leaders(found):  # body length that what must fit does not need: is it of use?
        for spare in {0, genes[SPARE_AT] // 2}:
            try_one(np.array([*genes[:SPARE_AT], spare, *genes[SPARE_AT + 1 :]], dtype=float))
    return found


def _leaders(found: dict[Genes, Tried]) -> list[Genes]:
    """The best of every tube and canopy."""
    best: dict[tuple[int, int], Genes] = {}
    for genes, one in sorted(found.items(), key=lambda each: each[1].worse):
        if one.worse < CANNOT:
            best.setdefault((genes[0], genes[2]), genes)
    return list(best.values())


def _best(found: dict[Genes, Tried]) -> str:
    least = min((each.chance for each in found.values()), default=None)
    return "none yet" if least is None else f"{100 * least:.0f} in 100"


def _bounds(trying: Trying) -> list[tuple[int, int]]:
    """In the order of `_design`, the place of the delay last."""
    said = trying.idea.said
    lists = (said.tube, said.sheet, said.canopy, said.cord)
    steps = (ROOT, SPAN, NOSE, SPARE, BALLAST, TILT)
    return [
        *((0, len(each) - 1) for each in lists),
        (3, 4),
        *((0, n) for _, _, n in steps),
        (-1, 1),
    ]


def _usual(bounds: list[tuple[int, int]]) -> list[float]:
    """A design of usual proportions, in every search: fins of about a calibre, no ballast."""
    return [*(float(low) for low, _ in bounds[:4]), 3.0, 7.0, 8.0, 4.0, 2.0, 0.0, 1.0, 0.0]


def _sized(step: tuple[float, float, int], place: int, calibre_m: float = 1.0) -> float:
    first, by, _ = step
    size = (first + by * place) * calibre_m
    return round(size / CUT_M) * CUT_M if calibre_m != 1.0 else size


def _design(trying: Trying, motor: str, genes: Genes) -> Design:
    tube, sheet, canopy, cord, fins, root, span, nose, spare, ballast, tilt, _ = genes
    wide = trying.idea.said.tube[tube].outer_diameter.value
    return Design(
        motor=motor,
        delay_out_s=0.0,
        tube=tube,
        mount=_mount(trying, motor),
        sheet=sheet,
        canopy=canopy,
        cord=cord,
        fin_count=fins,
        root_m=_sized(ROOT, root, wide),
        span_m=_sized(SPAN, span, wide),
        nose_m=_sized(NOSE, nose, wide),
        spare_m=_sized(SPARE, spare),
        ballast_kg=round(_sized(BALLAST, ballast), 3),
        tilt_rad=_sized(TILT, tilt),
    )


def _mount(trying: Trying, motor: str) -> int:
    """The narrowest mount that takes a motor; the widest where none does."""
    wide = trying.across_m(motor)
    mounts = list(enumerate(trying.idea.said.mount))
    taking = [
        (each.inner_diameter.value, i) for i, each in mounts if each.inner_diameter.value >= wide
    ]
    return (
        min(taking)[1] if taking else max((each.inner_diameter.value, i) for i, each in mounts)[1]
    )


def families(trying: Trying, found: dict[Genes, Tried]) -> list[tuple[Tried, ...]]:
    """Designs of every motor, tube and canopy together, the best kind first.

    Of each kind the best, and that of least effort that the flights cannot tell from it.
    """
    kinds: dict[tuple[str, int, int], list[Tried]] = {}
    for _, one in sorted(found.items()):
        if one.worse < CANNOT:
            key = (one.design.motor, one.design.tube, one.design.canopy)
            kinds.setdefault(key, []).append(one)
    pairs = []
    for like in kinds.values():
        best = min(like, key=lambda each: each.worse)
        tied = (each for each in like if trying.tied(each, best))
        least = min(tied, key=lambda each: effort(each, best))
        pairs.append((best,) if least is best else (best, least))
    return sorted(pairs, key=lambda pair: pair[0].worse)
