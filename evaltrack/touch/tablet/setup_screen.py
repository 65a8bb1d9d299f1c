"""The settings of this tablet, each with what it does in plain words."""

from pathlib import Path

from kivy.core.window import Window
from kivy.lang import Builder
from kivy.metrics import Metrics
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.language import mark, tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tablet.measure_screen import board_size
from evaltrack.touch.tablet.real_size import halves, nominal
from evaltrack.touch.tablet.vibration import vibrator
from evaltrack.touch.widgets import sheet  # noqa: F401  the kv rules name what it defines
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.theme import theme
from evaltrack.words.season_life import keep_words
from evaltrack.words.wording import decimal

_NO_SOUND = mark("This device plays no sound.")
_NOT_KEPT = mark("The code is still there: the settings of this tablet cannot be written.")
_SHUT = mark("A code is set: review, notes and set-up ask for it. A latch on the bench, and not encryption.")
_SOON = mark("The code is kept. From when you leave this page, review, notes and set-up ask for it.")
_OPEN = mark(
    "No code is set: every screen is free. A code keeps the tablet on the boards while it goes round."
)


class Setting(BoxLayout):
    """A setting's name and what it does; the buttons to choose stand beside them."""

    title = StringProperty("")
    says = StringProperty("")


Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class SetupScreen(AppScreen):
    """Shows the tablet's settings and keeps each change at once; ``feedback`` and ``letters`` follow it.

    ``on_language`` comes when another language is chosen: this screen is thrown away then, as all others.
    """

    __events__ = ("on_back", "on_measure", "on_code", "on_language", "on_season_end")
    latch = ObjectProperty(None)
    feedback = ObjectProperty(None)
    letters = ObjectProperty(None)
    dark = BooleanProperty(False)
    hand = StringProperty("right")
    word_size = StringProperty("usual")
    language = StringProperty("")
    sound = BooleanProperty(False)
    vibration = BooleanProperty(False)
    measured = BooleanProperty(False)
    latched = BooleanProperty(False)
    size_words = StringProperty("")
    latch_words = StringProperty("")
    can_vibrate = BooleanProperty(False)
    words = StringProperty("")
    kept_words = StringProperty("")

    def on_pre_enter(self, *_):
        """Show what is set."""
        self.words, self.kept_words = "", ""
        if self.desk.season:
            self.desk.told(self._say_how_long)
        self.can_vibrate = vibrator() is not None
        self._show()

    def choose(self, **settings) -> None:
        """Keep a setting and put it in force."""
        changed = settings.get("language", self.language) != self.language
        if settings.get("sound") and not self.feedback.can_click:
            self.words = tr(_NO_SOUND)
            return
        self.desk.keep(**settings)
        theme.use(self.desk.tablet.dark)
        self.letters.follow()
        self.feedback.follow()
        if settings.get("sound") or settings.get("vibration"):
            self.feedback.give()
        self._show()
        if changed:
            self.dispatch("on_language")

    def take_off(self) -> None:
        """Ask for no code any more."""
        self.words = "" if self.latch.take_off() else tr(_NOT_KEPT)
        self._show()

    def _say_how_long(self) -> None:
        self.kept_words = keep_words(self.desk.season.life.retention())

    def _show(self) -> None:
        tablet = self.desk.tablet
        self.dark, self.hand, self.word_size = tablet.dark, tablet.hand, tablet.words
        self.language = tablet.language
        self.sound, self.vibration = tablet.sound, tablet.vibration
        self.measured, self.size_words = tablet.px_per_mm > 0, _size_in_words(self.desk)
        shut = _SOON if self.latch.new else _SHUT
        self.latched, self.latch_words = bool(tablet.latch), tr(shut if tablet.latch else _OPEN)


def _size_in_words(desk: Desk) -> str:
    mm = desk.tablet.px_per_mm
    if not mm:
        claim = nominal(Metrics.dpi)
        return tr(
            "Not measured. The screen says {claim} pixels in a millimetre, which may be far from "
            "true. Once it is measured, bars and words get their real size on a fine screen.",
            claim=decimal(claim),
        )
    players = board_size(desk)
    found = halves(players, *Window.size, Metrics.density, mm)
    sizes = {"mm": decimal(mm, 2), "players": players, "found": found}
    if found.large_enough:
        return tr(
            "Measured: {mm} pixels in a millimetre. {players} players stand on halves of {found}.", **sizes
        )
    return tr(
        "Measured: {mm} pixels in a millimetre. {players} players stand on halves of {found}, "
        "small for a glove.",
        **sizes,
    )
