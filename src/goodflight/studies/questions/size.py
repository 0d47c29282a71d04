"""Which rocket to build, from what is at hand: whole designs by their chance over a season's winds.

Searched for every motor at hand; what is shown is flown anew with more flights, each as the
project it opens as, so the ledger of that project says the same. Left out: what no idea can have
yet (pulls, glue, what is to be confirmed); it is listed and counts as not known.
"""

from collections.abc import Callable
from typing import Final

from goodflight.project.idea import Idea, assumptions
from goodflight.project.idea_design import Design, DoesNotFit
from goodflight.project.idea_texts import texts_of
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.sizing.finals import (
    broken,
    chance_of,
    counts,
    flown,
    least_effort,
    sized,
    to_find_out,
    unlike,
    verdict_of,
)
from goodflight.studies.sizing.results import Assumed, NoDesign, SizeStudy
from goodflight.studies.sizing.searching import TRIES, families, searched
from goodflight.studies.sizing.trying import Tried, Trying

Progress = Callable[[str, float], None]
PER_MOTOR: Final = 3  # designs of a motor that are flown in full
SEARCH_SHARE: Final = 0.85  # of the work
ASSUMED: Final = (
    ("the nose is printed, 2 mm thick, with a plate", "rocket.toml"),
    ("fins are set in a guide, 0.3 deg from straight", "rocket.toml, alignment"),
    ("glue weighs 1.1 g for each mm of diameter, paint 75 g a square metre", "rocket.toml"),
    ("gusts are 1.6 times the mean wind, and it is 15 degC", "plans.toml"),
    ("the motor's own charge opens it, and a cap holds the motor", "rocket.toml, plans.toml"),
    ("evenings of two to three hours, as common practice has them", "evenings"),
)


def size(
    idea: Idea,
    flights: int = 900,
    seed: int = 1,
    progress: Progress | None = None,
    tries: int = TRIES,
) -> SizeStudy:
    """Which rocket to build from what is at hand, and how likely each design fails over a season?

    Parameters
        idea : Idea - field, winds, what is at hand, what is carried. [-]
        flights : int - of each design shown, shared among the winds by their weights. [-]
        seed : int - same seed, same answer on one machine. [-]
        progress : callable or None - told (what, share done). [-]
        tries : int - designs tried for each motor, about. [-]
    Returns
        study : SizeStudy - three designs that differ, the least chance first. [SI]
    Raises
        ProjectErrors - a file in motors/ or sites/ has faults.
    Validity
        As the ledger. The search is not exhaustive: another seed may find one a little better.
    Source
        Differential evolution: [storn1997]; the same rows as the ledger.
    """
    trying, found = Trying(idea, seed), dict[str, list[tuple[Tried, ...]]]()
    count = 0
    for number, motor in enumerate(idea.motors):
        tell = _part(progress, number, len(idea.motors))
        one_motor = searched(trying, motor, tries, tell)
        count += len(one_motor)
        found[motor] = families(trying, one_motor)
    finals = []
    for number, like in enumerate(chosen := _finalists(found)):
        if progress is not None:
            share = SEARCH_SHARE + (1.0 - SEARCH_SHARE) * number / len(chosen)
            progress(f"flying the best designs, {number + 1} of {len(chosen)}", share)
        finals.append(least_effort(trying, [flown(trying, one, flights, seed) for one in like]))
    finals.sort(key=lambda each: (len(broken(trying, each)), chance_of(trying, each)))
    shown = unlike(finals)
    designs = tuple(sized(trying, one, shown[0], i + 1) for i, one in enumerate(shown))
    return SizeStudy(
        rocket=idea.said.name,
        level=idea.said.level,
        verdict=verdict_of(designs),
        designs=designs,
        in_the_way=(*designs[0].rules, *designs[0].rows)
        if designs and verdict_of(designs) == "fails"
        else (),
        no_design=tuple(
            NoDesign(motor, trying.why.get(motor, "no design could be flown"))
            for motor, each in found.items()
            if not each
        ),
        to_find_out=to_find_out(shown[0].rows[0]) if shown else (),
        assumed=tuple(Assumed(*each) for each in (*assumptions(idea), *ASSUMED)),
        tried=count,
        flights=sum(counts(trying, flights)),
        seed=seed,
        warnings=(
            "A search finds good designs, not proof that there is no better one.",
            WHO_DECIDES,
        ),
    )


def opened(idea: Idea, choice: Design) -> dict[str, str]:
    """The files of the project that a design opens as, by path inside its folder.

    Parameters
        idea : Idea - as it was asked. [-]
        choice : Design - `choice` of one of its designs. [SI]
    Returns
        files : dict - a project that loads. [-]
    Raises
        ValueError - it does not fit this idea.
    """
    laid = Trying(idea, 1).laid(choice)
    if isinstance(laid, DoesNotFit):
        raise ValueError(f"this design does not fit the idea any more: {laid.why}")
    return texts_of(idea, choice, laid)


def _part(progress: Progress | None, number: int, of: int) -> Progress | None:
    if progress is None:
        return None
    return lambda what, share: progress(what, SEARCH_SHARE * (number + share) / of)


def _finalists(found: dict[str, list[tuple[Tried, ...]]]) -> list[tuple[Tried, ...]]:
    """The best of every motor, of as many tubes and canopies as are shown, and its lighter likes.

    As many of each, whatever else is at hand: another motor makes none of them worse.
    """
    return [pair for each in found.values() for pair in each[:PER_MOTOR]]
