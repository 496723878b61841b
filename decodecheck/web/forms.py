"""Forms as they come in: fields and files, in memory and never on disk."""

from __future__ import annotations

from python_multipart.exceptions import FormParserError
from starlette.datastructures import FormData, Headers, UploadFile
from starlette.formparsers import FormParser, MultiPartException, MultiPartParser
from starlette.requests import Request

from decodecheck.errors import Problem, UserError
from decodecheck.web.limits import LARGEST_UPLOAD, MOST_FIELDS

URLENCODED, MULTIPART = "application/x-www-form-urlencoded", "multipart/form-data"
NO_FORM = "no-form"
"""The code of the problem that what came is no form."""


class _InMemory(MultiPartParser):
    """Parses a form; larger files than a request may hold would go to disk, and none is."""

    spool_max_size = LARGEST_UPLOAD + 1


async def form_of(request: Request) -> FormData:
    """The form of a request. Raises UserError for what is none, and for one that is damaged."""
    kind, _, more = request.headers.get("content-type", "").partition(";")
    kind = kind.strip().lower()
    try:
        if kind == MULTIPART and "charset" not in more.lower():
            own = Headers({"content-type": request.headers["content-type"]})
            parser = _InMemory(
                own, request.stream(), max_files=2, max_fields=MOST_FIELDS, max_part_size=LARGEST_UPLOAD
            )  # fmt: skip
            return await parser.parse()
        if kind == URLENCODED:
            form = FormParser(
                request.headers, request.stream(), max_fields=MOST_FIELDS, max_part_size=LARGEST_UPLOAD
            )  # fmt: skip
            return await form.parse()
    except (MultiPartException, FormParserError, UnicodeError):
        raise UserError(Problem("the page", "What was sent is damaged.", "Send it again.", code=NO_FORM)) from None
    raise UserError(
        Problem("the page", "What was sent is no form.", "Load the page again, and use that.", code=NO_FORM)
    )


async def file_in(form: FormData, name: str) -> tuple[str, bytes] | None:
    """The name and bytes of a file in a form; None where none was chosen."""
    given = form.get(name)
    if not isinstance(given, UploadFile):
        return None
    data = await given.read()
    return (given.filename or "", data) if given.filename or data else None
