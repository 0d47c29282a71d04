"""The separation in damp air: swollen shut after it was pulled in a dry room."""

import numpy as np

from goodflight.physics.recovery.swelling import (
    FRICTION,
    PAPER_PA,
    SWELLING,
    gap_lost_m,
    press_fit_pull_n,
)
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import Coupler, Nose, Tube
from goodflight.studies.asking import together
from goodflight.studies.case.planned import Case, joint_m
from goodflight.studies.rows.applies import not_here
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View
from goodflight.studies.rows.nose_joint import SAME_PLACE_M
from goodflight.studies.rows.parting import (
    GAS_NEEDS,
    HOLD_NEEDS,
    Gas,
    engaged_m,
    gas_of,
    hold_n,
    sliding_part,
)
from goodflight.studies.sampling import damp, separation

UNNAMED = "taken for paper, which swells: name its material if it is another"


def _around(case: Case, slides: Coupler | Nose, joint_m: float) -> Tube | None:
    """The tube it slides out of."""
    fore = isinstance(slides, Nose) or case.rocket.separation.coupler_in == "fore"
    tubes = [
        part
        for part in sorted(case.rocket.of_kind(Tube), key=lambda part: part.station_m)
        if part.station_m - SAME_PLACE_M <= joint_m <= part.station_m + part.length_m + SAME_PLACE_M
    ]
    return tubes[-1 if fore else 0] if tubes else None


def _of_paper(part: Part) -> bool:
    return part.material is None or part.material.family == "kraft"


def _wall_m(part: Part, tube: Tube) -> float:
    """Its wall; a nose's shoulder is taken as stiff as the tube, and does not swell."""
    return (part if isinstance(part, Coupler) else tube).wall_m


def _swollen(view: View) -> Evaluation | Missing:
    slides, joint = sliding_part(view.case), joint_m(view.case)
    tube = None if slides is None or joint is None else _around(view.case, slides, joint)
    both = (slides, tube) if slides is not None and tube is not None else ()
    papers = [each for each in both if _of_paper(each) and not isinstance(each, Nose)]
    if both and not papers:
        return not_here(view, "neither of the two that slide apart is of paper")
    gas, held, engaged = gas_of(view), hold_n(view), engaged_m(view)
    lacks = together(gas, held, engaged)
    if lacks is not None:
        return lacks
    assert isinstance(gas, Gas) and not isinstance(held, Missing)
    assert not isinstance(engaged, Missing)
    if slides is None or tube is None:
        return not_here(view, "nothing slides out of a tube where it separates")
    walls = _wall_m(slides, tube), _wall_m(tube, tube)
    swell = sum(wall for each, wall in zip(both, walls, strict=True) if each in papers)
    lost = gap_lost_m(view.of(damp.damper), swell * view.of(damp.swelling))
    overlap = lost - view.of(separation.gap)
    pull = press_fit_pull_n(overlap, gas.bore_m, walls, engaged)
    left = np.minimum(gas.push_n, gas.mean_push_n) - held
    told = tuple(f"{each.name} {UNNAMED}" for each in papers if each.material is None)
    return Evaluation(
        pull, left, np.isfinite(view.outcome("ejection_m_s")) & (left > 0.0), warnings=told
    )


ROWS = (
    LimitState(
        "swollen_shut",
        "Damp air swells the separation shut",
        phase="deployment",
        unit="force",
        more_is_worse=True,
        evaluate=_swollen,
        formula=(
            "{friction} x pressure of a press fit ({paper} of paper tubes) x area that touches, "
            "where the walls swell ({swelling} of their thickness, damp against dry) by more "
            "than the gap, against the charge's push less the pull measured before"
        ),
        sources=("tezuka1990", "memory", "derived"),
        needs=(damp.damper, damp.swelling, *HOLD_NEEDS, *GAS_NEEDS),
        constants={
            "friction": Constant(FRICTION, "ratio", "memory", note="paper on paper, 0.3 to 0.5"),
            "paper": Constant(PAPER_PA, "pressure", "tezuka1990"),
            "swelling": Constant(SWELLING, "ratio", "memory", note="0.03 from 30 to 80 %"),
        },
    ),
)
