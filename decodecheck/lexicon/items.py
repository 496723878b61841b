"""Items: what a progression can teach, and the guards that it opens or shuts. Only this module knows how they are written.

    gpc|ea|DRESS|m      a correspondence, with its place: s at the start of a word, m inside, e at the end
    together|tion|sh.SCHWA.n   a combination taught as one item, with what it says     ending|-ed      an ending
    shape|CCVC          a word structure                         syllables|2     that many syllables
    adjacent|s+t        adjacent consonants                      capital|d       a capital letter
    tricky|said         a word taught whole                      pattern|CVCVC   how the whole word is built: nothing to teach
and guards:
    single|ff|f         ff comes with f                          weak            a weakened vowel counts as its short sound
    letters|-s          an ending is read by its letters         plain-n         n before k comes with n
    unnamed|ce|s        open where a correspondence stands nowhere in the progression
    always, irregular   nothing to teach; never taught
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, final

from decodecheck.phonics.sounds import Sound, sound_of

GPC: Final = "gpc"
TOGETHER: Final = "together"
ENDING: Final = "ending"
SHAPE: Final = "shape"
SYLLABLES: Final = "syllables"
ADJACENT: Final = "adjacent"
CAPITAL: Final = "capital"
TRICKY: Final = "tricky"
PATTERN: Final = "pattern"
SINGLE: Final = "single"
UNNAMED: Final = "unnamed"
LETTERS: Final = "letters"
_KINDS = {
    kind: (kind, bars)
    for bars, kinds in (
        (0, ("weak", "plain-n", "always", "irregular")),
        (1, (ENDING, SHAPE, SYLLABLES, ADJACENT, CAPITAL, TRICKY, PATTERN, LETTERS)),
        (2, (TOGETHER, SINGLE, UNNAMED)),
        (3, (GPC,)),
    )
    for kind in kinds
}
"""Every kind, by itself so that all its items share one string, and how many bars its items are written with."""
_GUARDS = frozenset((SINGLE, UNNAMED, LETTERS, "weak", "plain-n"))


@final
class Item:
    """One item, immutable. `Item(text)` reads what `str(item)` writes; raises ValueError for what is no item.

    Of every item there is one object only, which is found again by its text. So items are the same or not without a look into
    them, and a teaching order looks them up as fast as strings. They sort by their text.
    """

    __slots__ = ("_kind", "_text")
    _kind: str
    _text: str

    def __new__(cls, text: str) -> Item:
        """The item of a text."""
        item = _KNOWN.get(text)
        if item is None:
            kind, bars = _KINDS.get(text.partition("|")[0], ("", -1))
            if text.count("|") != bars:
                raise ValueError(f"{text!r} is no item")
            item = object.__new__(cls)
            item._kind, item._text = kind, text
            item = _KNOWN.setdefault(text, item)
        return item

    # -- making items -----------------------------------------------------------------------------------------------------

    @staticmethod
    def gpc(grapheme: str, sound: Sound, place: str) -> Item:
        """A correspondence at a place: s, m or e."""
        return Item(f"gpc|{grapheme}|{'+'.join(sound)}|{place}")

    @staticmethod
    def together(name: str, sounds: Sequence[Sound]) -> Item:
        """A combination with what each of its graphemes says."""
        return Item(f"together|{name}|{'.'.join('+'.join(sound) for sound in sounds)}")

    @staticmethod
    def ending(name: str) -> Item:
        """An ending: -ed."""
        return Item(f"ending|{name}")

    @staticmethod
    def shape(shape: str) -> Item:
        """A word structure: CCVC."""
        return Item(f"shape|{shape}")

    @staticmethod
    def syllables(number: int) -> Item:
        """So many syllables."""
        return Item(f"syllables|{number}")

    @staticmethod
    def adjacent(run: Sequence[str]) -> Item:
        """Graphemes of consonants that stand side by side."""
        return Item(f"adjacent|{'+'.join(run)}")

    @staticmethod
    def capital(letter: str) -> Item:
        """A capital letter, given as a small one."""
        return Item(f"capital|{letter}")

    @staticmethod
    def tricky(word: str) -> Item:
        """A word taught whole, in plain spelling."""
        return Item(f"tricky|{word}")

    @staticmethod
    def pattern(pattern: str) -> Item:
        """How a whole word is built."""
        return Item(f"pattern|{pattern}")

    @staticmethod
    def single(grapheme: str, sound: Sound) -> Item:
        """Open from the step on from which this doubled consonant comes with its single one, if it is not mentioned itself."""
        return Item(f"single|{grapheme}|{'+'.join(sound)}")

    @staticmethod
    def unnamed(grapheme: str, sound: Sound) -> Item:
        """Open where this correspondence is not mentioned."""
        return Item(f"unnamed|{grapheme}|{'+'.join(sound)}")

    @staticmethod
    def letters(ending: str) -> Item:
        """Open where this ending is not taught as one."""
        return Item(f"letters|{ending}")

    # -- what they hold ---------------------------------------------------------------------------------------------------

    @property
    def kind(self) -> str:
        """What sort of item it is: GPC, TOGETHER, ENDING, ..."""
        return self._kind

    @property
    def name(self) -> str:
        """What it is called: a combination, an ending, a structure, a letter, a word; "" where there is one of its kind only."""
        return self._text[len(self._kind) + 1 :].partition("|")[0]

    @property
    def grapheme(self) -> str:
        """The grapheme of a correspondence, or of a guard on one. Raises ValueError for other items."""
        return self.correspondence[0]

    @property
    def sound(self) -> Sound:
        """The sound of a correspondence, or of a guard on one. Raises ValueError for other items."""
        return self.correspondence[1]

    @property
    def correspondence(self) -> tuple[str, Sound]:
        """Grapheme and sound of a correspondence, or of a guard on one. Raises ValueError for other items."""
        if self._kind not in (GPC, SINGLE, UNNAMED):
            raise ValueError(f"{self._text} speaks of no correspondence")
        _, grapheme, codes, *_ = self._text.split("|")
        return grapheme, sound_of(codes)

    @property
    def place(self) -> str:
        """The place of a correspondence in a word: s, m or e; "" for other items."""
        return self._text[-1] if self._kind == GPC else ""

    @property
    def sounds(self) -> tuple[Sound, ...]:
        """What each grapheme of a combination says. Raises ValueError for other items."""
        if self._kind != TOGETHER:
            raise ValueError(f"{self._text} is no combination")
        return tuple(map(sound_of, self._text.split("|")[2].split(".")))

    @property
    def run(self) -> tuple[str, ...]:
        """The graphemes of adjacent consonants. Raises ValueError for other items."""
        if self._kind != ADJACENT:
            raise ValueError(f"{self._text} is no run of consonants")
        return tuple(self.name.split("+"))

    @property
    def number(self) -> int:
        """How many syllables. Raises ValueError for other items."""
        if self._kind != SYLLABLES:
            raise ValueError(f"{self._text} counts no syllables")
        return int(self.name)

    @property
    def guard(self) -> bool:
        """Is it nothing to teach, but opened or shut by what a progression mentions and says?"""
        return self._kind in _GUARDS

    @property
    def stem(self) -> tuple[str, ...]:
        """The item without its last part: a correspondence at whatever place, a combination whatever it says; of those that have a
        name only, the kind."""
        return tuple(self._text.split("|")[:-1])

    def at(self, place: str) -> Item:
        """The same correspondence at another place. Raises ValueError for other items."""
        return Item.gpc(*self.correspondence, place)

    # -- as a value -------------------------------------------------------------------------------------------------------

    def __str__(self) -> str:
        return self._text

    def __repr__(self) -> str:
        return f"Item({self._text!r})"

    def __lt__(self, other: Item) -> bool:
        return self._text < other._text

    def __reduce__(self) -> tuple[type[Item], tuple[str]]:
        # what is copied, or comes from another process, is the same item
        return Item, (self._text,)


_KNOWN: dict[str, Item] = {}
WEAKENED: Final = Item("weak")
"""A guard: a weakened vowel counts as its short sound."""
PLAIN_N: Final = Item("plain-n")
"""A guard: the n before k comes with n."""
ALWAYS: Final = Item("always")
"""What asks for nothing to be taught."""
IRREGULAR: Final = Item("irregular")
"""What is never taught but with its word."""


def of_kind(texts: Iterable[str], kind: str) -> Iterator[Item]:
    """The items of a kind among many texts, of which the others are not read."""
    return (Item(text) for text in texts if text.startswith(f"{kind}|"))
