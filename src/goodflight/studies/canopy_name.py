"""How a canopy is called, whatever its name says."""


def canopy_words(name: str, otherwise: str = "") -> str:
    """A canopy by its name; where that does not say what it is, "canopy NAME" or other words."""
    return name if "canopy" in name.lower() else otherwise or f"canopy {name}"
