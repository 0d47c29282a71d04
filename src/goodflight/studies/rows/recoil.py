"""Row of the nose beside the fins: where both hang, and how fast the cord throws them together.

Whether a nose thrown back meets a fin is not computed: the motion after ejection is that of points
in one plane, and a pass of a hand's width is decided out of it. What prevents it is judged: that
the nose cannot reach the fins once both hang.
"""

from typing import Final

from goodflight.physics.aero.reading import scalar
from goodflight.physics.recovery.cord import DAMPING, cord_lengths
from goodflight.physics.recovery.hanging import fins_clear_m, rebound_m_s
from goodflight.physics.sources import Constant
from goodflight.physics.vehicle import body_length_m
from goodflight.physics.vehicle.parts import Cord
from goodflight.quantity.said import Words, said
from goodflight.studies.asking import asked, to_add, together
from goodflight.studies.case.planned import cord_of, fins_of, joint_m
from goodflight.studies.packing import Stack, stack_of
from goodflight.studies.rows.applies import point
from goodflight.studies.rows.cord import MOTION_NEEDS
from goodflight.studies.rows.model import Evaluation, LimitState, Missing, View, full
from goodflight.studies.rows.opening import NO_SEPARATION
from goodflight.studies.rows.packed import stack_m
from goodflight.studies.rows.parting import Parting, masses, parting_of, whole_cord_n_m
from goodflight.studies.rows.structure import NO_FINS
from goodflight.studies.sampling import recovery

CLEAR: Final = 0.5  # of the body's length
HIGH: Final = 95.0
_A_THIRD: Final = (
    "where the canopy is tied into the cord is not said: a third of it from the nose is taken, as "
    "is common practice; measure it along the cord"
)


def _no_cord(cord: Cord | None) -> Missing | None:
    """What is missing where nothing ties the two together."""
    if cord is not None:
        return None
    how = "its length and strength"
    return asked("add the cord between nose and booster", to_add("cord", "recovery cord", how))


def _hangs(view: View) -> Evaluation | Missing:
    case, cord, fins = view.case, cord_of(view.case), fins_of(view.case.rocket)
    joint, stack = joint_m(case), stack_of(case)
    lacks = together(
        NO_SEPARATION if joint is None else None,
        NO_FINS if fins is None else None,
        _no_cord(cord),
        stack if isinstance(stack, Missing) else None,
    )
    if lacks is not None:
        return lacks
    assert joint is not None and fins is not None and cord is not None
    assert isinstance(stack, Stack)
    lengths = cord_lengths(cord.length_m, cord.canopy_at_m)
    mouth = lengths.aft_m - stack_m(view, stack)  # the rest lies in the tube
    nose = lengths.fore_m, lengths.fore_m + joint
    behind = fins.station_m - joint, body_length_m(case.rocket) - joint
    clear = fins_clear_m(nose, (mouth + behind[0], mouth + behind[1]))
    wanted = CLEAR * scalar(case.tables, "length_m")
    told = () if cord.canopy_at_m is not None else (_A_THIRD,)
    return Evaluation(clear, full(view, wanted), warnings=(*told, *_thrown(view, cord)))


def _thrown(view: View, cord: Cord) -> tuple[Words, ...]:
    """How fast the cord throws nose and booster together, where the motion is known."""
    found = parting_of(view)
    if view.masks_only or not isinstance(found, Parting) or not found.opened.any():
        return ()
    nose, _, booster = masses(view)
    back = rebound_m_s(
        found.get("snatch_n"),
        stiffness_n_m=whole_cord_n_m(view, cord),
        one_kg=nose,
        other_kg=booster,
        damping=DAMPING * view.of(recovery.cord_damping),
    )
    words = (
        "the cord, snapped tight, throws nose and booster together at {middle}, {high} or more in "
        "5 of 100 flights; whether they meet is not computed: no count was found, it is common "
        "practice to look for a struck fin after every flight"
    )
    middle, high = (point(back, percent) for percent in (50.0, HIGH))
    return (said(words, middle=(middle, "speed"), high=(high, "speed")),)


ROWS = (
    LimitState(
        "nose_by_fins",
        "Nose can swing against the fins",
        phase="descent",
        unit="length",
        more_is_worse=False,
        evaluate=_hangs,
        formula=(
            "height between the nose and the fins as both hang from the canopy: the cord from the "
            "canopy to the booster, less what lies in the tube, and the tube up to the fins, "
            "against the cord to the nose and the part ahead of the separation; or the nose below "
            "the tail. At least {clear} of the body's length"
        ),
        sources=("practice",),
        needs=MOTION_NEEDS,
        constants={"clear": Constant(CLEAR, "ratio", "practice")},
        kind="rule",
        thumb=True,
    ),
)
