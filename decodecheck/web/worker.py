"""The one thread in which texts are checked, one after the other.

What is known of words is learnt and shared from check to check, by columns that grow: two threads in it would damage each other's numbers. And
Python would run them one at a time anyway: a story of 300 words takes a few thousandths of a second. Files are read in threads of their own, since
a PDF file is read in another process and may take long; reading shares nothing.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import TypeVar

from decodecheck.garbage import collection_paused
from decodecheck.web.limits import MOST_WAITING, SECONDS

Result = TypeVar("Result")
READERS = 2


class Busy(Exception):
    """A question was not answered in time, or too many others wait."""


def _quietly(question: Callable[[], Result]) -> Result:
    """The answer to a question; the collector, which would look through all that is known of words, waits for its end."""
    with collection_paused():
        return question()


class Worker:
    """Answers questions away from the thread that talks to browsers."""

    def __init__(self, seconds: float = SECONDS, most: int = MOST_WAITING) -> None:
        self.seconds = seconds
        self.most = most
        self._waiting = 0
        self._checks = ThreadPoolExecutor(1, "checks")
        self._reads = ThreadPoolExecutor(READERS, "reads")

    async def check(self, question: Callable[[], Result]) -> Result:
        """The answer to a question about words. Raises Busy, and what the question raises."""
        return await self._ask(self._checks, partial(_quietly, question))

    async def read(self, question: Callable[[], Result]) -> Result:
        """The answer to a question about a file. Raises Busy, and what the question raises."""
        return await self._ask(self._reads, question)

    async def _ask(self, where: ThreadPoolExecutor, question: Callable[[], Result]) -> Result:
        if self._waiting >= self.most:
            raise Busy
        self._waiting += 1
        future = asyncio.get_running_loop().run_in_executor(where, question)
        future.add_done_callback(self._done)
        try:
            # what still waits when its time is up is taken back; what has begun goes on, and nobody hears of it
            return await asyncio.wait_for(future, self.seconds)
        except TimeoutError:
            raise Busy from None

    def prepare(self, work: Callable[[], object]) -> None:
        """Have something done before the first question, for what is learnt by it."""
        self._checks.submit(work)

    def _done(self, future: asyncio.Future[Result]) -> None:
        self._waiting -= 1

    def close(self) -> None:
        """Let the threads go; what waits is dropped."""
        self._checks.shutdown(wait=False, cancel_futures=True)
        self._reads.shutdown(wait=False, cancel_futures=True)
