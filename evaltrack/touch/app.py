"""The app: the desk, the screens, and how one leads to another."""

import gc
import logging
from functools import cached_property, partial
from math import inf
from pathlib import Path
from time import monotonic

from kivy.app import App
from kivy.base import ExceptionHandler, ExceptionManager
from kivy.clock import Clock
from kivy.graphics.context import get_context
from kivy.uix.screenmanager import NoTransition, ScreenManager

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.touch.catalogue.catalogue_screens import CatalogueScreens
from evaltrack.touch.closing.closing_screens import ClosingScreens
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.news import News
from evaltrack.touch.drills.drills_screens import DrillsScreens
from evaltrack.touch.handover.handover_screens import HandoverScreens
from evaltrack.touch.help.help_screens import HelpScreens
from evaltrack.touch.input.keyboard_focus import KeyboardFocus
from evaltrack.touch.input.touch_reports import TouchReports
from evaltrack.touch.meetings.meetings_screens import MeetingsScreens
from evaltrack.touch.notes.notes_screens import NotesScreens
from evaltrack.touch.packs.pack_screens import PackScreens
from evaltrack.touch.people.people_screens import PeopleScreens
from evaltrack.touch.plan.plan_screens import PlanScreens
from evaltrack.touch.practice.left_open import LongPause
from evaltrack.touch.practice.loan_screens import LoanScreens
from evaltrack.touch.putting_right.putting_right_screens import PuttingRightScreens
from evaltrack.touch.review.review_screens import ReviewScreens
from evaltrack.touch.season_screens import SeasonScreens
from evaltrack.touch.season_view.season_view_screens import SeasonViewScreens
from evaltrack.touch.seasons.backup_screens import BackupScreens
from evaltrack.touch.tablet.tablet_screens import ScreenName, TabletScreens
from evaltrack.touch.widgets import glyphs
from evaltrack.touch.widgets.theme import theme

_log = logging.getLogger("evaltrack")

_REST = 2.0  # seconds between two checks of what waits in the journal
_QUIET = 15.0  # seconds without a tap, as between two drills, in which nobody waits for the disk
_SETTLED = 2.0  # seconds after the first frame, in which the start has the machine for itself


class EvaltrackApp(
    BackupScreens,
    CatalogueScreens,
    ClosingScreens,
    DrillsScreens,
    HandoverScreens,
    HelpScreens,
    LoanScreens,
    NotesScreens,
    MeetingsScreens,
    PackScreens,
    PeopleScreens,
    PlanScreens,
    PuttingRightScreens,
    ReviewScreens,
    SeasonViewScreens,
    TabletScreens,
    SeasonScreens,
    App,
):
    """Opens a season file, goes straight to the board when a practice runs in it, and else home."""

    title = "evaltrack"

    def __init__(self, season: Path | None = None, **kwargs):
        super().__init__(**kwargs)
        self._season = season
        self._seen = 0, -inf  # how many writes there were, and when the last of them was seen
        self.desk = Desk()
        self._news = News(self.desk)
        self._survive = _Survive(self.desk)
        self._reports = TouchReports()
        self._pause = LongPause(self.desk)

    def load_kv(self, *_, **__):
        """Load no kv file by the app's name: each screen loads its own."""

    def build(self):
        """Open the season and show the first screen; the others are made when they are asked for."""
        self.speak()
        theme.use(self.desk.tablet.dark)
        self.give_sizes()
        season = self._season or self.desk.tablet.season
        if season:
            self.desk.open(Path(season))
        self.screens = ScreenManager(transition=NoTransition())
        ExceptionManager.add_handler(self._survive)
        self._reports.listen()
        self._focus = KeyboardFocus(self.screens)
        self._focus.listen()
        self.go(ScreenName.BOARD if self.desk.practice else ScreenName.HOME)
        self.desk.bind(left_open=self._ask_first, invented=self.mark_invented, ended=self.back_up_ended)
        self.mark_invented()
        Clock.schedule_interval(self._check_pause, 1)
        self.follow_settings_soon()
        Clock.schedule_once(self._settle, _SETTLED)
        self._resting = Clock.schedule_interval(self._rest, _REST)
        return self.screens

    def go(self, name: str, *_) -> None:
        """Show a screen; while the latch is closed, the pad for the code before all but the bench."""
        name = self.allowed(self.first_screen() if name == ScreenName.HOME else name)
        self.screen(name)
        self._news.leave(self.screens.current_screen, name)
        self.screens.current = name
        if name == ScreenName.HOME:
            self.desk.rest()

    def screen(self, name: str):
        """Return a screen; it is made when somebody first asks for it."""
        if not self.screens.has_screen(name):
            self.screens.add_widget(getattr(self, f"_make_{name}")())
        return self.screens.get_screen(name)

    def _settle(self, *_) -> None:
        """Do what can wait: keep the standings up to date from now on."""
        self.review.follow()
        self.back_up_at_start()
        gc.freeze()  # searching all that stays would stop the screen for longer than a frame

    def _rest(self, *_) -> None:
        """Keep the season file whole in itself while no taps come, for anybody who copies it."""
        if self.desk.changed != self._seen[0]:
            self._seen = self.desk.changed, monotonic()
        if self.screens.current != ScreenName.BOARD or monotonic() - self._seen[1] >= _QUIET:
            self.desk.rest(patient=False)

    def on_pause(self) -> bool:
        """Close the latch and stay in memory; every tally is on disk, and the season file whole in itself."""
        self.close_latch()
        self.desk.rest()
        return True

    def on_resume(self) -> None:
        """Draw everything again: a tablet may have taken the textures away while the app was paused."""
        get_context().reload()
        glyphs.forget()
        theme.property("palette").dispatch(theme)
        self._check_pause()

    def on_stop(self) -> None:
        """Close the file. Kivy calls this twice, or never: nothing depends on it."""
        ExceptionManager.remove_handler(self._survive)
        if self.root_window:  # what is still being typed is kept while there is a file
            self.root_window.release_all_keyboards()
        self._resting.cancel()
        self._reports.leave()
        self._focus.leave()
        self.leave_settings()
        self.desk.close()
        if "worker" in vars(self):
            self.worker.close()

    @cached_property
    def worker(self):
        """Return what does long work beside the app, made when somebody first asks for it."""
        from evaltrack.touch.worker.worker import Worker

        return Worker()

    def _make_home(self):
        from evaltrack.touch.practice.home_screen import HomeScreen

        screen = HomeScreen(name=ScreenName.HOME, desk=self.desk)
        screen.bind(
            on_practice=self._to_practice,
            on_team=partial(self.go, ScreenName.TEAM),
            on_plan=self._to_next_practice,
            on_meetings=self._to_meetings,
            on_practices=partial(self.go, ScreenName.PRACTICES),
            on_notes=partial(self.go, ScreenName.NOTES),
            on_held=self._to_held,
            on_players=partial(self.go, ScreenName.PLAYERS),
            on_skills=partial(self.go, ScreenName.SKILLS),
            on_drills=partial(self.go, ScreenName.DRILLS),
            on_season=partial(self.go, ScreenName.SEASON),
            on_handover=partial(self.go, ScreenName.HANDOVER),
            on_palette=self._change_palette,
            on_setup=partial(self.go, ScreenName.SETUP),
            on_seasons=partial(self.go, ScreenName.SEASONS),
            on_season_end=self._to_season_end,
            on_lock=self.close_latch,
            on_pre_enter=self.show_latch,
        )
        return screen

    def _make_start(self):
        from evaltrack.touch.practice.start_screen import StartScreen

        screen = StartScreen(name=ScreenName.START, desk=self.desk)
        screen.bind(
            on_back=partial(self.go, ScreenName.HOME),
            on_board=partial(self.go, ScreenName.BOARD),
            on_end=partial(self.go, ScreenName.HOME),
        )
        return screen

    def _make_board(self):
        from evaltrack.touch.board.board_screen import BoardScreen

        screen = BoardScreen(name=ScreenName.BOARD, desk=self.desk)
        screen.bind(on_practice=partial(self.go, ScreenName.START))
        return screen

    def _to_practice(self, *_) -> None:
        otherwise = ScreenName.HOME if self.desk.left_open else ScreenName.START
        self.go(ScreenName.BOARD if self.desk.practice else otherwise)

    def _check_pause(self, *_) -> None:
        if self._pause.has_passed():
            self.desk.leave_open()

    def _ask_first(self, _, left_open) -> None:
        """Ask about a practice that was left open before anybody tallies on."""
        if left_open and self.screens.current in (ScreenName.BOARD, ScreenName.START):
            self.go(ScreenName.HOME)
        elif self.screens.current == ScreenName.HOME:
            self.screens.current_screen.on_pre_enter()

    def _change_palette(self, screen) -> None:
        self.desk.keep(dark=not self.desk.tablet.dark)
        theme.use(self.desk.tablet.dark)
        screen.dark = self.desk.tablet.dark


class _Survive(ExceptionHandler):
    """A fault in one screen is told and logged; the bench goes on tallying."""

    def __init__(self, desk: Desk):
        self._desk = desk

    def handle_exception(self, exception):
        """Tell the user and go on, unless the program is asked to end."""
        if isinstance(exception, KeyboardInterrupt | SystemExit):
            return ExceptionManager.RAISE
        if isinstance(exception, EvaltrackError):  # a file that turned out to be damaged
            fault = str(exception)
        else:
            _log.exception("a fault in a screen")
            fault = tr("something went wrong ({kind}); what is saved is safe", kind=type(exception).__name__)
        Clock.schedule_once(lambda _: setattr(self._desk, "message", fault))
        return ExceptionManager.PASS
