"""How much work on the screens' thread it takes to open each screen of the invented team's season again.

    python tests/bench/bench_screens.py [--rounds 5]

Each screen that `ScreenName` has is opened by a touch on the key that leads to it, or where that is no key by
the event in which the touch ends; the first opening, which makes it, is not counted. Work is the processor
time of that thread from the touch until a third of a second later: words that come from beside the app are
in it. The baseline is a plain screen with 20 new labels, opened in the same rounds. A screen may take 100 ms
on a quiet machine, on which the baseline takes ``QUIET``; where the baseline takes longer, so may the
screens. Exit 1 when one takes more, or when there is a screen of which nothing here says how it is opened.
"""

import argparse
import gc
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import NamedTuple

import at_home  # noqa: F401

if __name__ == "__main__":
    import headless

    os.environ["KIVY_LOG_MODE"] = "PYTHON"
    os.environ["EVALTRACK_HOME"] = tempfile.mkdtemp(prefix="evaltrack-bench-")  # not this tablet's settings
    headless.install(size=(1280, 800))

from driver import Driver
from every_screen import off_loan, on_loan
from invented_evenings import evening_for
from kivy.base import EventLoop
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label
from planned_cards import plan_for
from pressing import keys_of
from seasons_for_touch import demo_season

from evaltrack.rink.note_life import NoteField
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.tablet.tablet_screens import ScreenName

ALLOWED = 100.0  # ms
QUIET = 9.0  # ms, the baseline on a quiet machine
FRAMES = 20  # at 60 a second
LABELS = 20


class Way(NamedTuple):
    """From which screen one comes, and the key or the event that leads on."""

    start: ScreenName
    key: str = ""
    event: tuple = ()
    before: Callable | None = None  # given the app, before all else
    after: Callable | None = None  # given it, after all else


def _begin(app: EvaltrackApp) -> None:
    if app.desk.practice is None:
        app.desk.begin(date(2026, 1, 20), app.desk.players, "breakout_attack", "two_on_one", "Ines")


def _end(app: EvaltrackApp) -> None:
    if app.desk.practice is not None:
        app.desk.end()


def _with_plan(app: EvaltrackApp) -> None:
    if app.plan_in_hand.card is None:
        app.plan_in_hand.change(plan_for(app.desk))


def _without_plan(app: EvaltrackApp) -> None:
    app.plan_in_hand.change(plan_for(app.desk, date(2026, 1, 20)))  # of a day that is over


def _with_page(app: EvaltrackApp) -> None:
    """Have what the families' pages are drafted from at hand, and one of them drafted."""
    notes, told = app.notes_in_hand, []
    notes.read()
    if notes.latest is None:
        notes.refresh(lambda: told.append(""), told.append)
        while not told:
            EventLoop.idle()
    notes.draft([app.desk.players[3]])


def _with_evening(app: EvaltrackApp) -> None:
    app.meetings_in_hand.read()
    if app.meetings_in_hand.evening is None:
        app.meetings_in_hand.keep(evening_for(app.desk.players))


def _third_family(app: EvaltrackApp):
    return app.meetings_in_hand.evening.in_order()[2][0]


def _busiest(app: EvaltrackApp) -> str:
    """Return the key of the practice with the most tallies."""
    counts = app.desk.season.log.counts()
    return max(counts, key=counts.get)


def _first_skill(app: EvaltrackApp):
    return next(iter(app.desk.skills.values()))


def _first_step(app: EvaltrackApp) -> tuple[str, str]:
    return app.desk.drills[0].key, app.desk.drills[0].steps[0].key


# how each screen is reached; a callable stands for an argument that the season gives
WAYS = {
    ScreenName.HOME: Way(ScreenName.PRACTICES, "Back"),
    ScreenName.START: Way(ScreenName.HOME, "Start a practice", before=_end),
    ScreenName.BOARD: Way(ScreenName.HOME, "Go on with the practice", before=_begin),
    ScreenName.TEAM: Way(ScreenName.HOME, "Team board"),
    ScreenName.PLAYER: Way(ScreenName.TEAM, event=("on_player", lambda app: app.desk.players[3].number)),
    ScreenName.PRACTICES: Way(ScreenName.HOME, "Practices"),
    ScreenName.PRACTICE: Way(ScreenName.PRACTICES, event=("on_practice", _busiest)),
    ScreenName.TALLIES: Way(ScreenName.PRACTICE, "Put tallies right"),
    ScreenName.NEXT_PRACTICE: Way(ScreenName.HOME, "Next practice", before=_without_plan),
    ScreenName.PLAN: Way(ScreenName.HOME, "Next practice", before=_with_plan),
    ScreenName.CALENDAR: Way(ScreenName.NEXT_PRACTICE, "Ice times"),
    ScreenName.NOTES: Way(ScreenName.HOME, "Family notes"),
    ScreenName.NOTE: Way(
        ScreenName.NOTES, event=("on_page", lambda app: app.desk.players[3].id), before=_with_page
    ),
    ScreenName.NOTE_PICKS: Way(ScreenName.NOTE, event=("on_choose", NoteField.NEXT_SKILLS)),
    ScreenName.NOTE_HISTORY: Way(ScreenName.NOTE, "History"),
    ScreenName.LOOK_BACK: Way(ScreenName.NOTE, event=("on_look_back",)),
    ScreenName.MEETINGS: Way(ScreenName.HOME, "Meetings", before=_with_evening),
    ScreenName.EVENING: Way(ScreenName.MEETINGS, "Change"),
    ScreenName.MEETING_WISH: Way(ScreenName.EVENING, "Add a wish"),
    ScreenName.CUE_CARD: Way(ScreenName.MEETINGS, event=("on_card", _third_family)),
    ScreenName.WISHES: Way(ScreenName.NEXT_PRACTICE, event=("on_wishes",)),
    ScreenName.SEASON: Way(ScreenName.HOME, "Season"),
    ScreenName.PLAYERS: Way(ScreenName.HOME, "Roster"),
    ScreenName.PLAYER_FORM: Way(ScreenName.PLAYERS, event=("on_player", lambda app: app.desk.players[3])),
    ScreenName.SKILL: Way(ScreenName.TEAM, event=("on_skill", lambda app: next(iter(app.desk.skills)))),
    ScreenName.COVERAGE: Way(ScreenName.TEAM, "Coverage"),
    ScreenName.AGREEMENT: Way(ScreenName.TEAM, "Observers"),
    ScreenName.SKILLS: Way(ScreenName.HOME, "Skills"),
    ScreenName.SKILL_FORM: Way(ScreenName.SKILLS, event=("on_skill", _first_skill)),
    ScreenName.DRILLS: Way(ScreenName.HOME, "Drills"),
    ScreenName.DRILL: Way(ScreenName.DRILLS, event=("on_drill", lambda app: (app.desk.drills[0].key,))),
    ScreenName.STEP: Way(ScreenName.DRILL, event=("on_step", _first_step)),
    ScreenName.REPS: Way(ScreenName.STEP, "Watch six reps"),
    ScreenName.SETUP: Way(ScreenName.HOME, "Set-up"),
    ScreenName.MEASURE: Way(ScreenName.SETUP, event=("on_measure",)),
    ScreenName.CODE: Way(ScreenName.SETUP, event=("on_code",)),
    ScreenName.HANDOVER: Way(ScreenName.HOME, "Two tablets"),
    ScreenName.SEASONS: Way(ScreenName.HOME, "Seasons"),
    ScreenName.FILE: Way(ScreenName.SEASONS, event=("on_file",)),
    ScreenName.OUR_TEAM: Way(ScreenName.SEASONS, event=("on_start_ours",)),
    ScreenName.ROSTER: Way(ScreenName.OUR_TEAM, event=("on_done",)),
    ScreenName.BACKUPS: Way(ScreenName.SEASONS, "Backups"),
    ScreenName.PACKS: Way(ScreenName.SEASONS, "Packs and loans"),
    ScreenName.KEPT: Way(ScreenName.PLAYER_FORM, "Copy, erase"),
    ScreenName.LEND: Way(ScreenName.PACKS, "Lend to a second tablet"),
    ScreenName.LOAN: Way(ScreenName.SEASONS, event=("on_opened",), before=on_loan, after=off_loan),
    ScreenName.SEASON_END: Way(ScreenName.SEASONS, "Season’s end"),
    ScreenName.NEXT_SEASON: Way(ScreenName.SEASONS, "Next season"),
}


class Opener:
    """Opens screens of an app and says how many ms of its thread that took."""

    def __init__(self, driver: Driver):
        self._driver, self.app = driver, driver.app

    def go_to(self, name: ScreenName) -> None:
        """Come to a screen by its way, from home."""
        way = WAYS[name]
        if way.before:
            way.before(self.app)
        if name == ScreenName.HOME:
            self.app.go(ScreenName.PRACTICES)  # it counts anew only when one comes from elsewhere
            self.app.go(name)
        elif self.app.screens.current != way.start:
            self.go_to(way.start)
        if name != ScreenName.HOME:
            self._follow(way)
        self._driver.frames(FRAMES)

    def time(self, name: ScreenName) -> float:
        """Return the work of the last stretch of the way to a screen."""
        way = WAYS[name]
        if way.before:
            way.before(self.app)
        self.go_to(way.start)
        gc.collect()  # what the others left behind is not this one's work
        taken = self._timed(lambda: self._follow(way))
        assert self.app.screens.current == name, f"{name} did not open, but {self.app.screens.current}"
        if way.after:
            way.after(self.app)
        return taken

    def baseline(self) -> float:
        """Return the work of opening a plain screen with new labels."""
        self.app.go(ScreenName.HOME)
        self._driver.frames(FRAMES)
        box = BoxLayout(orientation="vertical")
        taken = self._timed(lambda: self._open_plain(box))
        Window.remove_widget(box)
        return taken

    def _open_plain(self, box: BoxLayout) -> None:
        for number in range(LABELS):
            box.add_widget(Label(text=f"A label of some words, the {number}th"))
        Window.add_widget(box)

    def _follow(self, way: Way) -> None:
        if way.key:
            (key,) = [key for key in keys_of(self._driver) if key.title == way.key]
            self._driver.tap(key)
            return
        event, *given = way.event
        given = [one(self.app) if callable(one) else one for one in given]
        self.app.screens.current_screen.dispatch(event, *given)

    def _timed(self, act: Callable[[], None]) -> float:
        start = time.thread_time()
        act()
        self._driver.frames(FRAMES)
        return 1000 * (time.thread_time() - start)


def unknown() -> list[str]:
    """Return the screens of the app of which nothing says how they are opened."""
    return [str(name) for name in ScreenName if name not in WAYS]


def measured(driver: Driver, rounds: int) -> tuple[float, dict[ScreenName, float]]:
    """Return the median of the baseline and of each screen, in ms."""
    Clock._max_fps = 60
    opener, found = Opener(driver), {name: [] for name in ScreenName if name in WAYS}
    plain = []
    for name in found:  # the first opening makes it, and what comes from beside the app is waited for
        opener.go_to(name)
        off_loan(driver.app)
        driver.frames(3 * FRAMES)
    driver.wait(lambda: driver.app.review.state in ("ready", "failed"))
    for _ in range(rounds):
        plain.append(opener.baseline())
        for name, times in found.items():
            times.append(opener.time(name))
    return statistics.median(plain), {name: statistics.median(times) for name, times in found.items()}


def over(baseline: float, taken: dict[ScreenName, float]) -> list[ScreenName]:
    """Return the screens that take more than is allowed at the scale of the baseline."""
    most = ALLOWED * max(1.0, baseline / QUIET)
    return [name for name, ms in taken.items() if ms > most]


def main() -> int:
    """Measure every screen, print a line for each, and return the exit code."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        driver = Driver(EvaltrackApp(demo_season(Path(folder) / "season.db")))
        baseline, taken = measured(driver, options.rounds)
        driver.close()
    slow = over(baseline, taken)
    print(f"work on the screens' thread to open a screen again, median of {options.rounds}")
    print(f"  {'a plain screen with 20 new labels':36}{baseline:8.1f} ms")
    for name, ms in sorted(taken.items(), key=lambda pair: -pair[1]):
        mark = "  too much" if name in slow else ""
        print(f"  {name:36}{ms:8.1f} ms  {ms / baseline:6.2f} times{mark}")
    for name in unknown():
        print(f"  {name:36}  nothing here says how it is opened")
    return int(bool(slow or unknown()))


if __name__ == "__main__":
    sys.exit(main())
