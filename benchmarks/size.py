"""What a search for a design costs, and whether flights it never saw say the same of its best.

Three fields: small, middling, large, each with the two motors of the example. Processor time of
this process, all its threads, the kernel compiled before. `python benchmarks/size.py [TRIES]`.
"""

import sys
import time

from goodflight.project import read_project
from goodflight.project.idea import example, read_idea
from goodflight.studies.questions.ledger import ledger
from goodflight.studies.questions.size import opened, size
from goodflight.studies.sizing.searching import TRIES

FIELDS = ("500 m x 400 m", "900 m x 700 m", "1600 m x 1400 m")
FLIGHTS = 900


def main() -> None:
    tries = int(sys.argv[1]) if len(sys.argv) > 1 else TRIES
    for count, field in enumerate(("warm up", *FIELDS)):
        idea = read_idea(
            {"idea.toml": example().replace(FIELDS[-1], field if count else FIELDS[0])}
        )
        start = time.process_time()
        study = size(idea, FLIGHTS if count else 40, 1, tries=tries if count else 5)
        spent = time.process_time() - start
        if not count:
            continue
        print(f"{field}: {spent:.1f} s of processor, {study.tried} designs")
        for design in study.designs:
            choice = design.choice
            print(
                f"  {choice.motor}: {100 * design.chance:.1f} in 100 ({100 * design.low:.0f} to "
                f"{100 * design.high:.0f}), {design.length_m:.2f} m, {design.liftoff_kg:.2f} kg, "
                f"{design.margin_cal:.1f} cal, spare {choice.spare_m:.2f} m, ballast "
                f"{choice.ballast_kg:.2f} kg"
            )
        project = read_project(opened(idea, study.designs[0].choice))
        again = sum(
            wind.share * ledger(project, wind.plan, wind.flights, 7919, remedies=False).chance
            for wind in study.designs[0].winds
        )
        print(f"  the first on other flights: {100 * again:.1f} in 100", flush=True)


if __name__ == "__main__":
    main()
