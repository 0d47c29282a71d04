"""From a project to one planned flight: everything a flight needs, with no file behind it."""
