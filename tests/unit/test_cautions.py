"""One list of cautions: every key in use exists, and every caution is said somewhere."""

from goodflight.outputs.bench.book import IN_BOOK
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.steps import steps_of
from goodflight.studies.cautions import CAUTIONS, cautions_of
from goodflight.studies.levers import LEVERS

AT_THE_FIELD = {"switches", "misfire", "landed"}  # said on what is taken to the field


def test_every_key_in_use_is_a_caution_and_every_caution_is_used() -> None:
    levers = {lever.caution for lever in LEVERS if lever.caution}
    steps = {key for step in steps_of(read_project(demo_files())) for key in step.cautions}
    used = levers | steps | set(IN_BOOK)
    assert used <= set(CAUTIONS)
    assert set(CAUTIONS) - used == AT_THE_FIELD


def test_what_takes_from_a_delay_or_changes_powder_carries_its_caution() -> None:
    by_key = {lever.key: lever.caution for lever in LEVERS}
    assert (by_key["delay_out"], by_key["powder"], by_key["motor"]) == ("delay", "powder", "motor")
    (told,) = cautions_of(("delay", "", "delay"))
    assert "not every motor may be drilled" in told and "maker" in told
