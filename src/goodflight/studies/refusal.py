"""A study that cannot be done for this rocket or plan, told as the builder would say it."""

from goodflight.quantity import Refused


class StudyRefused(Refused, ValueError):  # noqa: N818
    """The project is sound, but this question has no answer for it."""
