"""The field from above: outline, landings and names on a map, and in sentences."""
