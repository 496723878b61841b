"""Asks the page: without a network, and at a port of this computer."""

from __future__ import annotations

import asyncio
import socket
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import httpx
import uvicorn

from decodecheck.web.app import application
from decodecheck.web.desk import Desk
from decodecheck.web.guard import Hosts
from decodecheck.web.serve import server
from decodecheck.web.worker import Worker

DEMO = Path(__file__).parents[2] / "corpora_demo"
HARBOUR = (DEMO / "harbour-lane.progression").read_text(encoding="utf-8")
STORY = (DEMO / "texts" / "step-22" / "bake-day.txt").read_text(encoding="utf-8")
SCHOOL = {"order": "own", "own": HARBOUR, "at": "22"}
"""Fields that ask for the demo's order at its step 22."""
BASE = "http://127.0.0.1:8321"
Fields = Mapping[str, str | list[str]]
Files = Mapping[str, tuple[str, bytes]]


class Page:
    """The page, asked in this process."""

    def __init__(self, worker: Worker | None = None, desk: Desk | None = None) -> None:
        self.desk = desk or Desk()
        self.worker = worker or Worker()
        self.app = application(self.desk, self.worker, Hosts())

    def get(self, path: str, headers: Mapping[str, str] | None = None) -> httpx.Response:
        """The answer to GET."""
        return self._ask("GET", path, headers)

    def post(
        self,
        path: str,
        fields: Fields | None = None,
        files: Files | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> httpx.Response:
        """The answer to a form as the page's own script sends it."""
        parts = [
            (name, (None, one))
            for name, value in (fields or {}).items()
            for one in ([value] if isinstance(value, str) else value)
        ]
        parts += [(name, file) for name, file in (files or {}).items()]  # type: ignore[misc]
        return self._ask("POST", path, headers, files=parts or [("none", (None, ""))])

    def raw(self, path: str, content: bytes, headers: Mapping[str, str]) -> httpx.Response:
        """The answer to whatever is sent."""
        return self._ask("POST", path, headers, content=content)

    def _ask(self, method: str, path: str, headers: Mapping[str, str] | None, **more: object) -> httpx.Response:
        own = {"origin": BASE, **(headers or {})} if method == "POST" else dict(headers or {})

        async def ask() -> httpx.Response:
            transport = httpx.ASGITransport(self.app)
            async with httpx.AsyncClient(transport=transport, base_url=BASE) as client:
                return await client.request(method, path, headers=own, **more)  # type: ignore[arg-type]

        return asyncio.run(ask())


@contextmanager
def served(desk: Desk | None = None) -> Iterator[str]:
    """The page at a free port; its address."""
    own = socket.socket()
    own.bind(("127.0.0.1", 0))
    worker = Worker()
    running: uvicorn.Server = server(desk or Desk(), worker, Hosts())
    thread = threading.Thread(target=running.run, kwargs={"sockets": [own]})
    thread.start()
    try:
        while not running.started:
            time.sleep(0.01)
        yield f"http://127.0.0.1:{own.getsockname()[1]}"
    finally:
        running.should_exit = True
        thread.join()
        worker.close()
        own.close()
