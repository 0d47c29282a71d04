"""Whether predictions were right, in words, with the small number of flights said."""

from typing import Final

from goodflight.studies.debriefing.book import Kept
from goodflight.studies.debriefing.calibration import BandScore, Calibration, ChanceGroup, Scored

FEW: Final = 30  # predictions; below, said to be few: our guess
FEW_BANDS: Final = 5  # flights; below, bands are not said to be wrong: our guess
NONE: Final = (
    "No flight with a prediction made before it yet. Keep the prediction before the next flight; "
    "afterwards it is laid beside what happened."
)
OF: Final = {"flights": "flights that failed", "rows": "single ways to fail that happened"}
TOGETHER: Final = (
    "Figures and ways to fail of one flight hang together, so these intervals are too narrow."
)


def in_100(share: float) -> str:
    """A share as so many in 100."""
    hundred = 100.0 * share
    whole = hundred >= 9.95 or hundred == round(hundred)
    return f"{hundred:.0f}" if whole else f"{hundred:.1f}"


def kept_words(flight: str, said: Kept) -> str:
    """What was kept of a flight, and when."""
    when = "made afterwards: it does not count" if said.afterwards else "before the flight"
    unknown = f", {len(said.unknown)} ways to fail not known" if said.unknown else ""
    return (
        f"Prediction kept in flights/{flight}/prediction.json, {said.made[:16].replace('T', ' ')}, "
        f"{when}: fails in {in_100(said.chance)} of 100{unknown}."
    )


def right_words(found: Calibration) -> tuple[str, ...]:
    """Were the predictions right: counts, score, bands, and how little a few flights say."""
    if not found.flights:
        return (NONE, *found.left_out)
    said = [words for each in found.scored for words in scored_words(each)]
    said += [band_words(each, len(found.flights)) for each in found.bands]
    if found.bands or len(found.scored) > 1:
        said.append(TOGETHER)
    return (*said, *(f"left out: {each}" for each in found.left_out))


def scored_words(each: Scored) -> tuple[str, ...]:
    """Chances said against what happened, and the score."""
    verdict = "so they fit" if each.fits else "so they do not fit"
    count = "flight" if each.of == "flights" else "chance"
    first = (
        f"{OF[each.of]}: {each.happened} of {each.predicted}; predicted were {each.expected:.1f}. "
        f"The exact 95 % interval of {each.happened} of {each.predicted} is {each.low:.1f} to "
        f"{each.high:.1f}, {verdict}."
    )
    few = ""
    if each.of == "flights" and each.predicted < FEW:
        few = (
            f" {each.predicted} {count}{'s' if each.predicted > 1 else ''}: any true chance from "
            f"{in_100(each.low / each.predicted)} to {in_100(each.high / each.predicted)} in 100 "
            "agrees with that, too few to say more."
        )
    score = each.brier
    parts = (
        f"Brier score {score.score:.4f} = reliability {score.reliability:.4f} - resolution "
        f"{score.resolution:.4f} + uncertainty {score.uncertainty:.4f} + within groups "
        f"{score.within:+.4f} (0 is best)."
    )
    return (first + few, parts, *(group_words(group) for group in each.groups))


def group_words(each: ChanceGroup) -> str:
    """Chances of about the same size."""
    return (
        f"said {in_100(each.least)} to {in_100(each.most)} in 100 (mean {in_100(each.said)}): "
        f"{each.happened} of {each.predicted} happened, {in_100(each.low)} to "
        f"{in_100(each.high)} in 100 fit"
    )


def band_words(each: BandScore, flights: int) -> str:
    """One width of bands; the figures of a few flights are no proof against them."""
    fits = each.low <= each.share / 100.0 <= each.high
    count = f"{flights} flight{'s' if flights > 1 else ''}"
    wrong = f"which the band does not hold; {count} alone: too few to say that it is wrong"
    if flights >= FEW_BANDS:
        wrong = "so the bands are wrong"
    return (
        f"bands for {each.share} in 100: {each.inside} of {each.measured} measured figures inside; "
        f"{in_100(each.low)} to {in_100(each.high)} in 100 fit" + ("" if fits else f", {wrong}")
    )
