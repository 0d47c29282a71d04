"""How often things that are not computed go wrong elsewhere, each with its source.

Kept apart from every computed chance and shown only when asked for: other crews, other motors,
other counting. None of these is this rocket's chance.
"""

from typing import Final

from goodflight.studies.results import BaseRate

BASE_RATES: Final = (
    BaseRate(
        "motor bursts, chuffs or does not burn as it should, for each motor",
        0.01,
        "one club, 5000 to 6000 motors a year, up to 50 failures; its author calls it a rough "
        "guess, and reports are voluntary",
        "trade page",
        "seen (anecdote)",
    ),
    BaseRate(
        "a whole mission fails, sounding rockets with professional crews",
        0.13,
        "programme history: 0.87 met their least success criteria; complex payloads",
        "NASA Sounding Rocket Program Handbook 810-HB-SRP, section 2.10",
        "seen",
    ),
    BaseRate(
        "a school team has no valid qualifying flight in three tries",
        0.40,
        "about 0.60 of hundreds of teams had one; teams that never tried are counted too",
        "encyclopedia page on a national school contest",
        "seen",
    ),
    BaseRate(
        "split by recovery, motor, stability, structure and ignition",
        None,
        "a study of more than 6000 logged flights exists and was not obtained; no split is assumed",
        "special committee report, 29 Oct 2005, 118 pages",
        "seen (existence only)",
    ),
    BaseRate(
        "human error: charge left out, igniter not seated, switch off, parts forgotten",
        None,
        "no rate found; a written checklist read aloud is the remedy",
        "none",
        "none found",
    ),
)
