"""The code sets that ship with the package, as studies and tests name them."""

from typing import Final

from goodflight.project.codes import CONFIRM_KEYS, Clause, CodeSet, Limit, packaged_codes

CODE_SETS: Final = packaged_codes()
UNITED_STATES: Final = CODE_SETS["us"]

__all__ = ["CODE_SETS", "CONFIRM_KEYS", "UNITED_STATES", "Clause", "CodeSet", "Limit"]
