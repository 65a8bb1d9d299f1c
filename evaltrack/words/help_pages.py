"""The pages of help, one for each screen of the app: all their words stand in ``assets/help/pages.toml``."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache

from evaltrack.places import assets

KEY = re.compile(r"\*([^*]+)\*")  # how a sentence names a key: *Undo*


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


@cache
def help_pages() -> dict[str, HelpPage]:
    """Return every page by its name: a screen's, and behind it what the screen shows where that matters."""
    found = tomllib.loads((assets() / "help" / "pages.toml").read_text("utf-8"))
    return {name: _page(parts) for name, parts in found.items()}


def keys_named(sentence: str) -> list[str]:
    """Return the titles of the keys that a sentence names."""
    return KEY.findall(sentence)


def _page(parts: dict) -> HelpPage:
    return HelpPage(parts["heading"], tuple(parts["points"]), tuple(parts["sketch"]), parts.get("hint", ""))
