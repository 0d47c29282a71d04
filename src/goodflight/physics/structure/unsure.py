"""What is left of a strength where the worst is known and what was done is not.

Left out: grain at a slant, and paper that dries or takes up water on the day.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float
Array = NDArray[np.float64]

# paper at 80 % of humidity, 3 to 4.5 % of moisture more: 8.3 % each, 0.77 to 0.68, seen
DAMP_SHARE: Final = 0.7


def share_left(worst: float, drawn: Values) -> Array:
    """Share of a strength, anywhere between the worst and all: worst + (1 - worst) drawn.

    Parameters
        worst : float - share that is left in the worst case, 0 to 1. [-]
        drawn : float or array - 0 to 1, each as likely. [-]
    Returns
        share : array - of the strength. [-]
    Raises
        nothing
    Validity
        Never more than the strength itself: not knowing does not help.
    Source
        Ours; what is worst comes from its own source.
    Example
        >>> share_left(0.2, 0.5).tolist()
        0.6
    """
    return np.asarray(worst + (1.0 - worst) * np.asarray(drawn, dtype=np.float64))
