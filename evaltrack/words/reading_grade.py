"""How hard a text is to read, by the grade of Flesch and Kincaid. Works without a network."""

import re
from functools import cache

HARD = 8.0  # above which a family's page is too hard for many of its readers
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_SENTENCE_END = re.compile(r"[.!?]+(?=[\s”»\"')]|$)")
_VOWELS = re.compile(r"[aeiouyàâäåæéèêëïîôöøœùûü]+")
_SILENT = re.compile(r"(?<=[^aeiouy])e$|(?<=[^aeiouytd])ed$|(?<=[^aeiouyscgxzh])es$")
_SYLLABIC = re.compile(r"[^aeiouyl]le$")


def reading_grade(text: str) -> float:
    """Return the school grade in which an English text is read with ease; 0 for one without words.

    Kincaid, Fishburne, Rogers and Chissom (1975). Figures are left out: read aloud they are long, and easy.
    Only a full stop, a question mark or an exclamation mark ends a sentence, and the end of the text.
    """
    words = words_in(text)
    if not words:
        return 0.0
    syllables = sum(map(syllables_in, words))
    return max(0.39 * len(words) / sentences_in(text) + 11.8 * syllables / len(words) - 15.59, 0.0)


def words_in(text: str) -> list[str]:
    """Return the words of a text, figures left out."""
    return _WORD.findall(text)


def sentences_in(text: str) -> int:
    """Return how many sentences of a text have a word."""
    return sum(bool(_WORD.search(part)) for part in _SENTENCE_END.split(text))


def syllables_in(word: str) -> int:
    """Return how many syllables an English word has, at least one.

    Hyphenation finds most of them; what it leaves in one piece (``goalie``) is counted by its vowels.
    """
    low = word.casefold()
    return sum(max(_vowels_in(piece), 1) for piece in _hyphens().inserted(low, "\x00").split("\x00"))


def _vowels_in(piece: str) -> int:
    return len(_VOWELS.findall(piece if _SYLLABIC.search(piece) else _SILENT.sub("", piece)))


@cache
def _hyphens():
    import pyphen  # loaded when a text is looked at: nothing before waits for it

    return pyphen.Pyphen(lang="en_US", left=1, right=2)
