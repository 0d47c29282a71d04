"""The calendar of the build: terminal, printed page, iCalendar text."""
