"""A language that puts every sentence in brackets, so that words which nobody looked up stand without."""

import re
from collections.abc import Iterable, Iterator

from kivy.uix.label import Label
from kivy.uix.textinput import TextInput

from evaltrack.language import Catalogue
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.button import TapButton

OPEN, CLOSE = "\u27e6", "\u27e7"
_WORD = re.compile(r"[^\W\d_][a-zà-ÿ]")  # initials are none
# names that are the same in every language
_NAMES = ("evaltrack", "English", "Français", "Canada", "France", "Letter")


class Bracketed:
    """Each sentence of a catalogue, in brackets."""

    def __init__(self, catalogue: Catalogue):
        self._catalogue = catalogue

    def gettext(self, message: str) -> str:
        """Return the sentence in brackets."""
        return f"{OPEN}{self._catalogue.gettext(message)}{CLOSE}"

    def ngettext(self, one: str, many: str, number: int) -> str:
        """Return the form that the number asks for in brackets."""
        return f"{OPEN}{self._catalogue.ngettext(one, many, number)}{CLOSE}"


def texts_of(screen) -> Iterator[str]:
    """Yield what labels, keys and empty fields say on a screen."""
    for part in screen.walk(restrict=True):
        if isinstance(part, TapButton):
            yield from (part.title, part.small)
        elif isinstance(part, TextInput):
            yield part.hint_text
        elif isinstance(part, Label):
            yield part.text


def names_in(desk: Desk) -> set[str]:
    """Return the words that the season in hand has from its coaches: players, skills, drills, observers."""
    season = desk.season
    names = {*_NAMES, str(season.team), str(season.path.parent), season.path.stem}
    for player in desk.everyone:
        names |= {player.name, *player.name.split()}
    for skill in (*desk.skills.values(), *desk.retired_skills()):
        said = skill.definition
        names |= {skill.key, skill.name, skill.caption, skill.looks_like, *skill.at_home}
        names |= {said.starts, said.done, said.missed, said.not_counted}
    for drill in desk.every_drill:
        names |= {drill.key, drill.name}
        for step in drill.steps:
            names |= {step.key, step.name, *(slot.name for slot in step.slots)}
    names |= {tally.observer for tally in season.log.tallies()}
    return {name for name in names if name}


def not_looked_up(texts: Iterable[str], names: set[str]) -> list[str]:
    """Return the texts that have a word outside all brackets which is not one of these names."""
    longest_first = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    known = re.compile(rf"(?<!\w)(?:{longest_first})(?!\w)")
    whole = [
        text for text in dict.fromkeys(texts) if not text.endswith("…")
    ]  # one that was cut is there whole
    return [text for text in whole if _WORD.search(known.sub(" ", _outside(text)))]


def _outside(text: str) -> str:
    depth, kept = 0, []
    for letter in text:
        depth += (letter == OPEN) - (letter == CLOSE)
        kept.append(" " if depth or letter == CLOSE else letter)
    return "".join(kept)
