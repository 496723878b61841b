"""Write a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from decodecheck.errors import Problem, UserError


def write_safely(path: Path, content: str | bytes) -> None:
    """Replace a file's content in one step, keeping its permissions. Raises UserError; the old file is then untouched."""
    target = path.resolve()
    if not target.parent.is_dir():
        what = f"There is no folder {path.parent} to write it into."
        raise UserError(Problem(str(path), what, "Make the folder first, or name another."))
    try:
        mode = target.stat().st_mode if target.exists() else 0o644
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content.encode("utf-8") if isinstance(content, str) else content)
            Path(name).chmod(mode & 0o7777)
            Path(name).replace(target)
        except BaseException:
            Path(name).unlink()
            raise
    except OSError as error:
        raise UserError(
            Problem(str(path), f"This file cannot be written ({error.strerror}).", "Check the folder's permissions.")
        ) from None
