"""The pages of help, one for each screen of the app: all their words stand in ``assets/help/pages.toml``.

They are looked up as every sentence is. In the translation of a sentence a key is named as in English,
*Undo*: what is shown is the title of that key in the language, so that no page can name a key otherwise
than its screen does.
"""

import re
import tomllib
from dataclasses import dataclass
from datetime import time
from functools import cache

from evaltrack.founding.built_in import in_words, shipped_texts
from evaltrack.language import Language, language, tr
from evaltrack.places import assets
from evaltrack.words.wording import clock_time

KEY = re.compile(r"\*([^*]+)\*")  # how a sentence names a key: *Undo*
# a part of a drawing's row: how it looks, its words, the number of its point
_PART = re.compile(r"(\s*[*=]?)(.*?)((?:\s*\([1-9]\))?\s*)")
_CLOCK = re.compile(r"\d\d:\d\d")
_NO_WORDS = re.compile(r"[\W\d]*(\d+ [A-Z]\w*)?")  # a figure, a gap, a player of the drawing


@dataclass(frozen=True, slots=True)
class HelpPage:
    """One short page.

    ``points`` are sentences in which a key's title stands between asterisks. ``sketch`` is a drawing of the
    screen, row by row (`evaltrack.touch.help.sketch_rows` reads them); its numbers are those of the points.
    ``hint`` is one line for whoever has never done on this tablet what the screen is for, or empty.
    """

    heading: str
    points: tuple[str, ...]
    sketch: tuple[str, ...]
    hint: str = ""


def help_pages() -> dict[str, HelpPage]:
    """Return every page by its name: a screen's, and behind it what the screen shows where that matters."""
    return _pages_in(language())


def messages(parts: dict) -> list[str]:
    """Return every sentence and word of a page as it stands in the file, to be translated."""
    said = [parts["heading"], parts.get("hint", ""), *parts["points"]]
    keys = [key for sentence in said for key in keys_named(sentence)]
    drawn = [words for row in parts["sketch"] for _, words, _ in _parts_of(row)]
    shipped = shipped_texts()  # translated with the shipped skills and drills
    return [
        words for words in (*said, *keys, *drawn) if not _NO_WORDS.fullmatch(words) and words not in shipped
    ]


def keys_named(sentence: str) -> list[str]:
    """Return the titles of the keys that a sentence names."""
    return KEY.findall(sentence)


@cache
def _pages_in(_: Language) -> dict[str, HelpPage]:
    found = tomllib.loads((assets() / "help" / "pages.toml").read_text("utf-8"))
    return {name: _page(parts) for name, parts in found.items()}


def _page(parts: dict) -> HelpPage:
    points = tuple(map(_said, parts["points"]))
    sketch = tuple(map(_drawn, parts["sketch"]))
    return HelpPage(tr(parts["heading"]), points, sketch, _said(parts.get("hint", "")))


def _said(sentence: str) -> str:
    return KEY.sub(lambda key: f"*{tr(key[1])}*", tr(sentence))


def _drawn(row: str) -> str:
    kind = row.partition(":")[0]
    parts = (f"{look}{_written(words)}{end}" for look, words, end in _parts_of(row))
    return f"{kind}:{'|'.join(parts)}"


def _written(words: str) -> str:
    if _NO_WORDS.fullmatch(words):
        return _CLOCK.sub(lambda at: clock_time(time.fromisoformat(at[0])), words)
    return in_words(words) if words in shipped_texts() else tr(words)


def _parts_of(row: str) -> list[tuple[str, str, str]]:
    return [_PART.fullmatch(part).groups() for part in row.partition(":")[2].split("|")]
