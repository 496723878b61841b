"""Twenty people at the page at once: errors, and how long an answer takes.

    python -m tests.benchmarks.load [--seconds 120] [--clients 20]

The page runs in a process of its own. Each client moves the step, changes a word of a story of 300 words, touches words, looks for words for a
lesson, and thinks for a moment between. Exit code 1 where an answer is an error, or 95 of 100 answers on the text take longer than the limit.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import random
import statistics
import subprocess
import sys
import time
from collections import defaultdict

import httpx

from tests.benchmarks.corpus import STORIES
from tests.benchmarks.measuring import HARBOUR, TOOL

LIMIT = 0.5
"""Seconds in which 95 of 100 answers on a story have to be there."""
THINKING = (0.2, 1.0)


class Client:
    """One person with a story of her own."""

    def __init__(
        self, base: str, number: int, words: list[str], taken: dict[str, list[float]], wrong: list[str]
    ) -> None:
        self.random = random.Random(number)
        start = self.random.randrange(len(words) - 300)
        self.words = words[start : start + 300]
        self.all = words
        self.at = 22
        self.taken, self.wrong = taken, wrong
        self.client = httpx.AsyncClient(base_url=base, headers={"origin": base}, timeout=60)

    async def work(self, until: float) -> None:
        """Use the page until a time."""
        async with self.client:
            while time.monotonic() < until:
                match self.random.choice(("move", "move", "write", "write", "touch", "find")):
                    case "move":
                        self.at = self.random.randrange(1, 28)
                    case "write":
                        self.words[self.random.randrange(300)] = self.random.choice(self.all)
                    case "touch":
                        text = " ".join(self.words)
                        at = text.index(" ", self.random.randrange(len(text) // 2)) + 1
                        await self.ask("/word", start=str(at))
                        continue
                    case "find":
                        await self.ask("/words", view="find", number="12", at="25")
                        continue
                await self.ask("/marks")
                await self.ask("/beside")
                await asyncio.sleep(self.random.uniform(*THINKING))

    async def ask(self, path: str, **more: str) -> None:
        """One question."""
        fields = {"text": " ".join(self.words), "at": str(self.at)} | more
        start = time.perf_counter()
        try:
            answer = await self.client.post(path, data=fields)
        except httpx.HTTPError as error:
            self.wrong.append(f"{path}: {type(error).__name__}")
            return
        self.taken[path].append(time.perf_counter() - start)
        # a place between words is told as such
        if answer.status_code != 200 and not (path == "/word" and answer.status_code == 422):
            self.wrong.append(f"{path}: {answer.status_code} {answer.text[:200]}")


async def use(base: str, clients: int, seconds: float) -> tuple[dict[str, list[float]], list[str]]:
    """How long each answer took, by address, and what went wrong."""
    words = max(STORIES.glob("*.txt"), key=lambda path: path.stat().st_size).read_text(encoding="utf-8").split()
    taken: dict[str, list[float]] = defaultdict(list)
    wrong: list[str] = []
    until = time.monotonic() + seconds
    await asyncio.gather(*(Client(base, number, words, taken, wrong).work(until) for number in range(clients)))
    return taken, wrong


def main() -> int:
    """Run it."""
    parser = argparse.ArgumentParser(description="Many at the page at once.")
    parser.add_argument("--seconds", type=float, default=120)
    parser.add_argument("--clients", type=int, default=20)
    given = parser.parse_args()
    command = [*TOOL, "page", "--no-browser", "--progression", str(HARBOUR)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ}) as running:
        assert running.stdout
        base = running.stdout.readline().removeprefix("The page is at ").strip().rstrip("/")
        try:
            taken, wrong = asyncio.run(use(base, given.clients, given.seconds))
        finally:
            running.terminate()
    for path, times in sorted(taken.items()):
        p50, p95 = (statistics.quantiles(times, n=100)[at - 1] for at in (50, 95))
        print(f"{path:<10} {len(times):6} answers  median {1000 * p50:6.0f} ms  95 of 100 in {1000 * p95:6.0f} ms")
    print(f"errors: {len(wrong)}", *wrong[:10], sep="\n  ")
    p95 = statistics.quantiles(taken["/marks"], n=100)[94]
    return int(bool(wrong) or p95 > LIMIT)


if __name__ == "__main__":
    sys.exit(main())
