"""A calendar of the build: who works when, what cures meanwhile, and whether launch day holds."""
