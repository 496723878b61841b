"""The local page: the time in the server of marking a story of 300 words anew when the step moves, against loading libraries in the same process;
and the first part of a text of 10,000 words.

    python -m tests.benchmarks.page

Exit code 1 if a figure is over its limit.
"""

from __future__ import annotations

import subprocess
import sys

from tests.benchmarks.corpus import STORIES
from tests.benchmarks.measuring import FAILED, HARBOUR, RUNS, report_pairs

LIMIT = 0.2
"""Loading takes about 75 ms where nothing else is done, so that the limit stands for 15 ms."""
FIRST = 10.0
"""So, for three quarters of a second: a text of 10,000 words that nobody has seen."""
CODE = """
import sys, time
start = time.perf_counter()
import numpy, click, lark
loading = time.perf_counter() - start
import asyncio, statistics
from pathlib import Path
from urllib.parse import urlencode
from decodecheck.web.app import application
from decodecheck.web.desk import Desk
from decodecheck.web.guard import Hosts
from decodecheck.web.worker import Worker

app = application(Desk(), Worker(), Hosts())
own = Path(sys.argv[1]).read_text(encoding="utf-8")
words = Path(sys.argv[2]).read_text(encoding="utf-8").split(" ")
HEAD = [(b"host", b"127.0.0.1"), (b"origin", b"http://127.0.0.1"), (b"content-type", b"application/x-www-form-urlencoded")]

async def ask(path, text, at):
    body = urlencode({"text": text, "order": "own", "own": own, "at": at}).encode()
    sent = []

    async def receive():
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message):
        sent.append(message)

    scope = {"type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": "POST", "scheme": "http", "path": path,
             "raw_path": path.encode(), "root_path": "", "query_string": b"", "headers": HEAD, "client": None, "server": None}
    start = time.perf_counter()
    await app(scope, receive, send)
    taken = time.perf_counter() - start
    assert sent[0]["status"] == 200, sent
    return taken

async def main():
    story = " ".join(words[:300])
    await ask("/marks", story, 1)
    # as a slider moves: every step for the first time
    moves = [await ask("/marks", story, at) for at in range(2, 28)]
    long = await ask("/marks", " ".join(words[:10_000]), 12)
    print(statistics.median(moves) / loading, 1000 * statistics.median(moves), long / loading, 1000 * long)

asyncio.run(main())
"""


def page() -> None:
    """Both figures, each in new processes."""
    story = max(STORIES.glob("*.txt"), key=lambda path: path.stat().st_size)
    runs = []
    for _ in range(RUNS):
        command = [sys.executable, "-c", CODE, str(HARBOUR), str(story)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        runs.append([float(x) for x in done.stdout.split()])
    report_pairs("the page, 300 words at a new step / loading numpy, click, lark", [run[0] for run in runs], LIMIT)
    print(f"  in milliseconds: {min(run[1] for run in runs):.1f} at the least")
    report_pairs("the page, first part of 10,000 new words / the same", [run[2] for run in runs], FIRST)
    print(f"  in milliseconds: {min(run[3] for run in runs):.0f} at the least")


if __name__ == "__main__":
    page()
    sys.exit(int(bool(FAILED)))
