"""Each known mistake, one change to a well-built rocket, fails its own row and no stranger's.

Both fly the same flights, so a row that has nothing to do with the change does not move but by
paired noise (`flown.moved`). Rows that do have to do with it stand beside it with the reason.
"""

import pytest
from flown import chance, flown, moved
from mistakes import MISTAKES, Mistake
from show import BAND, WRONG

pytestmark = pytest.mark.slow


def marked(mistake: Mistake, why: str) -> object:
    marks = pytest.mark.xfail(reason=why, strict=True) if why else ()
    return pytest.param(mistake, id=mistake.name, marks=marks)


@pytest.mark.parametrize("mistake", [marked(m, m.missing) for m in MISTAKES])
def test_a_known_mistake_fails_its_own_row(mistake: Mistake) -> None:
    before, after = flown(mistake.before, WRONG), flown(mistake.after, WRONG)
    if mistake.unknown:
        assert not before.rows[mistake.row].missing
        assert after.rows[mistake.row].missing
        return
    assert chance(before, mistake.row) < BAND[1]
    assert chance(after, mistake.row) > 50.0


@pytest.mark.parametrize("mistake", [marked(m, m.astray) for m in MISTAKES])
def test_a_known_mistake_leaves_other_rows_alone(mistake: Mistake) -> None:
    found = moved(flown(mistake.before, WRONG), flown(mistake.after, WRONG))
    strays = {key: change for key, change in found.items() if key not in mistake.expected}
    assert not strays, f"rows that moved, in 100 before and after: {strays}"


def test_there_are_thirty_mistakes_and_none_is_twice_in_the_table() -> None:
    assert len({mistake.name for mistake in MISTAKES}) == len(MISTAKES) >= 30
