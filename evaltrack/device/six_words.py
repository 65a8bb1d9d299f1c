"""A passphrase that nobody guesses and anybody can read out: six made-up words of no language."""

import secrets

_FIRST, _INNER, _VOWELS, _LAST = "bdfgjklmnprstvz", "bdfgklmnprstvz", "aeiou", "klmnrst"
WORDS = 6  # each one of 36,750: together 90 bits


def six_words() -> str:
    """Return six new words, with blanks between them."""
    return " ".join(_word() for _ in range(WORDS))


def _word() -> str:
    return "".join(map(secrets.choice, (_FIRST, _VOWELS, _INNER, _VOWELS, _LAST)))
