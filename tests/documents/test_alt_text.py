"""What is written for those who do not see a picture: no part of the text, unless a configuration says so.

Sources: CommonMark 0.31 (section 6.4), the HTML standard (section 4.8.4.4), ECMA-376 part 1 (20.4.2.5, docPr) and OpenDocument 1.3 part 3
(10.3.17, 10.3.18), the last two from memory.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.documents.reading import read_document
from tests.documents.making import docx, epub, odt, p, r

WP = 'xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing"'
DRAWN = f'<w:r><w:drawing><wp:inline {WP}><wp:docPr id="1" name="no" descr="A red hat"/></wp:inline></w:drawing></w:r>'
FRAME = "<draw:frame><draw:image/><svg:title>A red hat</svg:title></draw:frame>"
PAGE = '<p>Tilda <img src="no.png" alt="A red &amp; wet hat"> ran.</p><p><img src=no.png></p><p>Omar ran.</p>'
FILES = {
    "a.md": (b"Tilda ![A *red* hat](no.png) ran.\n\n![](no.png)\n\nOmar ran.\n", "Tilda \nA *red* hat\n ran.", "Tilda   ran."),
    "b.html": (PAGE.encode(), "Tilda \nA red & wet hat\n ran.", "Tilda   ran."),
    "c.docx": (docx(p("Tilda ", DRAWN, r("ran.")) + p("Omar ran.")), "Tilda ran.\n\nA red hat", "Tilda ran."),
    "d.odt": (odt(f"<text:p>Tilda {FRAME}ran.</text:p><text:p>Omar ran.</text:p>"), "Tilda ran.\n\nA red hat", "Tilda ran."),
    "e.epub": (epub({"a.xhtml": PAGE.replace('png">', 'png"/>').replace('hat">', 'hat"/>').replace("no.png>", '"no.png"/>')}),
               "Tilda \nA red & wet hat\n ran.", "Tilda   ran."),
}  # fmt: skip
"""Files with a picture, what is read of them with its text, and without."""


@pytest.mark.parametrize("name", FILES)
def test_it_is_read_where_that_is_wanted(name: str, tmp_path: Path) -> None:
    data, with_it, without = FILES[name]
    path = tmp_path / name
    path.write_bytes(data)
    assert read_document(str(path), alt_text=True).text == f"{with_it}\n\nOmar ran."
    assert read_document(str(path)).text == f"{without}\n\nOmar ran."


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.md", "Tilda ran.\n\n![A dim\nfrog &amp; a tin](no.png)\n"),
        ("b.html", '<p>Tilda ran.</p>\n<p title="frog"><img alt=\'A dim\nfrog &amp; a tin\' src="no.png"></p>\n'),
    ],
)
def test_its_words_are_found_in_their_file(name: str, text: str, tmp_path: Path) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    document = read_document(str(tmp_path / name), alt_text=True)
    lines = text.split("\n")
    for word in ("dim", "frog", "tin"):
        place = document.place(document.text.index(word))
        assert lines[place.line - 1][place.column - 1 :].startswith(word), word


def test_a_configuration_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("school.progression").write_text("step 1\n  teach a, t, p, n, i\n  tricky a\n", encoding="utf-8")
    Path("story.md").write_text("Tap a tin. ![A red hat](no.png)\n", encoding="utf-8")
    for said, code, blocked in (("", 0, []), ("alt_text = true\n", 1, ["red", "hat"]), ("alt_text = false\n", 0, [])):
        Path("decodecheck.toml").write_text(f'progression = "school.progression"\n{said}', encoding="utf-8")
        assert run(["check", "story.md", "--format", "json"]) == code
        [file] = json.loads(capsys.readouterr().out)["files"]
        assert [finding["word"] for finding in file["findings"]] == blocked
    Path("decodecheck.toml").write_text('progression = "school.progression"\nalt_text = true\n', encoding="utf-8")
    assert run(["config", "story.md"]) == 0
    assert any(
        line.split() == ["alt_text", "true", "decodecheck.toml:2"] for line in capsys.readouterr().out.split("\n")
    )
    Path("decodecheck.toml").write_text('progression = "school.progression"\nalt_text = "yes"\n', encoding="utf-8")
    assert run(["check", "story.md"]) == 2
    assert "decodecheck.toml:2:1: `alt_text` is neither true nor false." in capsys.readouterr().err
