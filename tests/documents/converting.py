"""A story of the demo as a page and as Markdown with the same paragraphs and lines, from which other programs make other formats."""

from __future__ import annotations

import html
import subprocess
from pathlib import Path


def as_page(story: str) -> str:
    """The story as a web page: its first paragraph is the heading."""
    title, *rest = (html.escape(part, quote=False) for part in story.strip().split("\n\n"))
    body = "".join(f"<p>{part}</p>\n".replace("\n", "<br/>\n", part.count("\n")) for part in rest)
    return f'<!DOCTYPE html>\n<html lang="en-GB"><head><meta charset="utf-8"><title>{title}</title></head>\n<body>\n<h1>{title}</h1>\n{body}</body></html>\n'


def as_markdown(story: str) -> str:
    """The story as Markdown: its first paragraph is the heading, its lines are kept apart."""
    title, *rest = story.strip().split("\n\n")
    return "\n\n".join([f"# {title}", *(part.replace("\n", "\\\n") for part in rest)]) + "\n"


def libreoffice(files: list[Path], kind: str, folder: Path, profile: Path) -> None:
    """What LibreOffice makes of files, in a folder: `odt` of web pages, `docx`, `pdf` and `epub` of that."""
    pages = ["--infilter=HTML (StarWriter)"] if kind == "odt" else []
    command = [
        "soffice",
        f"-env:UserInstallation=file://{profile}",
        "--headless",
        *pages,
        "--convert-to",
        kind,
        "--outdir",
        str(folder),
    ]
    subprocess.run([*command, *map(str, files)], capture_output=True, check=True, timeout=300)


def pandoc(file: Path, target: Path) -> None:
    """What pandoc makes of a file in Markdown."""
    command = [
        "pandoc",
        "--standalone",
        "--metadata=title:",
        "--wrap=none",
        "-f",
        "commonmark_x",
        str(file),
        "-o",
        str(target),
    ]
    subprocess.run(command, capture_output=True, check=True, timeout=120)
