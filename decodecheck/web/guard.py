"""Stands before the page: who may ask, how large and how slow a request may be, and what every answer says of itself.

Host: a page of another site can be made to lead to this computer under that site's name (DNS rebinding), so only this computer's own names
are answered. Origin: browsers send it with every form and script; one of another site may change nothing here.
"""

from __future__ import annotations

import asyncio
import ipaddress
import socket
from collections.abc import Iterable

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from decodecheck.web.limits import LARGEST_REQUEST, LARGEST_UPLOAD, SECONDS_TO_SEND
from decodecheck.web.refusing import refusal

POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    # with "no-referrer", browsers would send no origin with a form
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
LOOPBACK = frozenset(("127.0.0.1", "localhost", "::1"))
MULTIPART = "multipart/form-data"
METHODS = ("GET", "HEAD", "POST")


class Hosts:
    """The names under which the page may be asked for."""

    def __init__(self, address: str = "127.0.0.1") -> None:
        self.local = is_local(address)
        self.names = LOOPBACK | ({address.lower()} if self.local else {address.lower(), *_names_of_this_computer()})

    def allow(self, host: str) -> bool:
        """Whether a Host header names this computer. A name of another site never does; an address does where the page is open to the network."""
        name = host_name(host)
        return name in self.names or (not self.local and _is_address(name))


def is_local(address: str) -> bool:
    """Whether only this computer can reach an address."""
    return address.lower() == "localhost" or (_is_address(address) and ipaddress.ip_address(address).is_loopback)


def host_name(host: str) -> str:
    """The name in a Host header, without its port; "" for what is none."""
    name, colon, port = host.strip().lower().rpartition(":")
    if not colon or "]" in port:
        name, port = host.strip().lower(), ""
    if port and not (port.isascii() and port.isdigit()):
        return ""
    return name[1:-1] if name.startswith("[") and name.endswith("]") else name


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


def _names_of_this_computer() -> Iterable[str]:
    name = socket.gethostname().lower()
    return name, f"{name}.local"


class TooMuch(Exception):
    """A request is larger than is taken."""


class Guard:
    """An application behind the guard."""

    def __init__(self, app: ASGIApp, hosts: Hosts, seconds: float = SECONDS_TO_SEND) -> None:
        self.app = app
        self.hosts = hosts
        self.seconds = seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] != "http":
            return

        async def signed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        headers = Headers(scope=scope)
        refused = self.refused(scope, headers)
        if refused is not None:
            await refusal(*refused)(scope, receive, signed)
            return
        try:
            body = await asyncio.wait_for(_body(receive, _most(headers)), self.seconds)
        except TooMuch:
            most = _most(headers) / 1_000_000
            what = f"This is too large for the page, which takes up to {most:g} megabytes at a time."
            await refusal(413, what, "Divide it, or save the text alone as .txt.")(scope, receive, signed)
            return
        except TimeoutError:
            await refusal(408, "What was sent did not come in whole.", "Send it again.")(scope, receive, signed)
            return
        if body is None:
            # whoever asked has gone; there is nobody to answer
            return
        given = False

        async def again() -> Message:
            nonlocal given
            if given:
                return await receive()
            given = True
            return {"type": "http.request", "body": body, "more_body": False}

        await self.app(scope, again, signed)

    def refused(self, scope: Scope, headers: Headers) -> tuple[int, str, str] | None:
        """Status, what is wrong and what to do; None where the request may go on."""
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self.hosts.allow(hosts[0]):
            return 400, "The page does not answer under this name.", "Use the address that the command printed."
        if scope["method"] not in METHODS:
            return 405, "The page cannot be asked in this way.", "Load it in a browser."
        if scope["method"] == "POST":
            origin, site = headers.get("origin"), headers.get("sec-fetch-site", "same-origin")
            if origin != f"{scope['scheme']}://{hosts[0]}" if origin is not None else site != "same-origin":
                return 403, "Another site has sent this. Nothing was done.", "Load the page itself, and use that."
        claimed = headers.get("content-length", "0")
        if not claimed.isdigit() or int(claimed) > _most(headers):
            most = _most(headers) / 1_000_000
            what = f"This is too large for the page, which takes up to {most:g} megabytes at a time."
            return 413, what, "Divide it, or save the text alone as .txt."
        return None


def _most(headers: Headers) -> int:
    """How many bytes a request may have: with a file, more."""
    return LARGEST_UPLOAD if headers.get("content-type", "").startswith(MULTIPART) else LARGEST_REQUEST


async def _body(receive: Receive, most: int) -> bytes | None:
    """All that is sent; None where whoever sends it has gone. Raises TooMuch."""
    parts: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            return None
        parts.append(message.get("body", b""))
        size += len(parts[-1])
        if size > most:
            raise TooMuch
        if not message.get("more_body", False):
            return b"".join(parts)
