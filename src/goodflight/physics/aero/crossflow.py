"""Lift of the body from the air that streams across it.

Answers: at larger incidence a long body is pushed broadside and the centre of pressure moves
forward; how much? Drag of a cylinder in the cross-flow times a factor for its finite length.
Main sources: Allen & Perkins NACA 1048; Jorgensen NASA TR R-474; USAF DATCOM.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from goodflight.physics.aero.curves import CROSSFLOW_CD, CROSSFLOW_ETA


def crossflow_drag(crossflow_mach: ArrayLike) -> NDArray[np.float64]:
    """Drag coefficient of a long cylinder across the stream, on its side area.

    Parameters
        crossflow_mach : float or array - M sin(incidence). [-]
    Returns
        coefficient : array - Cdc. [-]
    Validity
        Below the drag crisis (cross-flow Reynolds number under about 2e5: a 100 mm body at
        30 m/s across). Past it [jorgensen1977] fig 3 has 0.27 to 0.9: this overstates the lift.
    Source
        [datcom1978] fig 4.2.1.2-35b; [jorgensen1977] fig 1 agrees within 0.06 below Mach 0.65.
    Example
        crossflow_drag(0.1) -> 1.2
    """
    return CROSSFLOW_CD(crossflow_mach)


def crossflow_eta(fineness: ArrayLike) -> NDArray[np.float64]:
    """Cross-flow drag of a body of finite length over that of an cylinder of infinite length.

    Parameters
        fineness : float or array - length over diameter. [-]
    Returns
        eta : array - factor. [-]
    Validity
        2 to 28, held outside; supersonic cross-flow tends to 1, not modelled.
    Source
        [datcom1978] fig 4.2.1.2-35a; [jorgensen1977] fig 4 agrees within 0.015.
    Example
        crossflow_eta(12.0) -> 0.71
    """
    return CROSSFLOW_ETA(fineness)
