"""The inline parser of markdown-it-py, made to note where in its source each token begins.

Its tokens have no places of their own. Text is put together of characters that follow each other in the source, so the place of the
first is enough.
"""

from __future__ import annotations

from typing import Any, Literal

from markdown_it import MarkdownIt
from markdown_it.parser_inline import ParserInline
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token
from mdit_py_plugins.deflist import deflist_plugin
from mdit_py_plugins.footnote import footnote_plugin
from mdit_py_plugins.front_matter import front_matter_plugin

DEEPEST = 60
"""Lists in lists, quotations in quotations; markdown-it-py leaves out what lies deeper, and Python has a limit of its own."""
AT = "at"
"""The key of a token's meta data that holds its place."""


class _State(StateInline):
    """Notes where pending text begins, and where a token is pushed."""

    pending_from = 0

    def pushPending(self) -> Token:
        token = super().pushPending()
        token.meta = {**token.meta, AT: self.pending_from}
        return token

    def push(self, ttype: str, tag: str, nesting: Literal[-1, 0, 1]) -> Token:
        token = super().push(ttype, tag, nesting)
        token.meta = {**token.meta, AT: self.pos}
        return token


class _Parser(ParserInline):
    """ParserInline.tokenize of markdown-it-py 4.0 with a line that notes where text begins."""

    def tokenize(self, state: StateInline) -> None:
        assert isinstance(state, _State)
        rules = self.ruler.getRules("")
        end, deepest = state.posMax, state.md.options["maxNesting"]
        while state.pos < end:
            if not state.pending:
                state.pending_from = state.pos
            if state.level < deepest and any(rule(state, False) for rule in rules):
                continue
            state.pending += state.src[state.pos]
            state.pos += 1
        if state.pending:
            state.pushPending()

    def parse(self, src: str, md: MarkdownIt, env: Any, tokens: list[Token]) -> list[Token]:
        state = _State(src, md, env, tokens)
        self.tokenize(state)
        for rule in self.ruler2.getRules(""):
            rule(state)
        return state.tokens


def parser() -> MarkdownIt:
    """A parser of CommonMark with tables, struck-out text, footnotes, lists of definitions and front matter."""
    md = MarkdownIt("commonmark", {"maxNesting": DEEPEST})
    md.inline = _Parser()
    md.configure("commonmark", {"maxNesting": DEEPEST})
    md.enable(["table", "strikethrough"])
    md.use(front_matter_plugin).use(footnote_plugin).use(deflist_plugin)
    # joined text would lose the places of its parts; a note inside a sentence is parsed apart from it, so it is read where it stands
    return md.disable(["text_join", "fragments_join", "footnote_inline"])
