"""What texts are called in a table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from decodecheck.errors import cut_path


def text_names(paths: Iterable[str]) -> dict[str, str]:
    """What each text is called, by its path: the name of its file, or its path where two files have one name."""
    files = {path: path.split("/")[-1] for path in paths}
    times = Counter(files.values())
    return {path: cut_path(name if times[name] == 1 else path) for path, name in files.items()}
