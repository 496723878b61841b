"""What is read of a file in Markdown: its paragraphs without marks, and where in the file each character of them stands."""

from __future__ import annotations

from markdown_it.token import Token

from decodecheck.documents.document import Document
from decodecheck.documents.front_matter import take_front_matter
from decodecheck.documents.html_text import HtmlText
from decodecheck.documents.markdown_inline import AT, DEEPEST, parser
from decodecheck.documents.notes import mistake
from decodecheck.documents.prose import Prose
from decodecheck.errors import UserError
from decodecheck.source import SourceText


class MarkdownText:
    """Walks the tokens of a file."""

    def __init__(self, source: SourceText, alt_text: bool = False) -> None:
        self.source = source
        self.alt_text = alt_text
        self.prose = Prose(source)
        self.html = HtmlText(self.prose, alt_text)
        self.used: dict[int, int] = {}
        """How far along each line cells of a table have been found."""

    def document(self) -> Document:
        """The whole file."""
        before: Token | None = None
        found = parser().parse(self.source.text)
        self.html.source = self._without_marks(found)
        for token in found:
            if token.level >= DEEPEST - 1:
                line = token.map[0] if token.map else 0
                what = f"Lists or quotations stand in one another here, more than {DEEPEST - 2} deep; what lies deeper is not read."
                raise UserError(mistake(self.source, self.source.line_starts[line], what, "Take some of them apart."))
            if token.type == "inline" and token.children:
                self._inline(token, token.children, before)
            elif token.type == "html_block" and token.map:
                self.html.feed(self._line_start(token.map[0]), self._line_start(token.map[1]))
            elif token.type == "front_matter" and token.map:
                take_front_matter(self.prose.notes, token.content, token.map[0] + 1)
            if token.block and token.type not in ("front_matter",):
                self.prose.part()
            before = token
        return self.prose.document()

    def _without_marks(self, found: list[Token]) -> SourceText:
        """The file with blanks in place of the marks of quotations and lists that stand before lines of HTML."""
        blanks: list[tuple[int, int]] = []
        for token in found:
            # a tag in a sentence meets such marks only where it goes on in the next line
            html = token.type == "html_block" or any(
                child.type == "html_inline" and "\n" in child.content for child in token.children or ()
            )
            if not (html and token.map):
                continue
            for number, line in enumerate(token.content.rstrip("\n").split("\n"), token.map[0]):
                whole = self.source.line(number + 1)
                column = len(whole.rstrip(" \t")) - len(line.strip(" \t"))
                if whole[:column].strip(" \t"):
                    blanks.append((self.source.line_starts[number], column))
        if not blanks:
            return self.source
        parts, at = [], 0
        for start, length in sorted(set(blanks)):
            if start >= at:
                parts += [self.source.text[at:start], " " * length]
                at = start + length
        return SourceText(self.source.path, "".join([*parts, self.source.text[at:]]))

    def _line_start(self, line: int) -> int:
        starts = self.source.line_starts
        return starts[line] if line < len(starts) else len(self.source.text)

    def _inline(self, token: Token, children: list[Token], before: Token | None) -> None:
        places = self._places(token, before)
        struck = targets = 0
        at = 0
        for child in children:
            kind = child.type
            struck += (kind == "s_open") - (kind == "s_close")
            if child.info == "auto" and kind in ("link_open", "link_close"):
                targets += child.nesting
            if kind in ("text", "text_special"):
                # marks that open and close nothing are pushed one by one from the same place
                at = max(at, child.meta[AT])
                length = len(child.markup) if kind == "text_special" else len(child.content)
                if not (struck or targets):
                    self._add(child.content, places[at : at + length + 1])
                at += length
            elif kind in ("softbreak", "hardbreak"):
                self._put(" " if kind == "softbreak" else "\n", places[child.meta[AT]])
            elif kind == "html_inline":
                start = child.meta[AT]
                self.html.feed(places[start], places[start + len(child.content) - 1] + 1)
            elif kind == "image" and self.alt_text and child.content and not struck:
                start = child.meta[AT] + len("![")
                end = start + len(child.content)
                self._put("\n", places[start])
                self._add(child.content, places[start : end + 1])
                self._put("\n", places[end])
            elif kind in ("code_inline", "image"):
                self._put(" ", places[child.meta[AT]])

    def _put(self, text: str, place: int) -> None:
        """A blank or line end that stands for something else."""
        if not self.html.left_out:
            self.prose.add(text, place, place)

    def _add(self, text: str, places: list[int]) -> None:
        """Characters, with the places of their source characters and of the one after them."""
        if not text or len(places) < 2:
            return
        if len(text) != len(places) - 1:
            self.html.add(text, places[0], places[-2] + 1)
            return
        start = 0
        for i in range(1, len(text) + 1):
            # what follows in the source may be on another line, or behind a mark
            if i == len(text) or places[i] != places[i - 1] + 1:
                self.html.add(text[start:i], places[start], places[i - 1] + 1)
                start = i

    def _places(self, token: Token, before: Token | None) -> list[int]:
        """The place in the file of each character of an inline token's contents, and one for its end."""
        first = token.map[0] if token.map else 0
        cell = before is not None and before.type in ("th_open", "td_open")
        places: list[int] = []
        for number, line in enumerate(token.content.split("\n"), first):
            start, whole = self.source.line_starts[number], self.source.line(number + 1)
            body = line.strip(" \t")
            lead = len(line) - len(line.lstrip(" \t")) if body else 0
            if cell:
                column, escaped = self._cell(number, whole, body)
            elif before is not None and before.type == "heading_open" and before.markup.startswith("#"):
                column, escaped = whole.find(body, whole.find(before.markup) + len(before.markup)), False
            else:
                column, escaped = len(whole.rstrip(" \t")) - len(body), False
            own = [start + column] * lead
            at = start + column
            for character in body:
                at += escaped and character == "|"
                own.append(at)
                at += 1
            own += [at] * (len(line) - len(own))
            places += own
            places.append(start + len(whole))
        places[-1] = places[-2] + 1 if len(places) > 1 else places[-1]
        return places

    def _cell(self, number: int, whole: str, body: str) -> tuple[int, bool]:
        """The column of a cell in its line, and whether bars in it stand behind a backslash there."""
        used = self.used.get(number, 0)
        column, escaped = whole.find(body, used), False
        if column < 0:
            column, escaped = whole.find(body.replace("|", "\\|"), used), True
        column = max(column, used)
        self.used[number] = column + len(body) + (body.count("|") if escaped else 0)
        return column, escaped
