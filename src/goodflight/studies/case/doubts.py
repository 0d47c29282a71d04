"""What of a planned flight can be so and is probably not meant, in sentences."""

from goodflight.physics.motor.label import MEAN_ALLOWED, label_gaps, letter_of_curve
from goodflight.physics.motor.model import Motor
from goodflight.project.fit_checks import mount_doubt
from goodflight.quantity.said import Words, literal, said
from goodflight.studies.case.planned import Case


def doubts_of(case: Case) -> tuple[Words, ...]:
    """Doubts of the project's files, of the motor's label, and of the motor in its mount."""
    return (*case.origin.warnings, *motor_doubts(case, case.motor))


def motor_doubts(case: Case, motor: Motor) -> tuple[Words, ...]:
    """Doubts about one motor in this rocket."""
    out = mount_doubt(case.rocket, motor)
    return (*label_doubts(motor), *(() if out is None else (out,)))


def label_doubts(motor: Motor) -> tuple[Words, ...]:
    """Where the thrust curve of a motor and its label disagree, with the figures."""
    found = list[Words]()
    for gap in label_gaps(motor):
        words = (
            f"{literal(motor.name)}: the thrust curve has {{curve}} of {gap.what}, its label "
            f"{{label}}, {100 * gap.share:+.0f} %"
        )
        if gap.what == "mean thrust" and abs(gap.share) > MEAN_ALLOWED:
            words += f", more than the {100 * MEAN_ALLOWED:.0f} % a label may be off"
        found.append(
            said(
                f"{words}; the curve is flown: look for a better one",
                curve=(gap.curve, gap.dimension),
                label=(gap.label, gap.dimension),
            )
        )
    letter = letter_of_curve(motor)
    if letter:
        found.append(
            f"{motor.name}: by its curve a motor of class {letter}, by its label of class "
            f"{motor.label_letter}; check both"
        )
    return tuple(found)
