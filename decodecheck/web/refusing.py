"""A page that says why something was not done: for what never reaches the page itself."""

from __future__ import annotations

from html import escape

from starlette.responses import HTMLResponse

PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Not done - decodecheck</title>
<link rel="stylesheet" href="/page.css">
</head>
<body>
<main class="refused">
<div class="problem" role="alert"><p><strong>{what}</strong></p><p>{todo}</p></div>
<p><a href="/">Back to the page</a></p>
</main>
</body>
</html>
"""


def refusal(status: int, what: str, todo: str) -> HTMLResponse:
    """An answer that refuses."""
    return HTMLResponse(PAGE.format(what=escape(what), todo=escape(todo)), status)
