"""What glue joints and fins make of the drawn warmth and alignment, for the rows of structure."""

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure import cured_share, time_factor
from goodflight.studies.case.planned import Case, fins_of
from goodflight.studies.case.workshop import GluedJoint
from goodflight.studies.sampling import airframe, workshop
from goodflight.studies.sampling.drawn import Drawn

Array = NDArray[np.float64]


def structure_side(case: Case, drawn: Drawn) -> dict[str, Array]:
    """Worst fin and state of every glue joint of each flight, name -> (n,)."""
    side = {}
    fins = fins_of(case.rocket)
    if fins is not None:
        cants = np.stack([drawn.of(airframe.cant, str(i + 1)) for i in range(fins.count)])
        side["fin_off_rad"] = np.abs(cants - fins.cant_rad).max(axis=0)
        side["fin_cant_rad"] = np.abs(cants).max(axis=0)
    for number, joint in enumerate(case.workshop.joints):
        side |= _joint_side(number, joint, drawn)
    return side


def _joint_side(number: int, joint: GluedJoint, drawn: Drawn) -> dict[str, Array]:
    if not joint.stays:
        return {}
    warmth = np.stack([drawn.of(workshop.warmth, stay.place) for stay in joint.stays], axis=-1)
    activation = joint.activation_j_mol * drawn.of(workshop.cure_speed)
    found = {f"glued_at_{number}_k": warmth[:, 0]}
    if joint.cure_h is not None:
        hours = np.array([stay.hours for stay in joint.stays])
        found[f"cured_{number}"] = cured_share(
            hours, warmth, joint.cure_h, activation,
            label_temperature_k=joint.reference_k, stops_below_k=joint.least_k,
        )  # fmt: skip
    if joint.working_s is not None:
        slower = time_factor(warmth[:, 0], activation, joint.reference_k)
        found[f"working_{number}_s"] = joint.working_s * slower * drawn.of(workshop.working_time)
    return found
