"""The clock of the workshop: hours ahead of universal time, or a zone whose clock is changed.

A zone is named as in the tz database (RFC 6557), like "Europe/Berlin"; where this machine has none,
hours are asked for.
"""

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any, Final
from zoneinfo import ZoneInfo

from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema

from goodflight.project.text_fields import TextField, fault, show_found

MOST_H: Final = 14.0


@dataclass(frozen=True)
class ZoneField(TextField):
    """Hours ahead of universal time, or the name of a zone of the tz database."""

    @property
    def wanted(self) -> str:
        """What an entry looks like, as a sentence part."""
        return 'hours like 2, from -14 to 14, or a zone like "Europe/Berlin"'

    @property
    def words(self) -> str:
        """The kind and its units."""
        return "hours, or name of a zone"

    @property
    def example(self) -> str:
        """An entry that is taken, in quotes."""
        return '"2"'

    def read(self, value: Any) -> float | str:
        """Turn a TOML value into hours or a zone's name, or refuse."""
        if isinstance(value, str):
            try:
                value = float(value)
            except ValueError:
                return self._named(value)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            if -MOST_H <= value <= MOST_H:
                return float(value)
            raise fault(show_found(value), self.wanted, "check the number")
        raise fault(show_found(value), self.wanted, "write a number, or a name in quotes")

    def _named(self, name: str) -> str:
        try:
            ZoneInfo(name)
        except (ValueError, OSError, LookupError):
            advice = "check the name, or write the hours: this machine may have no list of zones"
            raise fault(show_found(name), self.wanted, advice) from None
        return name

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": ["number", "string"], "description": self.wanted}


def ahead_h(zone: float | str, day: date) -> float:
    """Hours that a clock is ahead of universal time at noon of a day."""
    if isinstance(zone, float):
        return zone
    ahead = datetime.combine(day, time(12), ZoneInfo(zone)).utcoffset()
    return 0.0 if ahead is None else ahead.total_seconds() / 3600.0
