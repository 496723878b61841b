"""The page as an application: what is answered at which address.

Nothing is kept of what a request holds. A whole page is answered to browsers that run no script; with the script, its parts are asked for one
by one. Both are made by the same templates.
"""

from __future__ import annotations

import os
import traceback
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace
from functools import partial, wraps
from pathlib import Path
from typing import Any

from jinja2 import Environment
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp

from decodecheck.errors import TRACEBACK, Problem, UserError
from decodecheck.insight.preview import preview
from decodecheck.printing import safe
from decodecheck.reports import preview as half_page
from decodecheck.reports.page import Page
from decodecheck.reports.pages.html import whole
from decodecheck.reports.templates import environment
from decodecheck.web import lists
from decodecheck.web.asked import OWN, TOO_LARGE, Asked, Given, asked_of, number, short
from decodecheck.web.beside import beside
from decodecheck.web.card import card, card_of
from decodecheck.web.desk import EMPTY, Desk
from decodecheck.web.files import MEDIA, TXT, order_of_file, text_of_file, to_take_away
from decodecheck.web.forms import NO_FORM, Form, form_of
from decodecheck.web.guard import Guard, Hosts
from decodecheck.web.marked import lead, part
from decodecheck.web.markup import as_sent, lines
from decodecheck.web.practice import practice
from decodecheck.web.printed import as_document, as_word
from decodecheck.web.refusing import refusal
from decodecheck.web.standing import Controls, controls
from decodecheck.web.teaching import NO_ORDER, NO_STEP
from decodecheck.web.told import told
from decodecheck.web.worker import Busy, Worker

HERE = Path(__file__).parent
STATIC = {"page.css": "text/css", "page.js": "text/javascript", "icon.svg": "image/svg+xml"}
STATUS = {EMPTY: 422, TOO_LARGE: 413, NO_FORM: 400}
BUSY = Problem(
    "the page", "This took too long, or too many others are waiting.", "Try again in a moment, with less text."
)
FAULT = Problem(
    "the page",
    "decodecheck failed on this. The fault is the program's, not yours; nothing of yours is lost.",
    f"Please report what you did, and what {TRACEBACK}=1 prints where the page was started.",
)
Answer = Callable[[Request], Awaitable[Response]]


def application(desk: Desk, worker: Worker, hosts: Hosts) -> ASGIApp:
    """The page behind its guard."""
    pages = _Pages(desk, worker)
    routes = [
        Route("/", pages.start, methods=["GET"]),
        Route("/", pages.whole, methods=["POST"]),
        Route("/marks", pages.marks, methods=["POST"]),
        Route("/beside", pages.beside, methods=["POST"]),
        Route("/practice", pages.practice, methods=["POST"]),
        Route("/word", pages.word, methods=["POST"]),
        Route("/standing", pages.standing, methods=["POST"]),
        Route("/file", pages.file, methods=["POST"]),
        Route("/words", pages.words, methods=["POST"]),
        Route("/sheet", pages.sheet, methods=["POST"]),
        Route("/preview", pages.preview, methods=["POST"]),
        Route("/take", pages.take, methods=["POST"]),
        *(Route(f"/{name}", _static(name, kind), methods=["GET"]) for name, kind in STATIC.items()),
    ]
    handlers = {404: _unknown, 405: _unknown}
    return Guard(Starlette(routes=routes, exception_handlers=handlers), hosts)


def _static(name: str, kind: str) -> Answer:
    data = (HERE / "static" / name).read_bytes()

    async def answer(request: Request) -> Response:
        return Response(data, media_type=kind)

    return answer


async def _unknown(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    return refusal(status, "There is nothing at this address.", "Go back to the page.")


def _guarded(
    make: Callable[[_Pages, Request], Awaitable[Response]], whole: bool
) -> Callable[[_Pages, Request], Awaitable[Response]]:
    """An answer in which whatever goes wrong is told on the page: on the `whole` of it, or in the place of the part that was asked for."""

    @wraps(make)
    async def answer(pages: _Pages, request: Request) -> Response:
        try:
            return await make(pages, request)
        except UserError as error:
            problems, status = error.problems, STATUS.get(error.problems[0].code, 422)
        except Busy:
            problems, status = (BUSY,), 503
        except Exception:
            if os.environ.get(TRACEBACK):
                traceback.print_exc()
            problems, status = (FAULT,), 500
        return pages.refused(problems, status, whole=whole)

    return answer


def _part(make: Callable[[_Pages, Request], Awaitable[Response]]) -> Callable[[_Pages, Request], Awaitable[Response]]:
    return _guarded(make, False)


def _page(make: Callable[[_Pages, Request], Awaitable[Response]]) -> Callable[[_Pages, Request], Awaitable[Response]]:
    return _guarded(make, True)


class _Pages:
    """The answers."""

    def __init__(self, desk: Desk, worker: Worker) -> None:
        self.desk = desk
        self.worker = worker
        self.templates: Environment = environment(HERE / "templates", HERE.parent / "reports" / "check")
        self.templates.filters["as_lines"] = lines
        self.templates.filters["as_sent"] = as_sent
        self.templates.filters["whole"] = lambda text: whole(safe(text))

    def refused(self, problems: Sequence[Problem], status: int, *, whole: bool) -> Response:
        """What is wrong, as a page of its own or as a part of one."""
        shown = tuple(map(told, problems))
        return self._html("refused" if whole else "problems", status, problems=shown)

    def _html(self, name: str, status: int = 200, **values: Any) -> HTMLResponse:
        return HTMLResponse(self.templates.get_template(f"{name}.html.jinja").render(**values), status)

    # -- whole pages ------------------------------------------------------------------------------------------------------

    @_page
    async def start(self, request: Request) -> Response:
        """The page as it is first seen; an order and a step may stand in its address."""
        given = Given({name: request.query_params.get(name, "") for name in ("order", "step")})
        return await self._whole(asked_of(given), (), 200, {NO_STEP: 404, NO_ORDER: 404})

    @_page
    async def whole(self, request: Request) -> Response:
        """The page with everything in it, for browsers without script."""
        form = await form_of(request)
        asked, problems, status = await self._with_files(form, asked_of(form))
        return await self._whole(asked, problems, status, {}, form, marked=True)

    async def _with_files(self, form: Form, asked: Asked) -> tuple[Asked, tuple[Problem, ...], int]:
        try:
            story, order = form.files.get("file"), form.files.get("order_file")
            if story:
                read = await self.worker.read(partial(text_of_file, *story))
                asked = replace(asked, text=read.text)
            if order:
                asked = replace(asked, order=OWN, own=await self.worker.read(partial(order_of_file, *order)), at=0)
        except UserError as error:
            return asked, error.problems, STATUS.get(error.problems[0].code, 422)
        return asked, (), 200

    async def _whole(
        self,
        asked: Asked,
        problems: tuple[Problem, ...],
        status: int,
        statuses: dict[str, int],
        form: Form | None = None,
        marked: bool = False,
    ) -> Response:
        values: dict[str, Any] = {
            "asked": asked,
            "marks": None,
            "beside": None,
            "panels": (),
            "listed": None,
            "form": form,
            "lists": lists,
        }
        view = short(form, "view") if form else ""
        try:
            values["controls"] = await self.worker.check(lambda: controls(self.desk.teaching, asked))
            if marked and not problems and not view:
                report = await self.worker.check(lambda: self.desk.check(asked))
                values["marks"] = await self.worker.check(
                    lambda: {"lead": lead(report), "parts": _all_parts(report), "following": 0}
                )
                values["beside"] = await self.worker.check(lambda: beside(report))
                values["panels"] = await self.worker.check(lambda: practice(self.desk.check(asked, every_word=True)))
            if form and view:
                make = lists.own if view == "own" else lists.found
                values["listed"] = await self.worker.check(lambda: make(self.desk.standing(asked), form))
        except UserError as error:
            problems = (*problems, *error.problems)
            code = error.problems[0].code
            status = statuses.get(code) or STATUS.get(code, 422)
            if "controls" not in values:
                values["controls"] = await self.worker.check(lambda: controls(self.desk.teaching, Asked(own=asked.own)))
        return self._html("page", status, problems=tuple(map(told, problems)), **values)

    # -- parts of it ------------------------------------------------------------------------------------------------------

    @_part
    async def marks(self, request: Request) -> Response:
        """The marked text, a part at a time, the first with what leads."""
        form = await form_of(request)
        asked, at = asked_of(form), number(form, "part")

        def answer() -> dict[str, Any]:
            report = self.desk.check(asked)
            found = part(report, at)
            return {"lead": None if at else lead(report), "parts": [found], "following": found.following}

        return self._html("marks", marks=await self.worker.check(answer))

    @_part
    async def beside(self, request: Request) -> Response:
        """What stands beside the text."""
        asked = asked_of(await form_of(request))
        return self._html("beside", beside=await self.worker.check(lambda: beside(self.desk.check(asked))))

    @_part
    async def practice(self, request: Request) -> Response:
        """What the text gives practice in."""
        asked = asked_of(await form_of(request))
        panels = await self.worker.check(lambda: practice(self.desk.check(asked, every_word=True)))
        return self._html("practice", panels=panels)

    @_part
    async def word(self, request: Request) -> Response:
        """The card of a word: of one in the text, or of one by itself."""
        fields = await form_of(request)
        asked, word = asked_of(fields), short(fields, "word")
        start = number(fields, "start")
        if word:
            return self._html("card", card=await self.worker.check(lambda: card_of(self.desk, asked, word)))
        return self._html("card", card=await self.worker.check(lambda: card(self.desk, asked, start)))

    @_part
    async def standing(self, request: Request) -> Response:
        """The order and its steps to choose from; an order of the school's own, from a file or a field."""
        form = await form_of(request)
        asked, problems, status = await self._with_files(form, asked_of(form))
        found: Controls = await self.worker.check(lambda: controls(self.desk.teaching, asked))
        if problems:
            found = replace(found, problems=tuple(map(told, problems)))
        return self._html("standing", 422 if found.problems and status == 200 else status, controls=found, asked=asked)

    @_part
    async def file(self, request: Request) -> Response:
        """The text of a file, as JSON."""
        form = await form_of(request)
        given = form.files.get("file")
        if not given:
            raise UserError(Problem("the file", "No file came.", "Choose one, or drop it."))
        read = await self.worker.read(partial(text_of_file, *given))
        return JSONResponse({"text": read.text, "step": read.step})

    @_part
    async def words(self, request: Request) -> Response:
        """Words for a lesson, found or one's own."""
        fields = await form_of(request)
        asked = asked_of(fields)
        make = lists.own if short(fields, "view") == "own" else lists.found
        return self._html("listed", listed=await self.worker.check(lambda: make(self.desk.standing(asked), fields)))

    # -- what is printed or taken away ------------------------------------------------------------------------------------

    @_page
    async def sheet(self, request: Request) -> Response:
        """A sheet of words."""
        fields = await form_of(request)
        asked = asked_of(fields)
        return await self._printed(
            lambda: lists.sheet_of(self.desk.standing(asked), fields), short(fields, "as"), "words"
        )

    @_page
    async def preview(self, request: Request) -> Response:
        """The half page for the adult who listens."""
        fields = await form_of(request)
        asked = asked_of(fields)
        return await self._printed(
            lambda: half_page.page(preview(self.desk.check(asked, every_word=True))), short(fields, "as"), "half-page"
        )

    async def _printed(self, make: Callable[[], Page], kind: str, name: str) -> Response:
        made = await self.worker.check(make)
        if kind == "docx":
            data = await self.worker.check(lambda: as_word(made))
            return _file(data, "docx", name)
        page, policy = await self.worker.check(lambda: as_document(made))
        return HTMLResponse(page, headers={"content-security-policy": policy})

    @_page
    async def take(self, request: Request) -> Response:
        """The text as a file."""
        fields = await form_of(request)
        asked, kind = asked_of(fields), short(fields, "as") or TXT
        if kind not in MEDIA:
            raise UserError(Problem("the file", "The text cannot be taken away as this.", "Choose .txt or .docx."))
        if not asked.text.strip():
            raise UserError(Problem("the text", "There is no text yet.", "Write one first.", code=EMPTY))
        return _file(await self.worker.read(lambda: to_take_away(asked.text, kind)), kind, "story")


def _file(data: bytes, kind: str, name: str) -> Response:
    return Response(
        data, media_type=MEDIA[kind], headers={"content-disposition": f'attachment; filename="{name}.{kind}"'}
    )


def _all_parts(report: Any) -> list[Any]:
    """All parts of the text, for a page without script."""
    found = [part(report, 0)]
    while found[-1].following:
        found.append(part(report, found[-1].following))
    return found
