"""Names and words that go into a sentence with figures as they are, braces and all."""


def literal(text: str) -> str:
    """The text as part of a `Said`, whose figures stand in braces."""
    return text.replace("{", "{{").replace("}", "}}")


def canopy_words(name: str, otherwise: str = "") -> str:
    """A canopy by its name; where that does not say what it is, "canopy NAME" or other words."""
    return name if "canopy" in name.lower() else otherwise or f"canopy {name}"
