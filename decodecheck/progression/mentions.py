"""What the statements inside steps teach: items found, mistakes reported, every mention kept."""

from __future__ import annotations

from abc import ABC, abstractmethod

from decodecheck.errors import nearest
from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.store import Reading, lexicon
from decodecheck.phonics.inventory import inventory, together
from decodecheck.phonics.sounds import Sound, lexicon_of
from decodecheck.progression import items, syntax
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.syntax import Item, Source, Text


class Mentions(ABC):
    """Resolves `teach`, `together`, `structure` and `tricky` into the items of a teaching order."""

    order: TeachingOrder
    names: items.Names

    @abstractmethod
    def _problem(
        self, source: Source, number: int, text: Text, what: str, todo: str = "", *, note: bool = False
    ) -> None:
        """Report a mistake at a piece of a line."""

    def _taught(self, source: Source, number: int, s: syntax.Statement, step: int) -> None:
        match s:
            case syntax.Teach(given):
                for item in given:
                    self._item(source, number, item, step)
            case syntax.Together(given):
                for name in given:
                    if name.value in together():
                        self._mention(
                            source, number, name, step, name.value, "together", frozenset((f"together|{name}",))
                        )
                    else:
                        self._problem(
                            source,
                            number,
                            name,
                            f"`{name}` is no combination of this program.",
                            one_of(name.value, list(together())),
                        )
            case syntax.Structure(shapes):
                for shape in shapes:
                    key = f"syllables|{int(shape.name.value)}" if shape.syllables else f"shape|{shape.name}"
                    label = f"{shape.name} syllables" if shape.syllables else shape.name.value
                    self._mention(source, number, shape.name, step, label, "structure", frozenset((key,)))
            case syntax.Tricky(words):
                for word in words:
                    self._tricky(source, number, word, step)

    def _tricky(self, source: Source, number: int, word: Text, step: int) -> None:
        key = word.value.lower()
        if key in self.order.tricky:
            path, line, _ = self.order.tricky_places[key]
            where = f"in line {line}" if path == source.path else f"in {path}, line {line}"
            self._problem(
                source,
                number,
                word,
                f"The tricky word `{word}` is taught twice; first at step {self.order.tricky[key]}, {where}.",
                "Take one of the two out.",
            )
            return
        self.order.tricky[key] = step
        self.order.tricky_spelling[key] = word.value
        self.order.tricky_places[key] = (source.path, number, word.column)

    def _item(self, source: Source, number: int, item: Item, step: int) -> None:
        name = item.name.value
        accent = self.order.accent
        if len(name) == 1 and name.isupper():
            self.order.capitals.setdefault(name.lower(), step)
            self._mention(source, number, item.name, step, name, "capital", frozenset((f"capital|{name.lower()}",)))
            return
        if name in ENDINGS:
            self._mention(source, number, item.name, step, name, "ending", frozenset((f"ending|{name}",)))
            return
        rows = inventory().by_grapheme.get(name)
        if item.words:
            if not rows and name in together():
                what = f"`{name}` is a combination, which needs no word."
                self._problem(source, number, item.words[0], what, f"Write `{name}` alone.")
            elif not rows and not any(w.value.lower() in self.order.pinned for w in item.words):
                self._unknown(source, number, item.name)
            else:
                self._as_in(source, number, item, step)
            return
        if rows and any(c.bare != "no" for c in rows):
            asked = [c for c in items.choices(name, accent) if c.bare == "ask"]
            if len(asked) > 1:
                paste = " or ".join(f"`{name} as in {c.key_word}`" for c in asked)
                both = f"{name} as in " + " and ".join(c.key_word for c in asked)
                self._problem(
                    source,
                    number,
                    item.name,
                    f"`{name}` alone does not say which sound is taught.",
                    f"Write {paste}, or for all of them `{both}`.",
                )
                return
            sounds = [s for c in rows if c.bare != "no" for s in items.same_in_accent(name, c.sound, accent)]
            self._mention(
                source,
                number,
                item.name,
                step,
                name,
                "correspondence",
                items.keys(name, sounds, item.place),
                item.place,
            )
            return
        if name in together():
            self._mention(source, number, item.name, step, name, "together", frozenset((f"together|{name}",)))
            return
        if name in self.names.adjacent:
            self._mention(source, number, item.name, step, name, "adjacent", frozenset((f"adjacent|{name}",)))
            return
        if rows:
            options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name, accent))
            self._problem(
                source, number, item.name, f"`{name}` alone does not say which sound is taught.", f"Write {options}."
            )
            return
        self._unknown(source, number, item.name)

    def _unknown(self, source: Source, number: int, name: Text) -> None:
        everything = [*self.names.graphemes, *self.names.endings, *self.names.together]
        close = nearest(name.value.lower(), everything)
        with_hyphen = "".join(c if c.isalpha() else "-" for c in name.value.lower())
        if with_hyphen in everything:
            close.insert(0, with_hyphen)
        if f"-{name.value}" in self.names.endings:
            close.insert(0, f"-{name.value}")
        hint = (
            "Nearest: " + ", ".join(f"`{c}`" for c in list(dict.fromkeys(close))[:3]) + "."
            if close
            else "Name a grapheme (ai, a-e), an ending (-ing) or adjacent consonants (st)."
        )
        self._problem(
            source, number, name, f"`{name}` is no grapheme, ending or combination that this program knows.", hint
        )

    def _as_in(self, source: Source, number: int, item: Item, step: int) -> None:
        name, accent = item.name.value, self.order.accent
        found: list[Sound] = []
        for word in item.words:
            key = word.value.lower()
            readings = self._readings(key)
            named = items.as_in(name, key, readings, accent)
            if not readings and not named.sounds:
                todo = f"Name the sound by a word that is, or pin it first: `word {word} = ...`."
                self._problem(source, number, word, f"The word `{word}` is not in the lexicon.", todo)
            elif not named.sounds:
                self._no_such(source, number, item.name, word, readings)
            elif not named.clear:
                options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name, accent)[:6])
                what = f"`{name}` has more than one sound in `{word}`."
                self._problem(source, number, word, what, f"Choose a word where it has one, such as {options}.")
            else:
                for sound in named.sounds:
                    found += items.same_in_accent(name, sound, accent)
        if found:
            label = f"{name} as in " + " and ".join(w.value for w in item.words)
            self._mention(
                source,
                number,
                item.name,
                step,
                label,
                "correspondence",
                items.keys(name, found, item.place),
                item.place,
            )

    def _no_such(self, source: Source, number: int, name: Text, word: Text, readings: list[Reading]) -> None:
        if name.value not in inventory().by_grapheme and name.value.replace("-", "") not in word.value.lower():
            self._unknown(source, number, name)
            return
        shown = " ".join(s.grapheme for s in readings[0].segments)
        options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name.value, self.order.accent)[:6])
        self._problem(
            source,
            number,
            word,
            f"`{word}` does not hold the grapheme `{name}`: it is {shown}.",
            f"Name the sound by another word: {options}." if options else "",
        )

    def _readings(self, word: str) -> list[Reading]:
        if word in self.order.pinned:
            return [self.order.pinned[word]]
        return lexicon(lexicon_of(self.order.accent)).readings(word)

    def _mention(
        self,
        source: Source,
        number: int,
        text: Text,
        step: int,
        label: str,
        kind: str,
        keys: frozenset[str],
        place: str = "",
    ) -> None:
        if place:
            label += f", at word {place}"
        if all(key in self.order.item_step for key in keys):
            first = next(m for m in self.order.mentions if m.keys & keys)
            where = f"in line {first.line}" if first.path == source.path else f"in {first.path}, line {first.line}"
            same = "" if first.label == label else f" as `{first.label}`, the same in this accent"
            self._problem(
                source,
                number,
                text,
                f"`{label}` is taught twice; first at step {first.step}, {where}{same}.",
                "Take one of the two out.",
            )
            return
        for key in keys:
            self.order.item_step.setdefault(key, step)
        self.order.mentions.append(Mention(step, label, kind, keys, source.path, number, text.column))


def one_of(name: str, known: list[str]) -> str:
    """A remedy that names the known names nearest to one, or all of them."""
    close = nearest(name, known)
    return (
        "Nearest: " + ", ".join(f"`{c}`" for c in close) + "." if close else "Choose one of: " + ", ".join(known) + "."
    )
