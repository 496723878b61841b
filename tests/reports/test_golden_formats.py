"""A small run in every format, kept whole and read line by line: a text with findings, one without lines, a fine one, a failure."""

from __future__ import annotations

import json

import pytest

from decodecheck.checking.check import Checker
from decodecheck.documents.document import Block, Document, Place
from decodecheck.errors import Problem
from decodecheck.judging.judge import Judge
from decodecheck.reports import check as formats
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run
from tests.reports.test_golden_pages import held
from tests.reports.test_text import ORDER

LETTER = "Nettle saw bread.\n\nTilda had a blid & a bre-\nad. The splash!\n"
NOTE = "A big hat.\n\nPull the boat, Omar!"


def run() -> Run:
    checker = Checker(Judge(ORDER, 14))
    note = Document("texts/note.docx", NOTE, (Block(0, Place(paragraph=1)), Block(12, Place(paragraph=4))))
    documents = (Document("texts/a letter.txt", LETTER), note, Document("texts/fine.txt", "A hen ran."))
    gone = Failure(
        "texts/gone.txt", (Problem("texts/gone.txt", "There is no such file or folder.", "Check the path."),)
    )
    return Run(tuple(map(checker.check, documents)), failures=[gone], texts=3)


@pytest.mark.parametrize("name", [name for name in formats.names() if name != "text"])
def test_it_is_kept(name: str) -> None:
    text = "".join(formats.named(name).render(run(), View()))
    if name in ("json", "gitlab", "sarif"):
        value = json.loads(text)
        if name == "sarif":
            # the manual pages change with the kinds of findings, and the version with the program
            driver = value["runs"][0]["tool"]["driver"]
            driver["semanticVersion"], driver["rules"] = "0", driver["rules"][:1]
            for result in value["runs"][0]["results"]:
                del result["ruleIndex"]
        text = json.dumps(value, indent=1, ensure_ascii=False) + "\n"
    held(f"format-{name}", text)
