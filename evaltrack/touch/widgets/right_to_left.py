"""Hebrew and Arabic on the screens: letters joined, and in the order in which they are read.

Kivy lays a text out line by line and then has each line drawn letter by letter from the left, as if no script
ran the other way. So each line is turned here at the last moment, when it is measured and when it is drawn:
what widgets, files and the keyboard have in hand stays as it was typed.
"""

import re
from functools import lru_cache

from kivy.core.text import Label

from evaltrack.language import NO_BREAK, THIN

_LETTERS = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")
# points over and under letters would come to stand with their neighbours; names are read without them
_MARKS = re.compile("[\u0591-\u05bd\u05bf\u05c1\u05c2\u05c4\u05c5\u05c7\u0610-\u061a\u064b-\u065f\u0670]")


def as_drawn(line: str) -> str:
    """Return a line as it is drawn from left to right; one without such letters as it is.

    The thin space of France stands as the no-break one, which is as narrow here and which our font has.
    """
    line = line.replace(THIN, NO_BREAK)
    return line if line.isascii() or not _LETTERS.search(line) else _turned(line)


@lru_cache(maxsize=1024)
def _turned(line: str) -> str:
    # imported when the first such name is drawn: most teams have none, and the first board must not wait
    from bidi.algorithm import get_display  # which turns brackets too

    joined = _reshaper().reshape(_MARKS.sub("", line))
    # among Latin letters or after a number the line goes on from the left, as the screens do
    return get_display(joined, base_dir="L" if re.search("[A-Za-z\u00c0-\u024f]|^\\W*\\d", line) else "R")


@lru_cache(maxsize=1)
def _reshaper():
    from arabic_reshaper import ArabicReshaper

    return ArabicReshaper({"ARABIC LIGATURE ALLAH": False})  # one character for a word: our font lacks it


def _install() -> None:
    """Have each line of each label turned."""
    draw, measure = Label._render_text, Label.get_extents

    def _render_text(self, text, x, y):
        draw(self, as_drawn(text), x, y)

    def get_extents(self, text):
        return measure(self, as_drawn(text))

    Label._render_text, Label.get_extents = _render_text, get_extents


if Label.__name__ != "LabelPango":  # which turns lines by itself
    _install()
