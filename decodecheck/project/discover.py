"""Which texts a command line means: files as named, folders searched for texts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.source import shown

SUFFIXES = (".txt",)


def find_texts(paths: Sequence[str]) -> list[str]:
    """The texts under the given paths, each once, folders in order of name. A file named outright is taken whatever its name.

    Raises UserError for a path that is not there and for a folder without texts.
    """
    found: dict[str, None] = {}
    problems: list[Problem] = []
    for path in paths:
        if path == "-":
            found.setdefault(path)
            continue
        if not path:
            problems.append(Problem("''", "There is no such file or folder.", "Check the path."))
            continue
        place = Path(path)
        try:
            is_folder, exists = place.is_dir(), place.exists()
        except (OSError, ValueError):
            is_folder, exists = False, False
        if is_folder:
            inside = [p for p in sorted(place.rglob("*")) if _is_text(p, place)]
            if not inside:
                problems.append(
                    Problem(
                        shown(path),
                        "This folder holds no texts.",
                        f"Texts are files that end in {', '.join(SUFFIXES)}; name a file outright to check it all the same.",
                    )
                )
            for p in inside:
                found.setdefault(str(p))
        elif exists:
            found.setdefault(path)
        else:
            problems.append(Problem(shown(path), "There is no such file or folder.", "Check the path."))
    if problems:
        raise UserError(*problems)
    return list(found)


def _is_text(path: Path, root: Path) -> bool:
    hidden = any(part.startswith(".") for part in path.relative_to(root).parts)
    return path.suffix.lower() in SUFFIXES and not hidden and path.is_file()
