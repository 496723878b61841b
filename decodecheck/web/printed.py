"""Pages to print, as an answer: the half page, a sheet of words. What styles them is named to the browser one by one, and no other is let in."""

from __future__ import annotations

import hashlib
import html
import re
from base64 import b64encode

from decodecheck.reports.fit import fit
from decodecheck.reports.page import Page
from decodecheck.reports.pages import docx as word_page
from decodecheck.reports.pages import html as web_page

_SHEET = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_ATTRIBUTE = re.compile(r'<[^<>]*? style="([^"]*)"')


def as_document(page: Page) -> tuple[str, str]:
    """A page as HTML, and the content-security policy that lets its own styles in, by their hashes, and nothing else."""
    made = web_page.render(fit(page))
    sheets = map(_hash, _SHEET.findall(made))
    attributes = (_hash(html.unescape(style)) for style in dict.fromkeys(_ATTRIBUTE.findall(made)))
    styles = " ".join(("'unsafe-hashes'", *sheets, *attributes))
    return made, f"default-src 'none'; style-src {styles}; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"


def as_word(page: Page) -> bytes:
    """A page as a Word document."""
    made = word_page.render(fit(page))
    return made if isinstance(made, bytes) else bytes(made)


def _hash(style: str) -> str:
    """A style as a policy names it (Content Security Policy Level 3, section 2.3.1)."""
    return f"'sha256-{b64encode(hashlib.sha256(style.encode()).digest()).decode()}'"
