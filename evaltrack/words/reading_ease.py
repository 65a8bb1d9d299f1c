"""How easy a French text is to read, by Flesch's formula as Kandel and Moles fitted it to French."""

import re

from evaltrack.words.reading_grade import sentences_in, words_in

HARD_EASE = 60.0  # under which a family's page is too hard for many of its readers
_VOWELS = re.compile(r"[aeiouyàâäéèêëîïôöùûüÿœæ]+")
_SILENT = re.compile(r"(?<=[^aeiouyéèà])(?:e|es|ent)$")
_APART = re.compile(r"(?<=[éèï])(?=[aeoiu])|(?<=[aoéiu])(?=[éèïë])")  # spoken one by one: créer, aérer, Noël


def reading_ease(text: str) -> float:
    """Return the reading ease of a French text, 100 for a very easy one; 100 for one without words.

    Kandel and Moles (1958): 207 - 1.015 words a sentence - 73.6 syllables a word. Figures are left out, as
    they are for English.
    """
    words = words_in(text)
    if not words:
        return 100.0
    syllables = sum(map(syllables_in, words))
    return 207 - 1.015 * len(words) / sentences_in(text) - 73.6 * syllables / len(words)


def syllables_in(word: str) -> int:
    """Return how many syllables a French word has as it is spoken, at least one: a last mute e is none."""
    parts = re.split("['’]", word.casefold())
    spoken = [_SILENT.sub("", part) if len(_VOWELS.findall(part)) > 1 else part for part in parts]
    return max(sum(len(_VOWELS.findall(_APART.sub(" ", part))) for part in spoken), 1)
