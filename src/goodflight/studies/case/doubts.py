"""What of a planned flight can be so and is probably not meant, in sentences."""

from goodflight.physics.motor.label import MEAN_ALLOWED, label_gaps, letter_of_curve
from goodflight.physics.motor.model import Motor
from goodflight.project.fit_checks import mount_doubt
from goodflight.quantity import show
from goodflight.studies.case.planned import Case


def doubts_of(case: Case) -> tuple[str, ...]:
    """Doubts of the project's files, of the motor's label, and of the motor in its mount."""
    return (*case.origin.warnings, *motor_doubts(case, case.motor))


def motor_doubts(case: Case, motor: Motor) -> tuple[str, ...]:
    """Doubts about one motor in this rocket."""
    found = [*label_doubts(motor), mount_doubt(case.rocket, motor)]
    return tuple(each for each in found if each)


def label_doubts(motor: Motor) -> tuple[str, ...]:
    """Where the thrust curve of a motor and its label disagree, with the figures."""
    found = []
    for gap in label_gaps(motor):
        curve, label = (show(each, gap.dimension) for each in (gap.curve, gap.label))
        words = (
            f"{motor.name}: the thrust curve has {curve} of {gap.what}, its label {label}, "
            f"{100 * gap.share:+.0f} %"
        )
        if gap.what == "mean thrust" and abs(gap.share) > MEAN_ALLOWED:
            words += f", more than the {100 * MEAN_ALLOWED:.0f} % a label may be off"
        found.append(f"{words}; the curve is flown: look for a better one")
    letter = letter_of_curve(motor)
    if letter:
        found.append(
            f"{motor.name}: by its curve a motor of class {letter}, by its label of class "
            f"{motor.label_letter}; check both"
        )
    return tuple(found)
