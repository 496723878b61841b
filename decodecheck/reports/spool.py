"""Text that has to wait until what stands before it is known: in memory while it is short, else in a temporary file."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from types import TracebackType

IN_MEMORY = 1_000_000
PIECE = 1 << 16


class Spool:
    """Pieces that are kept, and given back in order once they are all there. To be used in a `with` statement."""

    def __init__(self) -> None:
        self._file = tempfile.SpooledTemporaryFile(IN_MEMORY, "w+", encoding="utf-8", newline="")  # noqa: SIM115

    def __enter__(self) -> Spool:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, where: TracebackType | None
    ) -> None:
        self._file.close()

    def add(self, piece: str) -> None:
        """Keep a piece."""
        self._file.write(piece)

    def pieces(self) -> Iterator[str]:
        """All that was added."""
        self._file.seek(0)
        while piece := self._file.read(PIECE):
            yield piece
