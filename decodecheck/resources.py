"""Where the data files are: `rules/` in a checkout, the same folder inside an installed package."""

from pathlib import Path

PACKAGE = Path(__file__).parent


def rules_folder() -> Path:
    """The folder of linguistic data; in a wheel it lies inside the package."""
    inside = PACKAGE / "rules"
    return inside if inside.is_dir() else PACKAGE.parent / "rules"


def compiled_folder() -> Path:
    """The folder of the compiled lexicon."""
    return PACKAGE / "lexicon" / "compiled"
