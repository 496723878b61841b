"""The addresses of the page as an OpenAPI description of ours, and forms drawn from it: every answer is one that it names."""

from __future__ import annotations

import json
from typing import Any

import html5lib
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from decodecheck.web.guard import HEADERS
from tests.web.asking import HARBOUR, STORY, Page

TEXT = {"type": "string"}
NUMBER = {"type": "string", "pattern": "^[0-9]{0,9}$"}
COMMON = {
    "text": TEXT,
    "order": {"enum": ["", "own", "everything", "england-national-curriculum", "us-common-core-foundational-skills"]},
    "own": TEXT,
    "added": TEXT,
    "step": TEXT,
    "at": NUMBER,
    "group": TEXT,
    "sense": {"type": "string", "pattern": r"^\w+\|[0-9]{1,9}\|.+$"},
}
FOUND = dict.fromkeys(("with", "without", "graphemes", "sounds", "structure", "words", "apart", "no_endings"), TEXT) | {
    "place": {"enum": ["", "start", "middle", "end"]},
    "sort": {"enum": ["", "easy", "common", "length", "alphabet"]},
    "purpose": {"enum": ["", "reading", "spelling"]},
    "number": NUMBER,
    "seed": NUMBER,
    "view": {"enum": ["find", "own"]},
}
PATHS: dict[str, dict[str, Any]] = {
    "/": COMMON | FOUND,
    "/marks": COMMON | {"part": NUMBER},
    "/beside": COMMON,
    "/practice": COMMON,
    "/word": COMMON | {"start": NUMBER, "word": TEXT},
    "/standing": COMMON,
    "/words": COMMON | FOUND,
    "/sheet": COMMON
    | {
        "keep": TEXT,
        "parts": {"enum": ["dictation", "frames", "cards"]},
        "paper": {"enum": ["a4", "letter"]},
        "title": TEXT,
    },
    "/preview": COMMON,
    "/take": COMMON | {"as": {"enum": ["txt", "docx"]}},
}
STATUSES = ("200", "400", "403", "408", "413", "422", "503")
WHOLE = ("/", "/sheet", "/preview", "/take")
"""Addresses that answer with whole pages."""
DESCRIPTION = {
    "openapi": "3.1.0",
    "info": {"title": "The local page", "version": "1"},
    "paths": {
        path: {
            "post": {
                "requestBody": {
                    "content": {
                        kind: {"schema": {"type": "object", "properties": fields, "additionalProperties": TEXT}}
                        for kind in ("multipart/form-data", "application/x-www-form-urlencoded")
                    }
                },
                "responses": {status: {"description": "an answer, or why there is none"} for status in STATUSES},
            }
        }
        for path, fields in PATHS.items()
    },
}
LIKELY = (
    "",
    STORY,
    "Zog's bread; don't!",
    "wind",
    "cat, tree",
    "ow as in grow",
    "-ing",
    "3-4",
    "CVC",
    "14 lag 2",
    HARBOUR,
)
"""Values that mean something somewhere."""


@pytest.fixture(scope="module")
def page() -> Page:
    return Page()


def values(schema: dict[str, Any]) -> st.SearchStrategy[str]:
    """What a field may hold, and now and then what it may not."""
    anything = st.text(st.characters(exclude_categories=["Cs"]), max_size=60) | st.sampled_from(LIKELY)
    if "enum" in schema:
        return st.sampled_from(schema["enum"]) | anything
    if "pattern" in schema:
        return st.from_regex(schema["pattern"], fullmatch=True) | anything
    return anything


@st.composite
def questions(draw: st.DrawFn) -> tuple[str, dict[str, str]]:
    path = draw(st.sampled_from(sorted(PATHS)))
    fields = DESCRIPTION["paths"][path]["post"]["requestBody"]["content"]["multipart/form-data"]["schema"]["properties"]  # type: ignore[index]
    names = draw(st.sets(st.sampled_from(sorted(fields)), min_size=2))
    return path, {name: draw(values(fields[name])) for name in sorted(names | {"text"})}


def test_the_description_names_every_address(page: Page) -> None:
    described = set(PATHS) | {"/file"}
    addresses = {route.path for route in page.app.app.routes if "POST" in (route.methods or ())}  # type: ignore[attr-defined]
    assert addresses == described
    for path in PATHS.values():
        for schema in path.values():
            Draft202012Validator.check_schema(schema)


@given(questions())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_answer_is_one_that_is_described(page: Page, question: tuple[str, dict[str, str]]) -> None:
    path, fields = question
    answer = page.post(path, fields)
    assert str(answer.status_code) in STATUSES, answer.text
    assert answer.headers["x-content-type-options"] == HEADERS["x-content-type-options"]
    kind = answer.headers["content-type"]
    if kind.startswith("text/html"):
        parser = html5lib.HTMLParser(strict=True)
        parser.parse(answer.text) if path in WHOLE else parser.parseFragment(answer.text)
    elif kind.startswith("application/json"):
        json.loads(answer.text)
    else:
        assert path in ("/take", "/sheet") and answer.status_code == 200


@given(
    st.binary(max_size=300),
    st.sampled_from(["a.txt", "a.docx", "a.pdf", "a.epub", "a.odt", "a.html", "a.md", "a", "../a"]),
)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_file_is_read_or_told(page: Page, data: bytes, name: str) -> None:
    answer = page.post("/file", files={"file": (name, data)})
    assert answer.status_code in (200, 413, 422)
    if answer.status_code == 200:
        assert answer.json()["text"].strip()
    else:
        html5lib.HTMLParser(strict=True).parseFragment(answer.text)
