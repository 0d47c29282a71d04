"""How far a thrust curve lies from what the motor's label says."""

from dataclasses import dataclass
from typing import Final

from goodflight.physics.motor.curve import impulse_class, rated_mean_n, total_impulse_ns
from goodflight.physics.motor.model import Motor

IMPULSE_NOTICED: Final = 0.02  # a batch's own scatter, the default of impulse_spread
MEAN_NOTICED: Final = 0.10  # half of what the standard allows; a guess
MEAN_ALLOWED: Final = 0.20  # [nfpa1125], seen second-hand


@dataclass(frozen=True)
class Gap:
    """A figure of the label beside the curve's. share : curve over label, less one."""

    what: str  # total impulse | mean thrust
    dimension: str
    label: float  # [SI]
    curve: float  # [SI]

    @property
    def share(self) -> float:
        """How far the curve lies above the label, as a share of the label [-]."""
        return self.curve / self.label - 1.0


def label_gaps(motor: Motor) -> tuple[Gap, ...]:
    """Figures of the label that the curve misses by more than it should.

    Total impulse beyond a batch's scatter of 2 %; mean thrust, from 5 % of the greatest thrust on,
    beyond 10 %: the standard allows 20 %.

    Parameters
        motor : Motor - with what its label says. [-]
    Returns
        gaps : tuple of Gap - empty when the label says nothing or the curve agrees. [SI]
    Validity
        A label rounds: mean thrust to whole newtons.
    Source
        [nfpa1125] labelled mean thrust within 20 % of the measured one, seen second-hand.
    Example
        >>> import dataclasses
        >>> plain = Motor("m", (0, 1, 2), (0, 10, 0), 0.01, 0.03, 0.1, 0.024, 5.0)
        >>> label_gaps(dataclasses.replace(plain, label_impulse_ns=9.5))[0].what
        'total impulse'
    """
    found = []
    if motor.label_impulse_ns is not None:
        gap = Gap("total impulse", "impulse", motor.label_impulse_ns, total_impulse_ns(motor))
        found += [gap] if abs(gap.share) > IMPULSE_NOTICED else []
    if motor.label_mean_n is not None:
        gap = Gap("mean thrust", "force", motor.label_mean_n, rated_mean_n(motor))
        found += [gap] if abs(gap.share) > MEAN_NOTICED else []
    return tuple(found)


def letter_of_curve(motor: Motor) -> str:
    """The curve's class letter where the designation has another one, else empty.

    Parameters
        motor : Motor - with the letter of its designation. [-]
    Returns
        letter : str - the curve's; empty when they agree or the label names none. [-]
    Raises
        ValueError - the curve lies outside every class
    Validity
        A letter alone says little: the classes are a factor of two wide.
    Source
        [nfpa1125] class bounds, memory.
    Example
        >>> letter_of_curve(Motor("m", (0, 1, 2), (0, 10, 0), 0.01, 0.03, 0.1, 0.024, 5.0))
        ''
    """
    found = impulse_class(total_impulse_ns(motor)).letter
    return found if motor.label_letter and motor.label_letter != found else ""
