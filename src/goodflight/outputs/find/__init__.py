"""Where to look: as text, map, route file and paper."""
