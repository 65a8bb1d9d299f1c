"""By which name a player is called."""

import re

from evaltrack.rink.plain_text import folded

_SUFFIXES = ("jr", "sr", "ii", "iii", "iv")
_UNFINISHED = ("abd", "abu", "عبد", "أبو", "ابو")  # no name by itself: what follows belongs to it
_ARTICLES = ("al", "el", "ul", "as", "ar", "an", "ad")
_INITIAL = re.compile(r"\w\.?")
# Korean, Chinese and Japanese names have the family's name first, with a blank or without
_FAMILY_FIRST = re.compile("[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\uf900-\ufaff]")


def first_name(name: str) -> str:
    """Return the name by which a player is called: ``Zoë`` of ``Zoë Łukasik`` and of ``Łukasik, Zoë``.

    A name of one word, and one in which the given name cannot be told apart, is returned whole. Never empty
    for a name that is not.
    """
    whole = " ".join(name.split())
    if _FAMILY_FIRST.search(whole):
        return whole
    words = _given_first(whole).split(" ")
    end = next((end for end in range(1, len(words)) if _is_whole(words[:end])), len(words))
    return " ".join(words[:end]).rstrip(",") or whole


def given_name(name: str) -> str:
    """Return the first name alone; empty where it cannot be told from the family's.

    A name of one word is what somebody is called.
    """
    whole, first = " ".join(name.split()), first_name(name)
    alone = first != whole or (" " not in whole and not _FAMILY_FIRST.search(whole))
    return first if alone else ""


def _given_first(name: str) -> str:
    last, comma, rest = name.partition(",")
    given, _, _ = rest.strip().partition(",")
    return last if not comma or not given or _plain(given) in _SUFFIXES else given


def _is_whole(words: list[str]) -> bool:
    """Say whether these first words can stand alone: neither initials nor the beginning of a name."""
    last = _plain(words[-1])
    if len(words) > 1 and last in _ARTICLES and _plain(words[-2]) in _UNFINISHED:
        return False
    return last not in _UNFINISHED and not _INITIAL.fullmatch(words[-1])


def _plain(word: str) -> str:
    return folded(word).casefold().strip(".")
