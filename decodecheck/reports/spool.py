"""Text that has to wait until what stands before it is known: in memory while it is short, else in a temporary file."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from types import TracebackType

from decodecheck.errors import Problem, UserError

IN_MEMORY = 1_000_000
PIECE = 1 << 16


def no_room(path: str, error: OSError) -> UserError:
    """What is said where a report finds no room while it is put together."""
    what = f"This report cannot be put together ({error.strerror or type(error).__name__})."
    return UserError(Problem(path, what, "Make room in the folder for temporary files."))


class Spool:
    """Pieces that are kept, and given back in order once they are all there. To be used in a `with` statement."""

    def __init__(self) -> None:
        self._file = tempfile.SpooledTemporaryFile(IN_MEMORY, "w+", encoding="utf-8", newline="")  # noqa: SIM115 (it is closed with the spool)

    def __enter__(self) -> Spool:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, where: TracebackType | None
    ) -> None:
        self._file.close()

    def add(self, piece: str) -> None:
        """Keep a piece. Raises UserError where there is no room for it."""
        try:
            self._file.write(piece)
        except OSError as error:
            raise no_room("--format", error) from None

    def pieces(self) -> Iterator[str]:
        """All that was added."""
        self._file.seek(0)
        while piece := self._file.read(PIECE):
            yield piece
