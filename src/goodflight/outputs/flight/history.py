"""The time history of a flight as CSV: one row per time, units in the column names (SI)."""

from goodflight.studies.results import FlightReport


def history_csv(report: FlightReport) -> str:
    """The whole history; the first column is `time_s`."""
    names = list(report.history)
    columns = [report.history[name] for name in names]
    lines = [",".join(names)]
    lines += [",".join(f"{value:.7g}" for value in values) for values in zip(*columns, strict=True)]
    return "\n".join(lines) + "\n"
