"""The pad for the code of this tablet: it is asked for, or a new one is chosen and typed twice."""

from enum import StrEnum
from pathlib import Path

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, OptionProperty, StringProperty

from evaltrack.device.passcode import FEWEST, MOST, is_code
from evaltrack.device.tablet import tablet_file
from evaltrack.language import mark, tr
from evaltrack.touch.tablet.typed_digits import TypedDigits  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

A_LATCH = mark(
    "This is a latch and not encryption. It keeps hands off the review, the notes and the "
    "set-up while the tablet goes along the bench. Who can read the files on this tablet can "
    "read the season file: lock the tablet itself as well."
)
FORGOTTEN = mark(
    "Forgotten? Nobody can tell it to you. Who owns the tablet closes the app and deletes "
    "{file}: the code is gone then, with the other settings of this tablet. The season file "
    "stays as it is, but the tablet counts as a new one: its undo does not reach earlier "
    "taps."
)
A_MOMENT = mark("One moment, please: it goes on by itself.")
NOT_KEPT = mark("Not set: the settings of this tablet cannot be written.")
NOT_LOOKED_AT = mark("The tablet had no room to look at the code. Close other apps and try again.")


class Aim(StrEnum):
    """What the pad asks for: the code in force, a new one, or the new one once more."""

    ASK = "ask"
    NEW = "new"
    AGAIN = "again"


_HEADINGS = {
    Aim.ASK: mark("The code, please"),
    Aim.NEW: mark("A new code"),
    Aim.AGAIN: mark("The new code once more"),
}
_FIRST_WORDS = {
    Aim.ASK: "",
    Aim.NEW: mark("{fewest} to {most} digits, then Enter."),
    Aim.AGAIN: mark("The same digits, then Enter."),
}
_ENTER, _ESCAPE, _BACKSPACE = (13, 271), 27, 8


class CodeScreen(AppScreen):
    """Asks for the code, or takes a new one.

    ``aim`` says which code. ``held`` says that no digit is taken now. ``on_done`` comes after the right code,
    or after a new one is on disk; ``then`` names the screen that was asked for.
    """

    __events__ = ("on_back", "on_done")
    latch = ObjectProperty(None)
    then = StringProperty("")
    aim = OptionProperty(Aim.ASK, options=list(Aim))
    heading = StringProperty("")
    typed = StringProperty("")
    words = StringProperty("")
    held = BooleanProperty(False)
    about = StringProperty("")
    forgotten = StringProperty("")

    @property
    def is_choosing(self) -> bool:
        """Say whether a new code is taken, and not the one in force asked for."""
        return self.aim != Aim.ASK

    def ask(self, then: str) -> None:
        """Ask for the code, before the screen of this name."""
        self.aim, self.then = Aim.ASK, then

    def choose(self, then: str) -> None:
        """Take a new code, and go on to the screen of this name."""
        self.aim, self.then = Aim.NEW, then

    def on_pre_enter(self, *_):
        """Start with nothing typed."""
        self._busy, self._first, self._wait, self._shown = False, "", 0, True
        self._turn(Aim.NEW if self.is_choosing else Aim.ASK)
        Window.bind(on_key_down=self._key)
        self._clock = Clock.schedule_interval(self._follow, 0.25)
        self._count_down()

    def on_leave(self, *_):
        """Forget what was typed, and what is under way."""
        self.latch.forget()
        self._shown = False
        Window.unbind(on_key_down=self._key)
        self._clock.cancel()
        self.typed = self._first = ""

    def press(self, digit: str) -> None:
        """Take one digit, as long as there is room."""
        if not self.held and len(self.typed) < MOST:
            self.typed += digit

    def erase(self) -> None:
        """Take the last digit back."""
        self.typed = self.typed[:-1]

    def enter(self) -> None:
        """Take what is typed for a code."""
        code = self.typed
        if self.held:
            return
        if not is_code(code):
            self.words = tr("A code has {fewest} to {most} digits.", fewest=FEWEST, most=MOST)
        elif self.aim == Aim.ASK:
            self._ask(code)
        elif self.aim == Aim.NEW:
            self._turn(Aim.AGAIN)
            self._first = code
        else:
            self._compare(code)

    def _turn(self, aim: Aim, words: str = "") -> None:
        self.aim, self.heading, self.typed = aim, tr(_HEADINGS[aim]), ""
        self.words = words or tr(_FIRST_WORDS[aim], fewest=FEWEST, most=MOST)
        self.about = tr(A_LATCH)
        self.forgotten = "" if self.is_choosing else tr(FORGOTTEN, file=tablet_file())

    def _wait_for_latch(self) -> None:
        self.words = tr(A_MOMENT)  # whoever leaves now sets no code
        self._hold(True)

    def _hold(self, busy: bool) -> None:
        self._busy = busy
        self.held = busy or self._wait > 0

    def _ask(self, code: str) -> None:
        if self.latch.try_code(code, self._tried):
            self._turn(Aim.ASK)
            self._wait_for_latch()

    def _tried(self, fits: bool | None) -> None:
        if not self._shown:
            return
        self._hold(False)
        if fits:
            self.dispatch("on_done")
        else:
            self.words = tr(NOT_LOOKED_AT) if fits is None else tr("That is not the code.")
            self._count_down()

    def _compare(self, code: str) -> None:
        if code != self._first:
            self._turn(Aim.NEW, tr("The two were not alike. Once more from the start."))
            return
        self._turn(Aim.AGAIN)
        self._wait_for_latch()
        self.latch.set_code(code, self._kept)

    def _kept(self, kept: bool) -> None:
        if not self._shown:
            return
        self._hold(False)
        if kept:
            self.dispatch("on_done")
        else:
            self._turn(Aim.NEW, tr(NOT_KEPT))

    def _follow(self, *_) -> None:
        self.latch.follow()
        if self._shown and not self.is_choosing and not (self._busy or self.latch.is_set):
            self.dispatch("on_done")
        elif self._shown:
            self._count_down()

    def _count_down(self) -> None:
        before, self._wait = self._wait, 0 if self.is_choosing else self.latch.wait_left()
        if self._wait:
            self.words = tr(
                "{wrong} wrong codes in a row. Wait {minutes}.",
                wrong=self.latch.wrong,
                minutes=minutes(self._wait),
            )
        elif before:
            self.words = tr("Now another try.")
        self._hold(self._busy)

    def _key(self, _, key: int, scancode: int, *__) -> bool:
        if key == _ESCAPE:
            self.dispatch("on_back")
        elif key == _BACKSPACE:
            self.erase()
        elif key in _ENTER and not self._on_a_key():
            self.enter()
        elif digit := _digit(key, scancode):
            self.press(digit)
        else:
            return False
        return True

    def _on_a_key(self) -> bool:
        return any(getattr(one, "focused", False) for one in self.walk(restrict=True))


def minutes(seconds: int) -> str:
    """Return a time as people say it: ``9 s``, ``2 min``, ``1 min 5 s``."""
    whole, rest = divmod(seconds, 60)
    return " ".join([f"{whole} min"] * (whole > 0) + [f"{rest} s"] * (rest > 0 or not whole))


def _digit(key: int, scancode: int) -> str:
    """Return the digit on a key, or nothing."""
    if 48 <= key <= 57:
        return chr(key)
    if 256 <= key <= 265:  # the keys of a number pad
        return str(key - 256)
    if 30 <= scancode <= 39:  # the upper row of a keyboard whose digits need the shift key
        return str((scancode - 29) % 10)
    return ""
