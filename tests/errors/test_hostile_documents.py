"""Documents made to take memory and time, or to lead to other files: each is told in one message, and the other texts are checked.

The sources: what is published of such files (zip bombs, the "billion laughs" of XML entities, external entities: CWE-409, CWE-776,
CWE-611; paths that lead out of an archive: CWE-22), ECMA-376, OpenDocument 1.3 and EPUB 3.3 for the rest.
"""

from __future__ import annotations

import io
import json
import os
import random
import re
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from tests.documents.making import docx, epub, odt, p, package, parts_of, pdf
from tests.errors.school import command, make, run
from tests.reports.test_machine import SCHEMA

SECONDS = 60
MEGABYTES = 700
"""More than that, and the program would not be given it on a small machine; it takes some 200 by itself."""
AT_SCHOOL = ("--progression", "school.progression")
MAIN = {".docx": "word/document.xml", ".odt": "content.xml", ".epub": "OPS/a.xhtml"}
PAGE = "<html><body><p>tin</p></body></html>"
PLAIN: dict[str, Callable[[], bytes]] = {
    ".docx": lambda: docx(p("tin")), ".odt": lambda: odt("<text:p>tin</text:p>"), ".epub": lambda: epub({"a.xhtml": PAGE}),
}  # fmt: skip


def with_part(suffix: str, name: str, content: str | bytes) -> bytes:
    return package({**parts_of(PLAIN[suffix]()), name: content})


def around(suffix: str, text: str) -> str:
    """The main part with more text in its paragraph."""
    part = parts_of(PLAIN[suffix]())[MAIN[suffix]]
    assert isinstance(part, bytes)
    return part.decode().replace("tin<", text + "<", 1)


def doctype(suffix: str, declarations: str, use: str) -> bytes:
    part = around(suffix, use)
    head, xml, rest = part.rpartition("?>\n")
    return with_part(suffix, MAIN[suffix], f"{head}{xml}<!DOCTYPE html [{declarations}]>{rest}")


LAUGHS = '<!ENTITY a "aaaaaaaaaa">' + "".join(f'<!ENTITY {chr(98 + n)} "{f"&{chr(97 + n)};" * 10}">' for n in range(9))


def bomb(suffix: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, part in parts_of(PLAIN[suffix]()).items():
            if name != MAIN[suffix]:
                made.writestr(name, part)
        with made.open(MAIN[suffix], "w", force_zip64=True) as part_file:
            # a gigabyte once, to spare time
            for _ in range(1000 if suffix == ".docx" else 200):
                part_file.write(b" " * 1_000_000)
    return out.getvalue()


def claiming(suffix: str, size: int) -> bytes:
    """A package whose main part says it has so many bytes, here and in the list at the end."""
    data = bytearray(PLAIN[suffix]())
    name = MAIN[suffix].encode()
    for mark, at_size, at_name in ((b"PK\x03\x04", 22, 30), (b"PK\x01\x02", 24, 46)):
        at = 0
        while (at := data.find(mark, at)) >= 0:
            if data[at + at_name : at + at_name + len(name)] == name:
                data[at + at_size : at + at_size + 4] = size.to_bytes(4, "little")
            at += 4
    return bytes(data)


def many_parts(suffix: str) -> bytes:
    return package({**parts_of(PLAIN[suffix]()), **{f"extra/{n}.xml": "<a/>" for n in range(3000)}})


def large_text(suffix: str) -> bytes:
    """Text that is no padding, and more than any story has."""
    return with_part(suffix, MAIN[suffix], around(suffix, random.Random(1).randbytes(64_000).hex() * 500))


NESTED = {".docx": ("<w:smartTag>", "</w:smartTag>"), ".odt": ("<text:span>", "</text:span>")}


def nested(suffix: str) -> bytes:
    start, end = NESTED[suffix]
    return with_part(suffix, MAIN[suffix], around(suffix, "tin<x/>" + start * 10_000 + end * 10_000))


def in_pieces(suffix: str) -> bytes:
    """So many elements that lxml would take some gigabytes for them, in less than 20 MB."""
    return with_part(suffix, MAIN[suffix], around(suffix, "tin<x/>" + "<x/>" * 4_000_000))


HOSTILE: dict[str, tuple[Callable[[str], bytes], str]] = {
    "zip bomb": (bomb, "megabytes when it is unpacked|nothing but padding"),
    "claims a gigabyte": (lambda s: claiming(s, 1_000_000_000), "megabytes when it is unpacked|nothing but padding"),
    "claims four": (lambda s: claiming(s, 0xFFFFFFF0), "megabytes when it is unpacked"),
    "many parts": (many_parts, "3,00[0-9] parts"),
    "entities that grow": (lambda s: doctype(s, LAUGHS, "&j;"), "names of its own"),
    "grown in an attribute": (lambda s: doctype(s, LAUGHS, '<b a="&j;">tin</b>'), "names of its own"),
    "external entity": (lambda s: doctype(s, '<!ENTITY x SYSTEM "file:///etc/hostname">', "&x;"), "names of its own"),
    "external parameter entity": (lambda s: doctype(s, '<!ENTITY % x SYSTEM "http://192.0.2.1/a.dtd"> %x;', "tin"), "names of its own"),
    "leads out": (lambda s: with_part(s, "../../tmp/out.xml", "<a/>"), "leads out of it"),
    "leads to the root": (lambda s: with_part(s, "/etc/out.xml", "<a/>"), "leads out of it"),
    "leads to a drive": (lambda s: with_part(s, "C:\\out.xml", "<a/>"), "leads out of it"),
    "breaks off": (lambda s: PLAIN[s]()[:-40], "damaged"),
    "breaks off early": (lambda s: PLAIN[s]()[:60], "damaged"),
    "large text": (large_text, "The text of this document has [0-9]+ megabytes"),
}  # fmt: skip

LIMITED = (
    "import resource, sys; "
    "resource.setrlimit(resource.RLIMIT_AS, (int(sys.argv[1]) << 20,) * 2); "
    "from decodecheck.cli.main import run; sys.exit(run(sys.argv[2:]))"
)


def check(school: Path, *names: str) -> tuple[int, str, str, float]:
    """Exit code, standard error and output, and seconds of a check that may take so much memory."""
    start = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-c", LIMITED, str(MEGABYTES), "check", *names, *AT_SCHOOL],
        cwd=school, capture_output=True, timeout=SECONDS * 2, check=False, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )  # fmt: skip
    return done.returncode, done.stderr.decode(), done.stdout.decode(), time.monotonic() - start


@pytest.mark.skipif(sys.platform != "linux", reason="limits on memory are those of Linux")
@pytest.mark.parametrize("suffix", MAIN)
def test_hostile_documents_are_told_one_by_one(tmp_path: Path, suffix: str) -> None:
    school = make(tmp_path)
    cases = {f"{n:02}{suffix}": (name, *HOSTILE[name]) for n, name in enumerate(HOSTILE)}
    if suffix != ".docx":
        del cases[f"{list(HOSTILE).index('large text'):02}{suffix}"]  # it takes long to pack
    if suffix in NESTED:
        cases[f"90{suffix}"] = ("nested", nested, "stand in one another, deeper than is read")
        cases[f"91{suffix}"] = ("in pieces", in_pieces, "more pieces than are read")
    for file, (_, made, _) in cases.items():
        (school / file).write_bytes(made(suffix))
    code, err, out, seconds = check(school, ".")
    assert code == 2 and seconds < SECONDS
    assert "Traceback" not in err and "fault" not in err
    for file, (name, _, said) in cases.items():
        line = next(line for line in err.splitlines() if line.startswith(f"{file}"))
        assert re.search(said, line), (name, line)
    assert "tin.txt" in out and f"{len(cases)} could not be checked" in out
    hostname = Path("/etc/hostname")
    assert not hostname.exists() or hostname.read_text().strip() not in err + out


@pytest.mark.skipif(sys.platform != "linux", reason="limits on memory are those of Linux")
def test_ten_thousand_elements_in_a_chapter_are_read(tmp_path: Path) -> None:
    school = make(tmp_path)
    deep = "<div>" * 10_000 + "tin" + "</div>" * 10_000
    (school / "deep.epub").write_bytes(epub({"a.xhtml": f"<html><body>{deep}</body></html>"}))
    code, err, out, seconds = check(school, "deep.epub")
    assert (code, err) == (0, "") and "1 word can be read" in out and seconds < SECONDS


def test_a_mixed_folder(tmp_path: Path) -> None:
    school = make(tmp_path)
    texts = school / "texts"
    texts.mkdir()
    good = {
        "a.docx": docx(p("The tin hat.")), "b.odt": odt("<text:p>The tin hat.</text:p>"), "c.epub": epub({"a.xhtml": "<p>The tin hat."}),
        "d.pdf": pdf([(50, "The tin hat.")]), "e.md": b"# The *tin* hat.\n", "f.html": b"<p>The tin hat.", "g.txt": b"The tin hat.\n",
    }  # fmt: skip
    bad = {"h.docx": b"The tin hat.", "i.pdf": pdf([]), "j.epub": b"PK\x03\x04", "k.md": good["d.pdf"], "l.txt": good["a.docx"],
           "m.docx": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(99), "n.odt": b"", "o.html": b"<!-- The tin hat."}  # fmt: skip
    others = {"README.md": b"# Zofka", "~$a.docx": b"\x05Pike", "plan.csv": b"a,b\n"}
    for name, data in {**good, **bad, **others}.items():
        (texts / name).write_bytes(data)
    (texts / "loop.docx").symlink_to("loop.docx")
    done = run(school, "check", "texts", *AT_SCHOOL)
    err, out = done.stderr.decode(), done.stdout.decode()
    assert done.returncode == 2
    for name in bad:
        assert sum(line.startswith(f"texts/{name}") for line in err.splitlines()) == 1, name
    assert "texts/loop.docx: This link leads back to itself." in err
    assert "2 other files were not looked at: 1 .docx that is open in Word, 1 README.md." in err
    assert f"{len(good)} texts: {len(good)} fine" in out and f"{len(bad) + 1} could not be checked" in out
    # the file about the folder is checked where it is named
    assert b"Zofka" in run(school, "check", "texts/README.md", *AT_SCHOOL).stdout


@pytest.mark.parametrize("suffix", [".docx", ".odt", ".epub", ".pdf", ".md", ".html"])
def test_pipes_and_devices_are_no_documents(tmp_path: Path, suffix: str) -> None:
    school = make(tmp_path)
    os.mkfifo(school / f"odd{suffix}")
    (school / f"zero{suffix}").symlink_to("/dev/zero")
    done = subprocess.run(command("check", ".", *AT_SCHOOL), cwd=school, capture_output=True, timeout=60, check=False)
    assert done.returncode == 2 and done.stderr.decode().count("no ordinary file") == 2
    assert "Fine: tin.txt" in done.stdout.decode()


def test_places_of_each_format_in_json(tmp_path: Path) -> None:
    school = make(tmp_path)
    files = {
        "a.docx": docx(p("Tin.") + p("A bread.")), "b.pdf": pdf([(50, "Tin."), (62, "A bread.")]), "c.md": b"# Tin\n\n- A **bread**.\n",
        "d.epub": epub({"a.xhtml": "<h1>Tin</h1><p>A bread."}), "e.html": b"<p>A\n<b>b</b>read.",
    }  # fmt: skip
    for name, data in files.items():
        (school / name).write_bytes(data)
    done = run(school, "check", *files, *AT_SCHOOL, "--format", "json")
    document = json.loads(done.stdout)
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    found = {
        file["path"]: {key: f[key] for key in ("line", "column", "end_line", "end_column", "place") if key in f}
        for file in document["files"] for f in file["findings"] if f["word"] == "bread"
    }  # fmt: skip
    assert found == {
        "a.docx": {"column": 3, "end_column": 8, "place": {"paragraph": 2}},
        "b.pdf": {"line": 2, "column": 3, "end_line": 2, "end_column": 8, "place": {"page": 1}},
        "c.md": {"line": 3, "column": 7, "end_line": 3, "end_column": 12},
        "d.epub": {"column": 3, "end_column": 8, "place": {"chapter": "Tin", "paragraph": 2}},
        "e.html": {"line": 2, "column": 4, "end_line": 2, "end_column": 13},
    }  # fmt: skip


def test_a_sense_is_settled_at_the_place_of_each_format(tmp_path: Path) -> None:
    school = make(tmp_path)
    (school / "school.progression").write_text(
        "step 1\n  teach p, e, n, t, a, h, s, i, r, d, ea as in head\n  tricky we\n", encoding="utf-8"
    )
    files: dict[str, tuple[bytes, str]] = {
        "a.docx": (docx(p("Tin.") + p("We read.")), "paragraph = 2"), "b.pdf": (pdf([(50, "Tin."), (62, "We read.")]), "page = 1\nline = 2"),
        "c.md": (b"Tin.\n\nWe *re*ad.", "line = 3"), "d.epub": (epub({"a.xhtml": "<h1>Tin</h1><p>We read."}), 'chapter = "Tin"\nparagraph = 2'),
        "e.html": (b"<p>\nWe read.", "line = 2"), "f.odt": (odt("<text:p>Tin.</text:p><text:p>We read.</text:p>"), "paragraph = 2"),
    }  # fmt: skip
    tables = "".join(
        f'[[settled]]\nfiles = "{name}"\nword = "read"\nsense = "past"\n{place}\n\n'
        for name, (_, place) in files.items()
    )
    for name, (data, _) in files.items():
        (school / name).write_bytes(data)
    config = 'progression = "school.progression"\n'
    (school / "decodecheck.toml").write_text(config, encoding="utf-8")
    done = run(school, "check", *files, "--strict")
    assert done.returncode == 1 and b"6 with words to check by eye" in done.stdout
    # the remedy names the place as the table has it
    for name, (_, place) in files.items():
        told = run(school, "check", name, "--details").stdout.decode()
        assert place.replace("\n", "\n  ") in told or place.split("\n")[0] in told, told
    (school / "decodecheck.toml").write_text(config + tables, encoding="utf-8")
    done = run(school, "check", *files, "--strict")
    assert (done.returncode, done.stderr) == (0, b""), done.stdout.decode()


def test_standard_input_with_a_name(tmp_path: Path) -> None:
    school = make(tmp_path)
    (school / "below").mkdir()
    config = 'progression = "../school.progression"\n[[texts]]\nfiles = "step-{step}/*.md"\n'
    (school / "below" / "decodecheck.toml").write_text(config, encoding="utf-8")
    done = run(
        school, "check", "-", "--stdin-name", "below/step-1/story.md", "--format", "json", given=b"# The *tin* mat\n"
    )
    (file,) = json.loads(done.stdout)["files"]
    assert (file["path"], file["step"], done.returncode) == ("below/step-1/story.md", 1, 1)
    assert [(f["word"], f["line"], f["column"]) for f in file["findings"]] == [("mat", 1, 13)]
    for name, data in (("a.docx", docx(p("The tin."))), ("a.pdf", pdf([(50, "The tin.")])), ("a", b"The tin.")):
        done = run(school, "check", "-", "--stdin-name", name, *AT_SCHOOL, given=data)
        assert done.returncode == 0 and done.stdout.startswith(f"{name}: all 2 words can be read".encode())
    done = run(school, "check", "-", *AT_SCHOOL, given=docx(p("The tin.")))
    assert done.returncode == 2
    assert done.stderr.decode() == (
        "standard input: This is a Word document, and no plain text.\n  Say so with a name: --stdin-name story.docx.\n"
    )
    assert b"Add - to the files" in run(school, "check", "tin.txt", "--stdin-name", "a.md", *AT_SCHOOL).stderr


def test_of_a_thousand_texts_three_are_bad(tmp_path: Path) -> None:
    school = make(tmp_path)
    texts = school / "texts"
    texts.mkdir()
    good = {
        ".txt": b"The tin hat.",
        ".md": b"The *tin* hat.",
        ".html": b"<p>The tin hat.",
        ".docx": docx(p("The tin hat.")),
    }
    for n in range(997):
        suffix = list(good)[n % len(good)]
        (texts / f"{n:04}{suffix}").write_bytes(good[suffix])
    bad = {"0400x.docx": b"PK", "0500x.txt": b"\xff\xfe\x00", "0600x.html": b"<!-- tin"}
    for name, data in bad.items():
        (texts / name).write_bytes(data)
    done = run(school, "check", "texts", *AT_SCHOOL)
    err, out = done.stderr.decode(), done.stdout.decode()
    assert done.returncode == 2
    assert "997 texts: 997 fine" in out and "3 could not be checked" in out
    assert [line.split(":")[0] for line in err.splitlines() if line.startswith("texts/")] == [
        f"texts/{name}" for name in bad
    ]
