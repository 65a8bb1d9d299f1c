"""A walk through the app at random: fingers, keys and words, and what must be true after each of them."""

import sqlite3
import traceback
from collections import Counter
from contextlib import closing
from pathlib import Path
from random import Random

from driver import Driver, Finger
from every_screen import show
from kivy.core.window import Window
from kivy.uix.textinput import TextInput
from reading_all import Findings, read_season

from evaltrack.store.opening import open_season
from evaltrack.touch.desk.tally_book import TallyBook
from evaltrack.touch.input.spots import spots_of
from evaltrack.touch.tablet.tablet_screens import ScreenName

WITHOUT_SEASON = ("seasons", "file", "our_team", "roster", "setup", "measure", "code")
FACTS = (
    *("tally", "withdrawal", "correction", "tally_correction", "corrected_tally", "line_fact", "stood"),
    *("note_fact", "note_force"),
)
_WORDS = ("Kestrels", "Zoë Łukasik", "7", "2011", "雪 千代", "A\u200bB", "x" * 70, "0.7", " ", "12, Bo, D")
_KEYS = (9, 9, 9, 13, 32, 27, 8, 273, 274, 275, 276, 280, 281, *map(ord, "dmuzpsknr123"))
_OTHER_DISK = "Up to"  # a key that leads out of the folder in which the walk may look


class Walk:
    """Goes through an app; ``met`` counts the touches on each screen, ``faults`` says what went wrong."""

    def __init__(self, driver: Driver, chance: Random):
        self.driver, self.app, self._chance = driver, driver.app, chance
        self.met: Counter[str] = Counter()
        self.faults: list[str] = []
        self._acts = {
            self._press_spot: 60,
            self._touch_anywhere: 15,
            self._draw: 5,
            self._type: 8,
            self._press_key: 9,
            self._go_elsewhere: 3,
        }

    def go(self, touches: int, first: str) -> None:
        """Begin on a screen and go on for so many touches."""
        survived, self.app._survive.handle_exception = self.app._survive.handle_exception, self._note
        self._safely(lambda: self._show(first))
        for _ in range(touches):
            self.met[self.app.screens.current] += 1
            (act,) = self._chance.choices(list(self._acts), list(self._acts.values()))
            self._safely(act)
            self._safely(lambda: self.driver.frames(2))
        self.app._survive.handle_exception = survived
        self._compare_with_disk()

    def _safely(self, act) -> None:
        try:
            act()
        except Exception as error:
            self._note(error)

    def _note(self, error) -> int:
        place = traceback.extract_tb(error.__traceback__)[-1]
        where = f"{Path(place.filename).name}:{place.lineno} on {self.app.screens.current}"
        self.faults.append(f"{type(error).__name__}: {str(error)[:80]} at {where}")
        return 1  # of Kivy's handlers: go on

    def _show(self, name: str) -> None:
        if self.app.desk.season or name in WITHOUT_SEASON:
            show(self.driver, name)

    def _press_spot(self) -> None:
        spots = [spot for spot in spots_of(self.app.screens.current_screen) if spot.is_seen()]
        spots = [spot for spot in spots if not str(spot.name[1]).startswith(_OTHER_DISK)]
        if spots:
            x, y, width, height = self._chance.choice(spots).place
            self.driver.tap((x + width / 2, y + height / 2))

    def _touch_anywhere(self) -> None:
        place = self._somewhere()
        covered = (spot for spot in spots_of(self.app.screens.current_screen) if _covers(spot.place, place))
        if not any(str(spot.name[1]).startswith(_OTHER_DISK) for spot in covered):
            self.driver.tap(place)

    def _draw(self) -> None:
        finger = Finger(*self._somewhere()).down()
        self.driver.frames(1)
        for _ in range(3):
            finger.to(*self._somewhere())
            self.driver.frames(1)
        finger.up()

    def _type(self) -> None:
        screen = self.app.screens.current_screen
        fields = [
            one for one in screen.walk(restrict=True) if isinstance(one, TextInput) and not one.disabled
        ]
        if fields:
            field = self._chance.choice(fields)
            field.focus = True
            field.insert_text(self._chance.choice(_WORDS))
            field.focus = self._chance.random() < 0.5

    def _press_key(self) -> None:
        key = self._chance.choice(_KEYS)
        self.driver.key(key, modifiers=["shift"] if self._chance.random() < 0.2 else [])

    def _go_elsewhere(self) -> None:
        self._show(self._chance.choice(list(ScreenName)).value)

    def _somewhere(self) -> tuple[float, float]:
        return self._chance.uniform(1, Window.width - 1), self._chance.uniform(1, Window.height - 1)

    def _compare_with_disk(self) -> None:
        """Note where the app has something else in hand than who reads the file afresh."""
        desk = self.app.desk
        if not desk.season:
            return
        with open_season(desk.season.path) as fresh:
            pairs = {
                "players": (desk.players, tuple(fresh.people.players())),
                "sums": (desk.season.log.counts(), fresh.log.counts()),
            }
            if desk.practice:
                mine = TallyBook(fresh.log.tallies(practice=desk.practice.key), desk.tablet.id)
                pairs["counts"] = +desk._book._counts, +mine._counts
                pairs["own tallies"] = desk._book._mine, mine._mine
        differ = [what for what, (in_hand, on_disk) in pairs.items() if in_hand != on_disk]
        self.faults += [f"{what} in hand differ from the file" for what in differ]


def _covers(place, point) -> bool:
    return place.x <= point[0] <= place.right and place.y <= point[1] <= place.top


def facts_of(path: Path) -> dict[str, set]:
    """Return the rows of a season file to which rows may only be added, by table."""
    with closing(sqlite3.connect(path)) as file:
        return {table: set(file.execute(f"SELECT * FROM {table}")) for table in FACTS}


def whole(path: Path, before: dict[str, set]) -> list[str]:
    """Return what is wrong with a season file that was walked through; its log may only have grown."""
    with closing(sqlite3.connect(path)) as file:
        pages = file.execute("PRAGMA integrity_check").fetchall()
        lost = file.execute("PRAGMA foreign_key_check").fetchall()
    wrong = [f"the file is damaged: {row}" for row in pages if row != ("ok",)]
    wrong += [f"a row points nowhere: {row}" for row in lost[:2]]
    after = facts_of(path)
    wrong += [f"rows of {table} are gone or changed" for table, rows in before.items() if rows - after[table]]
    found = Findings()
    with open_season(path) as season:
        read_season(season, "tablet", found)
    return wrong + found.faults + found.sentences
