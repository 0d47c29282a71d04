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
        "parts strike each other after ejection and break",
        None,
        "no count was found and none is assumed; what prevents it is the row of the nose beside "
        "the fins, what shows it a look at both after every flight",
        "common practice, no source",
        "memory",
    ),
    BaseRate(
        "recovery is not nominal, of student flights (dual deployment, mentored)",
        13.0 / 44.0,
        "31 of 44 nominal in April 2018; main open early 7, tangled 5, nothing opened 1",
        "NASA Student Launch 2018 tally, passed on by a mentor",
        "seen second-hand",
    ),
    BaseRate(
        "the team comes and the rocket does not fly",
        12.0 / 131.0,
        "5 of 44 (2011), 6 of 54 (2013), 1 of 33 (2009)",
        "NASA Marshall press releases",
        "seen",
    ),
)
