"""What no figure shows: the builder answers that a rule is met or not, or it stays unknown."""

from goodflight.physics.vehicle.parts import Cord
from goodflight.studies.asking import ROCKET, asked, choice, entry, of_plan, of_site
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.case.planned import Case
from goodflight.studies.results import Entry
from goodflight.studies.rows.model import Evaluation, Missing, View, full

MET, NOT_MET = "confirmed", "denied"


def answered(view: View, key: str, rule: str) -> Evaluation | None:
    """What the plan says of a rule: in its confirmed list, in its denied list, or nothing."""
    said = view.case.plan_says
    for words, there, fails in (
        (f"{rule}: the plan says it is not met", key in said.denied, 1.0),
        (f"{rule}: the plan says it is met", key in said.confirmed, 0.0),
    ):
        if there:
            return Evaluation(
                full(view, fails), full(view, 0.5), warnings=(words,), answered=said.confirmed_on
            )
    return None


def to_answer(view: View, key: str, label: str, how: str) -> Entry:
    """The question whether a rule is met."""
    both = ((MET, "yes, it is met"), (NOT_MET, "no"))
    return choice(of_plan(view.case, f"confirmed[{key}]"), label, how, both)


def no_stretch(cord: Cord) -> Missing | None:
    """What the pull of a cord waits for: nylon and aramid differ by six times in their stretch."""
    if cord.elongation_at_break > 0.0:
        return None
    how = "of the material on the reel, or hang a weight on it; nylon about 0.25, aramid 0.04"
    return asked(
        f"say how far the {cord.name} stretches before it breaks (elongation): nylon about 0.25, "
        "aramid 0.04",
        entry(
            f"{ROCKET}:part[{cord.name}].elongation",
            "stretch of the cord at its strength",
            how,
            dimension="ratio",
            instrument="reel",
            minutes=5.0,
        ),
    )


def no_code(case: Case) -> Missing:
    """What a row of the code waits for where the field names none."""
    return asked(
        "name the safety code that applies at this field",
        choice(
            f"{case.origin.site_path}:code",
            "safety code of the field",
            "ask whoever runs the launch; none of these may be the one that holds there",
            ((key, each.title) for key, each in CODE_SETS.items()),
        ),
    )


def people_away(case: Case) -> Entry:
    """Distance of the pad from those who have no part in the launch."""
    how = "from a map: the nearest person, house or road that has no part in the launch"
    return of_site(case, "people", "pad to people and property", how, 10.0)
