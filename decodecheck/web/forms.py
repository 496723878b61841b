"""Forms as they come in: fields and files, in memory and never on disk."""

from __future__ import annotations

from dataclasses import dataclass

from python_multipart.exceptions import FormParserError
from starlette.datastructures import FormData, Headers, UploadFile
from starlette.formparsers import FormParser, MultiPartException, MultiPartParser
from starlette.requests import Request

from decodecheck.errors import Problem, UserError
from decodecheck.web.limits import LARGEST_UPLOAD, MOST_FIELDS

URLENCODED, MULTIPART = "application/x-www-form-urlencoded", "multipart/form-data"
NO_FORM = "no-form"
"""The code of the problem that what came is no form."""


@dataclass(frozen=True, slots=True)
class Form:
    """The fields of a form in order, and the files that were chosen: by field, name and bytes."""

    fields: tuple[tuple[str, str], ...]
    files: dict[str, tuple[str, bytes]]

    def get(self, name: str, default: str = "") -> str:
        """The last value of a field."""
        return next((value for own, value in reversed(self.fields) if own == name), default)

    def getlist(self, name: str) -> list[str]:
        """All its values."""
        return [value for own, value in self.fields if own == name]


class _InMemory(MultiPartParser):
    """Parses a form; what is larger than a request may be would go to disk, and nothing is."""

    spool_max_size = LARGEST_UPLOAD + 1
    ended = False
    """Whether the end of the form has come; a form that is cut off has none."""

    def on_end(self) -> None:
        self.ended = True


async def form_of(request: Request) -> Form:
    """The form of a request. Raises UserError for what is none, and for one that is damaged."""
    kind, _, more = request.headers.get("content-type", "").partition(";")
    kind = kind.strip().lower()
    most = LARGEST_UPLOAD
    try:
        if kind == MULTIPART and "charset" not in more.lower():
            own = Headers({"content-type": request.headers["content-type"]})
            parser = _InMemory(own, request.stream(), max_files=2, max_fields=MOST_FIELDS, max_part_size=most)
            found = await _taken(await parser.parse())
            if not parser.ended:
                raise MultiPartException("cut off")
            return found
        if kind == URLENCODED:
            form = FormParser(request.headers, request.stream(), max_fields=MOST_FIELDS, max_part_size=most)
            return await _taken(await form.parse())
    except (MultiPartException, FormParserError, UnicodeError):
        raise UserError(Problem("the page", "What was sent is damaged.", "Send it again.", code=NO_FORM)) from None
    raise UserError(
        Problem("the page", "What was sent is no form.", "Load the page again, and use that.", code=NO_FORM)
    )


async def _taken(form: FormData) -> Form:
    """What a form holds; a file that was not chosen has no name and no bytes."""
    try:
        files = {}
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                data = await value.read()
                if value.filename or data:
                    files[name] = value.filename or "", data
        return Form(tuple((name, value) for name, value in form.multi_items() if isinstance(value, str)), files)
    finally:
        await form.close()
