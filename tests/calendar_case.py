"""A project of our own for the calendar: the demo's rocket, not begun, in a shed in winter."""

from pathlib import Path

from goodflight.project import Project, read_project

DEMO = Path(__file__).parents[1] / "src" / "goodflight" / "project" / "data" / "demo"
HEAD = """
launch_day = "2027-02-06"
starts = "2026-12-28"

[[person]]
name = "builder"
evening = "2 h"
weekend = "4 h"
late = "1 h"
off = ["2026-12-31", "2027-01-01"]

[[workplace]]
name = "shed"
kind = "shed"
temperature = "7 degC ± 2 degC"
night = "4 degC"
humidity = 0.7

[[workplace]]
name = "kitchen"
kind = "indoor"
temperature = "20 degC ± 1 degC"
humidity = 0.5

[[glue]]
name = "slow epoxy"
working_time = "40 min label"
handling = "8 h label"
cure = "24 h label"
reference = "25 degC label"
min_temperature = "5 degC label"

[[delivery]]
name = "parachute cloth"
day = "2027-01-08"
spread = "3 d"
steps = ["dry-fit"]

[[range_day]]
day = "2027-02-06"

[[range_day]]
day = "2027-02-27"
"""


def texts() -> dict[str, str]:
    """The files of the demo."""
    return {
        str(path.relative_to(DEMO)): path.read_text(encoding="utf-8")
        for path in sorted(DEMO.rglob("*"))
        if path.suffix in (".toml", ".csv", ".geojson") and ".schema" not in path.parts
    }


def project_texts(head: str = HEAD) -> dict[str, str]:
    """The files of the project, with a build.toml of its own."""
    shed = ("fins-on", "inner-fillets", "outer-fillets", "mount-in") if head else ()
    steps = "".join(f'\n[[step]]\nname = "{key}"\nworkplace = "shed"\n' for key in shed)
    return {**texts(), "build.toml": head + steps}


def project(head: str = HEAD) -> Project:
    """The project as read."""
    return read_project(project_texts(head))
