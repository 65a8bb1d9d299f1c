"""A drill on the ice, an app with a board, and an observer between them, in simulated time."""

import random
from datetime import date
from itertools import islice
from pathlib import Path

from continuous_drill import Ice, Try
from drill_observer import Account, Observer
from driver import Driver
from seasons_for_touch import new_season

from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp

DRILL, STEP = "breakout_attack", "two_on_one"
_TWO_FINGERS = 0.1  # of the tries come together with the next one
_START = 1_800_000_000_000  # milliseconds since 1970


class Drill:
    """One drill on one board, in a season file and an app of its own."""

    def __init__(
        self, folder: Path, kind: str, chance: random.Random, spread: float, slips: float, wrong_line=0.0
    ):
        self._path = folder / "season.db"
        self._path.unlink(missing_ok=True)
        self._driver = Driver(EvaltrackApp(new_season(self._path)))
        self._desk, self._kind, self._chance = self._driver.app.desk, kind, chance
        self._now = _START
        self._desk._clock = lambda: self._now
        assert self._desk.begin(date(2026, 1, 20), self._desk.players, DRILL, STEP, "Ines"), (
            self._desk.message
        )
        self._driver.app.go("board")
        self._driver.app.screens.current_screen.choose(kind)
        self._driver.settle()
        self._ice = Ice(self._desk.here(), list(self._desk.skills.values()), chance, wrong_line)
        self._observer = Observer(self._driver, kind, chance, spread, slips)

    def play(self, per_minute: float, minutes: float) -> Account:
        """Tap the drill from the first to the last minute and return the observer's account."""
        moments = list(self._ice.moments(per_minute, minutes))
        tries = list(islice(self._tries(), len(moments)))
        while tries:
            together = 2 if self._together(tries) else 1
            # one finger after the other needs its time; two at once are two fingers
            self._now = max(self._now + 500, _START + int(moments[-len(tries)] * 1000))
            self._observer.see(*tries[:together])
            del tries[:together]
        self._driver.close()
        return self._observer.account

    def kept(self) -> list[tuple]:
        """Return what the season file holds, in order: number, skill, outcome."""
        with open_season(self._path) as season:
            numbers = {player.id: player.number for player in season.people.players()}
            return [(numbers[t.player], t.skill, t.outcome) for t in season.log.tallies()]

    def _tries(self):
        if self._kind == "group":
            return self._ice.group(self._desk.station.skill)
        if self._kind == "rep":
            return self._ice.reps(self._desk.step)
        return self._ice.player(self._desk.here()[0])

    def _together(self, tries: list[Try]) -> bool:
        two = len(tries) > 1 and self._chance.random() < _TWO_FINGERS
        return two and not tries[0].begins and not tries[1].begins
