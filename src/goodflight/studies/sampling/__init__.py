"""Everything uncertain about a planned flight, as joint samples that are flown."""
