"""The app's screens for the settings of the tablet, what they put in force, and what the latch keeps."""

from enum import StrEnum
from functools import cached_property, partial

from kivy.clock import Clock

from evaltrack.device.tablet import WordSize, look_again
from evaltrack.device.tablet_language import language_spoken
from evaltrack.language import speak


class ScreenName(StrEnum):
    """The screens of the app."""

    HOME = "home"
    START = "start"
    BOARD = "board"
    TEAM = "team"
    PLAYER = "player"
    SKILL = "skill"
    COVERAGE = "coverage"
    AGREEMENT = "agreement"
    PRACTICES = "practices"
    PRACTICE = "practice"
    TALLIES = "tallies"
    NEXT_PRACTICE = "next_practice"
    PLAN = "plan"
    CALENDAR = "calendar"
    NOTES = "notes"
    NOTE = "note"
    NOTE_PICKS = "note_picks"
    NOTE_HISTORY = "note_history"
    LOOK_BACK = "look_back"
    MEETINGS = "meetings"
    EVENING = "evening"
    MEETING_WISH = "meeting_wish"
    CUE_CARD = "cue_card"
    WISHES = "wishes"
    SEASON = "season"
    PLAYERS = "players"
    PLAYER_FORM = "player_form"
    SKILLS = "skills"
    SKILL_FORM = "skill_form"
    DRILLS = "drills"
    DRILL = "drill"
    STEP = "step"
    REPS = "reps"
    SETUP = "setup"
    MEASURE = "measure"
    CODE = "code"
    SEASONS = "seasons"
    FILE = "file"
    OUR_TEAM = "our_team"
    ROSTER = "roster"
    BACKUPS = "backups"
    HANDOVER = "handover"
    LOAN = "loan"
    PACKS = "packs"
    LEND = "lend"
    SEASON_END = "season_end"
    NEXT_SEASON = "next_season"
    KEPT = "kept"


# of the latch; every other screen needs the code while one is set
_FREE = (ScreenName.HOME, ScreenName.START, ScreenName.BOARD, ScreenName.CODE, ScreenName.LOAN)
# of a loan, whatever the code: all else is with whoever lent it, or belongs to another season
_OF_LOAN = (ScreenName.START, ScreenName.BOARD, ScreenName.SETUP, ScreenName.MEASURE, ScreenName.CODE)
_OF_LOAN += (ScreenName.SEASONS, ScreenName.FILE, ScreenName.OUR_TEAM, ScreenName.ROSTER)
_SOON = 0.5  # seconds after the first frame, which waits for nothing that can come later


class TabletScreens:
    """A part of the app. It imports what a setting needs only where that setting is in force."""

    def allowed(self, name: str) -> str:
        """Return the screen to show for the one that is asked for: the pad while the latch keeps it."""
        if self.desk.loan and (name not in _OF_LOAN or (name in _OF_LOAN[:2] and self.desk.loan_is_over)):
            name = ScreenName.LOAN
        elif name == ScreenName.LOAN and not self.desk.loan:
            name = ScreenName.HOME
        if name not in _FREE and not (name == ScreenName.SEASONS and self.desk.season is None):
            if self.needs_code():
                self.screen(ScreenName.CODE).ask(name)
                return ScreenName.CODE
        if name == ScreenName.BOARD:
            self.close_latch()
        return name

    def needs_code(self) -> bool:
        """Say whether the code is asked for now, here or by another window of the tablet."""
        self._follow_other_windows()
        return self._closed

    def open_settings(self, *_) -> bool:
        """Show no panel of Kivy's own, which a key would open past the latch."""
        return True

    @cached_property
    def latch(self):
        """Return the latch, made when somebody first asks for it."""
        from evaltrack.touch.tablet.latch import Latch

        latch = Latch(self.desk)
        latch.bind(shut=self._follow_latch)
        return latch

    @cached_property
    def scale(self):
        """Return what gives a dp its real size, made when somebody first asks for it."""
        from evaltrack.touch.tablet.scale import Scale

        return Scale(self.desk)

    @cached_property
    def words(self):
        """Return what gives the words their size, made when somebody first asks for it."""
        from evaltrack.touch.tablet.words import Words

        return Words(self.desk)

    @cached_property
    def feedback(self):
        """Return what answers tallies, made when somebody first asks for it."""
        from evaltrack.touch.tablet.feedback import Feedback

        return Feedback(self.desk)

    def close_latch(self, *_) -> None:
        """Ask for the code from now on, if one is set, here or in another window of the tablet."""
        self._follow_other_windows()
        if self.desk.tablet.latch:
            self.latch.close()

    def show_latch(self, *_) -> None:
        """Let home say what needs the code."""
        if self.screens.has_screen(ScreenName.HOME):
            home, is_set = self.screens.get_screen(ScreenName.HOME), bool(self.desk.tablet.latch)
            home.needs_code = is_set and self.latch.shut
            home.can_lock = is_set and not self.latch.shut

    def speak(self) -> None:
        """Put the language in force that is chosen on this tablet; before the first word is looked up."""
        speak(language_spoken(self.desk.tablet))

    def speak_anew(self, *_) -> None:
        """Follow the choice of another language in the set-up, which is made anew with every other screen."""
        from evaltrack.touch.tablet.another_language import exchange

        self.speak()
        self.desk.message = self.desk.ended = ""
        exchange(self.screens, partial(self.screen, ScreenName.SETUP))

    def give_sizes(self) -> None:
        """Give a dp its real size on a measured screen, and words theirs; before the first widget is made."""
        if self.desk.tablet.px_per_mm:
            self.scale.follow()
        if self.desk.tablet.words != WordSize.USUAL:
            self.words.follow()

    def follow_settings_soon(self) -> None:
        """Take up the other settings after the first frame."""
        Clock.schedule_once(self._follow_settings, _SOON)

    def leave_settings(self) -> None:
        """Give back what belongs to the window and not to this app."""
        if "latch" in vars(self):
            self.latch.close()
        for name in {"scale", "words"} & vars(self).keys():
            getattr(self, name).leave()

    def _follow_settings(self, *_) -> None:
        tablet = self.desk.tablet
        if tablet.sound or tablet.vibration:
            self.feedback.follow()
        if tablet.latch:
            self.latch  # noqa: B018  the wait after wrong codes counts from here

    def _follow_other_windows(self) -> None:
        if "latch" in vars(self):
            self.latch.follow()
            return
        before = self.desk.tablet.latch
        self.desk.update_tablet(look_again)
        if self.desk.tablet.latch != before:
            self._follow_latch()

    @property
    def _closed(self) -> bool:
        return bool(self.desk.tablet.latch) and self.latch.shut

    def _follow_latch(self, *_) -> None:
        current = self.screens.current
        choosing = current == ScreenName.CODE and self.screen(ScreenName.CODE).is_choosing
        if self._closed and (current not in _FREE or choosing):
            self.go(ScreenName.BOARD if self.desk.practice else ScreenName.HOME)
        self.show_latch()

    def _make_setup(self):
        from evaltrack.touch.tablet.setup_screen import SetupScreen

        screen = SetupScreen(
            name=ScreenName.SETUP,
            desk=self.desk,
            latch=self.latch,
            feedback=self.feedback,
            letters=self.words,
        )
        screen.bind(
            on_back=self._from_setup,
            on_measure=partial(self.go, ScreenName.MEASURE),
            on_code=self._to_new_code,
            on_language=self.speak_anew,
            on_season_end=self._to_season_end,
        )
        return screen

    def _make_measure(self):
        from evaltrack.touch.tablet.measure_screen import MeasureScreen

        screen = MeasureScreen(name=ScreenName.MEASURE, desk=self.desk, scale=self.scale)
        screen.bind(on_back=partial(self.go, ScreenName.SETUP))
        return screen

    def _make_code(self):
        from evaltrack.touch.tablet.code_screen import CodeScreen

        screen = CodeScreen(name=ScreenName.CODE, desk=self.desk, latch=self.latch)
        screen.bind(on_back=self._from_code, on_done=lambda pad: self.go(pad.then))
        return screen

    def _from_setup(self, *_) -> None:
        self.go(ScreenName.HOME)
        if self.latch.new:  # whoever has set a code wants it to be asked for, without a button of its own
            self.close_latch()

    def _from_code(self, pad) -> None:
        self.go(ScreenName.SETUP if pad.is_choosing else ScreenName.HOME)

    def _to_new_code(self, *_) -> None:
        self.screen(ScreenName.CODE).choose(ScreenName.SETUP)
        self.go(ScreenName.CODE)
