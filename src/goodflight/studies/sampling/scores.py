"""Standard-normal scores of the draws: Latin hypercube, one column a named quantity.

A column depends on the seed, its name and the number of draws only. Adding or removing another
quantity leaves it alone, so a remedy that adds a part is compared on the same draws.
"""

import hashlib
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _generator(seed: int, name: str) -> np.random.Generator:
    digest = hashlib.blake2b(f"{seed}/{name}".encode(), digest_size=16).digest()
    return np.random.Generator(np.random.SFC64(int.from_bytes(digest, "little")))


@lru_cache(maxsize=1024)
def column_scores(name: str, draws: int, seed: int) -> Array:
    """Scores (draws,) of one quantity: one value from each of `draws` equal strata, shuffled."""
    from scipy.special import ndtri  # slow to import; one flight needs no scores

    generator = _generator(seed, name)
    place = generator.permutation(draws) + generator.random(draws)
    scores: Array = ndtri(np.clip(place / draws, 1e-12, 1.0 - 1e-12))
    scores.setflags(write=False)
    return scores


def normal_scores(names: tuple[str, ...], draws: int, seed: int) -> Array:
    """Scores (draws, len(names)), one column a name."""
    return np.column_stack([column_scores(name, draws, seed) for name in names])


@lru_cache(maxsize=32)
def flight_seeds(draws: int, seed: int) -> NDArray[np.uint64]:
    """One seed a flight for its gust pattern."""
    seeds = _generator(seed, "gust pattern").integers(1, 2**63, size=draws, dtype=np.uint64)
    seeds.setflags(write=False)
    return seeds
