"""Every row that works something out is judged by hand in this folder."""

import re
from pathlib import Path

from goodflight.studies.rows import LIMIT_STATES

JUDGED = re.compile(r'judged\(\s*"([a-z_]+)"')


def test_every_row_has_a_value_worked_out_by_hand() -> None:
    here = Path(__file__).parent
    judged = {key for path in here.glob("*.py") for key in JUDGED.findall(path.read_text("utf-8"))}
    wanted = {row.key for row in LIMIT_STATES if row.kind != "statement"}
    assert wanted - judged == set(), "write a value test: see CONTRIBUTING.md, a row"
    assert judged <= {row.key for row in LIMIT_STATES}
