"""Runs the page on this computer until it is stopped."""

from __future__ import annotations

import socket
import threading
import webbrowser
from collections.abc import Callable

import uvicorn

from decodecheck.errors import Problem, UserError
from decodecheck.web.app import application
from decodecheck.web.asked import Asked
from decodecheck.web.desk import Desk
from decodecheck.web.guard import Hosts
from decodecheck.web.teaching import Teaching
from decodecheck.web.worker import Worker

PORT = 8321
"""Where the page is unless that is taken, so that it can be found again."""
MOST_AT_A_TIME = 200
"""Connections; more are told to come again (503)."""


def serve(host: str, port: int | None, progression: str | None, tell: Callable[[str], None], *, browser: bool) -> None:
    """Answer until the user stops it. `port` None: PORT, or another one where that is taken.

    Raises UserError where the address or the port cannot be used, and for a progression with mistakes.
    """
    teaching = Teaching(progression)
    teaching.choices()
    own = _socket(host, port)
    at = own.getsockname()[1]
    name = f"[{host}]" if ":" in host else host
    hosts = Hosts(host)
    shown = name if host not in ("0.0.0.0", "::") else socket.gethostname()
    url = f"http://{shown}:{at}/"
    desk, worker = Desk(teaching), Worker()
    tell(f"The page is at {url}")
    if hosts.local:
        tell("It stays on this computer. Leave this window open while you use it; Ctrl-C ends it.")
    else:
        tell(
            "Everybody who can reach this computer over the network can use it, and what they send can be read on the way: use it only in a "
            "network that you trust. Texts are kept in memory alone, and only while they are checked. Ctrl-C ends it."
        )
    # the lexicon is there when the first text comes
    worker.prepare(lambda: desk.check(Asked("A cat sat.")))
    if browser:
        threading.Timer(0.5, webbrowser.open, (url,)).start()
    try:
        server(desk, worker, hosts).run(sockets=[own])
    except KeyboardInterrupt:
        pass
    finally:
        worker.close()
        own.close()


def server(desk: Desk, worker: Worker, hosts: Hosts) -> uvicorn.Server:
    """A server of the page, which writes no log."""
    config = uvicorn.Config(
        application(desk, worker, hosts),
        log_level="critical",
        access_log=False,
        lifespan="off",
        ws="none",
        http="h11",
        loop="asyncio",
        server_header=False,
        proxy_headers=False,
        limit_concurrency=MOST_AT_A_TIME,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=2,
    )
    return uvicorn.Server(config)


def _socket(host: str, port: int | None) -> socket.socket:
    """A socket that listens. Raises UserError where there can be none."""
    if not host.strip():
        # which would be every address of this computer
        raise UserError(Problem("--host", "No address is named.", "Leave --host out for this computer alone."))
    tried = [PORT, 0] if port is None else [port]
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    for number in tried:
        own = socket.socket(family)
        try:
            own.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            own.bind((host, number))
            # from now on who connects is heard, before the address is told
            own.listen(MOST_AT_A_TIME)
        except OSError as error:
            own.close()
            if number == tried[-1]:
                raise UserError(_cannot_listen(host, number, error)) from None
        except (OverflowError, UnicodeError):
            own.close()
            raise UserError(
                Problem("--host", "This is no address.", "Leave --host out for this computer alone.")
            ) from None
        else:
            return own
    raise AssertionError("a port was tried")


def _cannot_listen(host: str, port: int, error: OSError) -> Problem:
    if isinstance(error, socket.gaierror):
        return Problem("--host", f"{host} is no address of this computer.", "Leave --host out for this computer alone.")
    what = f"The page cannot be at port {port} of {host}: {(error.strerror or 'it is refused').lower()}."
    return Problem("--port", what, "Is it open there already? Otherwise name another port, or leave --port out.")
