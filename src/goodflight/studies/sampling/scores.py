"""Standard-normal scores of the flights: Latin hypercube, one column a named quantity.

A column depends on the seed, its name and the number of flights only. Adding or removing another
quantity leaves it alone, so a remedy that adds a part is compared on the same flights.
"""

import hashlib
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
MAX_KEPT: Final = 4_000_000  # scores, 32 MB: larger tables are made anew


def _generator(seed: int, name: str) -> np.random.Generator:
    digest = hashlib.blake2b(f"{seed}/{name}".encode(), digest_size=16).digest()
    return np.random.Generator(np.random.SFC64(int.from_bytes(digest, "little")))


@lru_cache(maxsize=1024)
def column_scores(name: str, flights: int, seed: int) -> Array:
    """Scores (flights,) of one quantity: one from each of `flights` equal strata, shuffled."""
    from scipy.special import ndtri  # slow to import; one flight needs no scores

    generator = _generator(seed, name)
    place = generator.permutation(flights) + generator.random(flights)
    scores: Array = ndtri(np.clip(place / flights, 1e-12, 1.0 - 1e-12))
    scores.setflags(write=False)
    return scores


def normal_scores(names: tuple[str, ...], flights: int, seed: int) -> Array:
    """Scores (flights, len(names)), one column a name; read-only."""
    make = _kept_scores if flights * len(names) <= MAX_KEPT else _kept_scores.__wrapped__
    return make(names, flights, seed)


@lru_cache(maxsize=4)
def _kept_scores(names: tuple[str, ...], flights: int, seed: int) -> Array:
    scores = np.column_stack([column_scores(name, flights, seed) for name in names])
    scores.setflags(write=False)
    return scores


@lru_cache(maxsize=32)
def flight_seeds(flights: int, seed: int) -> NDArray[np.uint64]:
    """One seed a flight for its gust pattern."""
    seeds = _generator(seed, "gust pattern").integers(1, 2**63, size=flights, dtype=np.uint64)
    seeds.setflags(write=False)
    return seeds
