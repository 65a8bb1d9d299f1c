"""A season that is being put together: whose it is, and its roster line by line. No widgets."""

from collections.abc import Iterable
from datetime import date

from evaltrack.device.season_places import season_stem
from evaltrack.intake.roster import LONGEST_NAME
from evaltrack.intake.roster_lines import JudgedLine, RosterLine, judged
from evaltrack.intake.text import folded, name_fault
from evaltrack.language import tr
from evaltrack.rink.player import Player
from evaltrack.touch.seasons.kept_draft import forget, keep, kept

_NEW_SEASON = 6  # the month from which on people speak of the season that begins in autumn


def season_words(today: date) -> tuple[str, str]:
    """Return the season of a day and the one after it: ``2026/27``, ``2027/28``."""
    first = today.year if today.month >= _NEW_SEASON else today.year - 1
    return tuple(f"{year}/{(year + 1) % 100:02}" for year in (first, first + 1))


def as_sentences(faults: Iterable[str]) -> str:
    """Return what is wrong, each fault as a sentence of its own."""
    return " ".join(f[:1].upper() + f[1:] + ("" if f.endswith("?") else ".") for f in faults)


class SeasonDraft:
    """What was typed, pasted and read so far; it begins with what was kept when the app ended before."""

    def __init__(self):
        (self.team, self.age_class, self.season), self._lines = kept()
        self.judged: list[JudgedLine] = judged(self._lines)

    def begin(self) -> None:
        """Begin with nothing, once the season file is made."""
        self.team = self.age_class = self.season = ""
        self._lines = self.judged = []
        forget()

    @property
    def stem(self) -> str:
        """Return what the file will be called, without its ending."""
        return season_stem(self.team, self.age_class, self.season)

    @property
    def players(self) -> list[Player]:
        """Return the players, those of the lines that are in order."""
        return [line.player for line in self.judged if line.player]

    @property
    def to_mend(self) -> int:
        """Return how many lines are not in order."""
        return sum(1 for line in self.judged if line.complaints)

    def name(self, team: str, age_class: str, season: str) -> str:
        """Take whose season it is; return what is wrong with the words, empty when nothing is."""
        words = folded(team), folded(age_class), folded(season)
        if words != (self.team, self.age_class, self.season):
            self.team, self.age_class, self.season = words
            self._keep()
        for words, what in ((self.team, tr("the name of the team")), (self.age_class, tr("the age class"))):
            fault = name_fault(words, what, LONGEST_NAME) if words else tr("{what} is missing", what=what)
            if fault:
                return as_sentences([fault])
        return ""

    def add(self, lines: Iterable[RosterLine]) -> None:
        """Put lines below the others."""
        self._judge([*self._lines, *lines])

    def put(self, place: int | None, line: RosterLine) -> str:
        """Put one line in place of another, or below all; return its faults, with which it is not put."""
        lines, at = list(self._lines), len(self._lines) if place is None else place
        lines[at : at + 1] = [line]
        faults = judged(lines)[at].complaints
        if not faults:
            self._judge(lines)
        return as_sentences(faults)

    def take_out(self, place: int) -> None:
        """Take one line out."""
        self._judge(self._lines[:place] + self._lines[place + 1 :])

    def empty(self) -> None:
        """Take every line out."""
        self._judge([])

    def _judge(self, lines: list[RosterLine]) -> None:
        self._lines = lines
        self.judged = judged(lines)
        self._keep()

    def _keep(self) -> None:
        keep((self.team, self.age_class, self.season), self._lines)
