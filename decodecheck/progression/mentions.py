"""What the statements inside steps teach: items found, mistakes reported, every mention kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import assert_never

from decodecheck.lexicon import items
from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import Reading, lexicon
from decodecheck.phonics.inventory import inventory, together
from decodecheck.phonics.sounds import ACCENTS, Sound, lexicon_of
from decodecheck.progression import meanings, syntax
from decodecheck.progression.findable import may_match
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.spot import Spot
from decodecheck.progression.swapped import nearest_name, swapped
from decodecheck.progression.syntax import Item, Shape, Text

MOST_HINTS = 200
"""Mistakes of which more is said than what they are: for unknown names, others are looked for that are like them. More than are
told (`many.MOST`)."""
NUMBERS = {2: "two", 3: "three", 4: "four", 5: "five"}
ALONE = {
    "capital": ("is a capital letter", "needs", "is"),
    "ending": ("is an ending", "needs", "is"),
    "together": ("is a combination", "needs", "is"),
    "adjacent": ("stands for adjacent consonants", "need", "are"),
}
"""What is taught as it stands, as messages name it, with the verbs that follow."""


@dataclass
class Mentions:
    """Resolves `teach`, `together`, `structure` and `tricky` into the items of a teaching order.

    `may_be_tricky` says that a word which stands for an item may be meant to be taught whole, as in a step expression.
    """

    order: TeachingOrder
    may_be_tricky: bool = False
    names: meanings.Names = field(init=False)
    named: list[tuple[Sound, ...]] = field(default_factory=list)
    """The sounds that each of the order's mentions names, without those that the accent does not tell apart."""
    by_key: dict[items.Item, list[int]] = field(default_factory=dict)
    """The places in the order's mentions of those that hold an item."""
    unknown: int = 0
    """How many names were not known, or were taught again, so far."""

    def __post_init__(self) -> None:
        self.names = meanings.known_names(self.order.lexicon)

    def take(self, spot: Spot, s: syntax.Lesson, step: int) -> None:
        """Teach what a statement names at a step, and report what is wrong with it."""
        match s:
            case syntax.Teach(given):
                for item in given:
                    self._item(spot, item, step)
            case syntax.Together(given):
                for name in given:
                    if name.value in together():
                        keys = meanings.combination_items(self.order.lexicon, name.value, "", self.order.accent)
                        self._mention(spot, name, step, name.value, "together", keys)
                    else:
                        spot.problem(
                            "no-combination",
                            name,
                            f"`{name}` is no combination of this program.",
                            one_of(name.value, list(together())),
                        )
            case syntax.Structure(shapes):
                for shape in shapes:
                    if self._impossible(spot, shape):
                        continue
                    called = shape.name.value
                    key = items.Item.syllables(int(called)) if shape.syllables else items.Item.shape(called)
                    label = f"{called} syllables" if shape.syllables else called
                    self._mention(spot, shape.name, step, label, "structure", frozenset((key,)))
            case syntax.Tricky(words):
                for word in words:
                    self._tricky(spot, word, step)
            case _:
                assert_never(s)

    def _tricky(self, spot: Spot, word: Text, step: int) -> None:
        if not may_match(spot, word):
            return
        key = plain_spelling(word.value).plain
        if key in self.order.tricky:
            path, line, _ = self.order.tricky_places[key]
            spot.problem(
                "taught-twice",
                word,
                f"The tricky word `{word}` is taught twice; first at step {self.order.tricky[key]}{spot.where(path, line)}.",
                "Take one of the two out.",
            )
            return
        self.order.tricky[key] = step
        self.order.tricky_spelling[key] = word.value
        self.order.tricky_places[key] = (spot.path, spot.number, word.column)

    def _impossible(self, spot: Spot, shape: Shape) -> bool:
        """Whether no word has a structure, which is then reported."""
        if shape.syllables and not int(shape.name.value):
            spot.problem("no-structure", shape.name, "No word has 0 syllables.", "Write a number from 1 up.")
        elif not shape.syllables and "V" not in shape.name.value:
            what = f"No word has the structure `{shape.name}`: there is no vowel in it."
            spot.problem("no-structure", shape.name, what, "Write vowels as V, for instance CVC.")
        else:
            return False
        return True

    def _alone(self, spot: Spot, item: Item, kind: str, step: int) -> None:
        """Teach what is taught as it stands, such as an ending; a word or a place with it would do nothing."""
        name = item.name.value
        noun, needs, taught = ALONE[kind]
        if item.words:
            todo = f"Write `{name}` alone" + (
                f", or `{name.lower()} as in {item.words[0]}` for the sound." if kind == "capital" else "."
            )
            spot.problem("needs-no-word", item.words[0], f"`{name}` {noun}, which {needs} no word.", todo)
        if item.place:
            what = f"`{name}` {noun}, which {taught} taught without a place."
            spot.problem("needs-no-place", item.name, what, f"Write `{name}` alone: it counts wherever it stands.")
        self._mention(spot, item.name, step, name, kind, self._keys_alone(kind, name))

    def _keys_alone(self, kind: str, name: str) -> frozenset[items.Item]:
        """The items of what is taught as it stands."""
        if kind == "together":
            return meanings.combination_items(self.order.lexicon, name, "", self.order.accent)
        if kind == "adjacent":
            return self.names.adjacent[name]
        return frozenset((items.Item.capital(name.lower()) if kind == "capital" else items.Item.ending(name),))

    def _combination(self, spot: Spot, item: Item, step: int) -> None:
        """Teach a combination with the sound it has in a word: `tion as in question`."""
        name = item.name.value
        found: frozenset[items.Item] = frozenset()
        for word in item.words:
            keys = meanings.combination_items(
                self.order.lexicon, name, word.value, self.order.accent, self._readings(word.value.lower())
            )
            if not keys:
                options = ", ".join(f"`{name} as in {key}`" for key in dict.fromkeys(together()[name].key_words))
                what = f"`{word}` does not hold the combination `{name}`."
                spot.problem("not-in-word", word, what, f"Write {options}.")
            found |= keys
        if found:
            label = f"{name} as in " + " and ".join(w.value for w in item.words)
            self._mention(spot, item.name, step, label, "together", found)

    def _item(self, spot: Spot, item: Item, step: int) -> None:
        name = item.name.value
        accent = self.order.accent
        if len(name) == 1 and name.isupper():
            self.order.capitals.setdefault(name.lower(), step)
            self._alone(spot, item, "capital", step)
            return
        if name in ENDINGS:
            self._alone(spot, item, "ending", step)
            return
        rows = inventory().by_grapheme.get(name)
        if item.words:
            pinned = any(w.value.lower() in self.order.pinned for w in item.words)
            if not rows and name in together():
                self._combination(spot, item, step)
            elif not rows and not pinned and name in self.names.adjacent:
                self._alone(spot, item, "adjacent", step)
            elif not rows and not pinned:
                self._unknown(spot, item.name)
            else:
                self._as_in(spot, item, step)
            return
        if rows and any(c.bare != "no" for c in rows):
            asked = [c for c in meanings.choices(name, accent) if c.bare == "ask"]
            if len(asked) > 1:
                paste = " or ".join(f"`{name} as in {c.key_word}`" for c in asked)
                both = f"{name} as in " + " and ".join(c.key_word for c in asked)
                spot.problem(
                    "which-sound",
                    item.name,
                    f"`{name}` alone does not say which sound is taught.",
                    f"Write {paste}, or for all of them `{both}`.",
                )
                return
            self._sounds(spot, item, step, name, [c.sound for c in rows if c.bare != "no"])
            return
        if name in together():
            self._alone(spot, item, "together", step)
            return
        if name in self.names.adjacent:
            self._alone(spot, item, "adjacent", step)
            return
        if rows:
            options = ", ".join(f"`{name} as in {c.key_word}`" for c in meanings.choices(name, accent))
            turned = [g for g in swapped(name) if any(c.bare == "yes" for c in inventory().by_grapheme.get(g, ()))]
            todo = f"Is `{turned[0]}` meant? If not, write {options}." if turned else f"Write {options}."
            spot.problem("which-sound", item.name, f"`{name}` alone does not say which sound is taught.", todo)
            return
        self._unknown(spot, item.name)

    def _unknown(self, spot: Spot, name: Text) -> None:
        everything = [*self.names.graphemes, *self.names.endings, *self.names.together]
        self.unknown += 1
        close = nearest_name(name.value.lower(), everything) if self.unknown <= MOST_HINTS else []
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
        if self.may_be_tricky and self.order.lexicon.has(name.value.lower()):
            hint = f"To name a word taught whole, write `tricky {name}`."
        spot.problem(
            "no-grapheme", name, f"decodecheck does not know `{name}`: it is no grapheme, ending or combination.", hint
        )

    def _as_in(self, spot: Spot, item: Item, step: int) -> None:
        name, accent = item.name.value, self.order.accent
        taught = self.order.item_step.keys() if len(item.words) > 1 else ()
        found: list[Sound] = []
        for word in item.words:
            key = word.value.lower()
            readings = self._readings(key)
            named = meanings.as_in(name, key, readings, accent)
            if not readings and not named.sounds:
                todo = "Name the sound by a word that is" + (
                    "." if spot.drafted else f", or pin it first: `word {word} = ...`."
                )
                spot.problem("not-in-lexicon", word, f"The word `{word}` is not in the lexicon.", todo)
            elif not named.sounds:
                self._no_such(spot, item.name, word, readings)
            elif not named.clear:
                options = ", ".join(f"`{name} as in {c.key_word}`" for c in meanings.choices(name, accent)[:6])
                what = f"`{name}` has more than one sound in `{word}`."
                spot.problem("several-sounds", word, what, f"Choose a word where it has one, such as {options}.")
            elif taught and all(key in taught for key in self._keys(item, named.sounds)):
                label = f"{name} as in {word}" + (f", at word {item.place}" if item.place else "")
                self._twice(spot, word, label, self._keys(item, named.sounds), named.sounds)
            else:
                found += [sound for sound in named.sounds if sound not in found]
        if found:
            label = f"{name} as in " + " and ".join(w.value for w in item.words)
            self._sounds(spot, item, step, label, found)

    def _keys(self, item: Item, sounds: Iterable[Sound]) -> frozenset[items.Item]:
        """What a grapheme with some sounds stands for, with all that the accent does not tell apart from them."""
        name = item.name.value
        same = [s for sound in sounds for s in meanings.same_in_accent(name, sound, self.order.accent)]
        return meanings.keys(name, same, item.place)

    def _sounds(self, spot: Spot, item: Item, step: int, label: str, sounds: list[Sound]) -> None:
        """Teach a grapheme with some sounds."""
        keys = self._keys(item, sounds)
        self._mention(spot, item.name, step, label, "correspondence", keys, item.place, tuple(sounds))

    def _no_such(self, spot: Spot, name: Text, word: Text, readings: list[Reading]) -> None:
        if name.value not in inventory().by_grapheme and name.value.replace("-", "") not in word.value.lower():
            self._unknown(spot, name)
            return
        graphemes = [s.grapheme for s in readings[0].segments]
        shown = " ".join(graphemes)
        options = ", ".join(f"`{name} as in {c.key_word}`" for c in meanings.choices(name.value, self.order.accent)[:6])
        spot.problem(
            "not-in-word",
            word,
            f"`{word}` does not hold the grapheme `{name}`: it is {shown}.",
            self._as_a_run(name.value, graphemes) or (f"Name the sound by another word: {options}." if options else ""),
        )

    def _as_a_run(self, name: str, graphemes: list[str]) -> str:
        """The remedy where a name is that of adjacent consonants which a word holds (the st of stop); else ""."""
        if name not in self.names.adjacent:
            return ""
        for length in range(2, len(name) + 1):
            for at in range(len(graphemes) - length + 1):
                run = graphemes[at : at + length]
                if "".join(run) == name:
                    return f"For the {NUMBERS[length]} sounds {' '.join(run)} write `{name}` alone."
        return ""

    def _readings(self, word: str) -> list[Reading]:
        if word in self.order.pinned:
            return [self.order.pinned[word]]
        return lexicon(lexicon_of(self.order.accent)).readings(word)

    def _mention(
        self,
        spot: Spot,
        text: Text,
        step: int,
        label: str,
        kind: str,
        keys: frozenset[items.Item],
        place: str = "",
        sounds: tuple[Sound, ...] = (),
    ) -> None:
        if place:
            label += f", at word {place}"
        if all(key in self.order.item_step for key in keys):
            self._twice(spot, text, label, keys, sounds)
            if not self._merges(label, keys, sounds):
                return
        for key in keys:
            # an included file may teach at a later step what comes after it in the lines
            self.order.item_step[key] = min(step, self.order.item_step.get(key, step))
        for key in keys:
            self.by_key.setdefault(key, []).append(len(self.order.mentions))
        self.order.mentions.append(Mention(step, label, kind, keys, spot.path, spot.number, text.column))
        self.named.append(sounds)

    def _twice(self, spot: Spot, text: Text, label: str, keys: frozenset[items.Item], sounds: Iterable[Sound]) -> None:
        """Report what is taught again; only note what merely this accent does not tell apart."""
        first = self.order.mentions[min(place for key in keys for place in self.by_key[key])]
        where = spot.where(first.path, first.line)
        self.unknown += 1
        if self._merges(label, keys, sounds):
            what = f"`{label}` is the same in this accent as `{first.label}`, taught at step {first.step}{where}."
            spot.problem("same-in-accent", text, what, "It may stay; the earlier of the two holds.", note=True)
            return
        same = "" if first.label == label else f" as `{first.label}`"
        what = f"`{label}` is taught twice; first at step {first.step}{where}{same}."
        spot.problem("taught-twice", text, what, "Take one of the two out.")

    def _merges(self, label: str, keys: frozenset[items.Item], sounds: Iterable[Sound]) -> bool:
        """Is something taught again only because this accent does not tell it from what was taught before?"""
        if not sounds or self.unknown > MOST_HINTS:
            return False
        earlier = {place for key in keys for place in self.by_key[key]}
        if any(self.order.mentions[place].label == label for place in earlier):
            return False
        return not _everywhere(label.split()[0], sounds, [s for place in earlier for s in self.named[place]])


def _everywhere(grapheme: str, sounds: Iterable[Sound], earlier: Iterable[Sound]) -> bool:
    """Whether sounds of a grapheme are the same as earlier ones in every accent."""
    earlier = tuple(earlier)
    return all(
        {meanings.projected(grapheme, s, accent) for s in sounds}
        <= {meanings.projected(grapheme, s, accent) for s in earlier}
        for accent in ACCENTS
    )


def one_of(name: str, known: list[str]) -> str:
    """A remedy that names the known names nearest to one, or all of them."""
    close = nearest_name(name, known)
    return (
        "Nearest: " + ", ".join(f"`{c}`" for c in close) + "." if close else "Choose one of: " + ", ".join(known) + "."
    )
