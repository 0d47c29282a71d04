"""What the drawn warmth of the workshop makes of every glue joint."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure import cured_share, time_factor
from goodflight.studies.case.joints import GluedJoint
from goodflight.studies.sampling import workshop
from goodflight.studies.sampling.drawn import Drawn

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class GlueState:
    """One glue joint on the day of the flight; None = its sheet or the builder does not say.

    cured : (n,) share of its strength, 0 to 1 [-]; glued_at_k : (n,) [K]; working_s : (n,) the time
    its glue left for the work [s].
    """

    cured: Array | None = None
    glued_at_k: Array | None = None
    working_s: Array | None = None


def glue_states(drawn: Drawn) -> tuple[GlueState, ...]:
    """Every glue joint of the workshop, in its order."""
    return tuple(_state(joint, drawn) for joint in drawn.case.workshop.joints)


def _state(joint: GluedJoint, drawn: Drawn) -> GlueState:
    if not joint.stays:
        return GlueState()
    warmth = np.stack([drawn.of(workshop.warmth, stay.place) for stay in joint.stays], axis=-1)
    activation = joint.activation_j_mol * drawn.of(workshop.cure_speed)
    cured = working = None
    if joint.cure_h is not None:
        hours = np.array([stay.hours for stay in joint.stays])
        cured = cured_share(
            hours,
            warmth,
            joint.cure_h,
            activation,
            label_temperature_k=joint.reference_k,
            stops_below_k=joint.min_k,
        )
    if joint.working_s is not None:
        slower = time_factor(warmth[:, 0], activation, joint.reference_k)
        working = joint.working_s * slower * drawn.of(workshop.working_time)
    return GlueState(cured, warmth[:, 0], working)
