"""What stands in the place of a sentence, or of a thing that was agreed, while it is changed."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import AliasProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.rink.days import in_full
from evaltrack.rink.family_note import Agreed
from evaltrack.touch.widgets.events import EventSource

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class SentenceEditor(EventSource, BoxLayout):
    """A field with the words of one sentence.

    ``on_words`` brings what was typed whenever the field is left, and is true where that is saved.
    ``on_done`` says that the work is over, ``on_ours`` asks for the words as drafted, and ``on_out`` for the
    page without the sentence.
    """

    __events__ = ("on_words", "on_done", "on_ours", "on_out")

    def __init__(self, text: str, **kwargs):
        super().__init__(**kwargs)
        field, self._given = self.ids.words, text
        field.text = text
        field.bind(focus=lambda _, focus: focus or self.keep())

    def begin(self) -> None:
        """Have the keyboard on the words."""
        _begin(self.ids.words)

    def keep(self) -> bool:
        """Hand over what was typed, and say whether it is saved."""
        text = self.ids.words.text
        if text == self._given or self.parent is None:  # the page may be another one by now
            return True
        if self.dispatch("on_words", text):
            self._given = text
            return True
        return False


class DayStepper(EventSource, BoxLayout):
    """A day that may be none, between keys that move it by a day or a week.

    The first touch gives the day ``far`` days from today. ``said`` is the sentence with ``{day}`` in it,
    ``without`` stands in its place where there is none. ``on_turn`` brings the day that was moved to.
    """

    __events__ = ("on_turn",)
    day = ObjectProperty(None, allownone=True)
    today: Callable[[], date] = date.today
    far = NumericProperty(0)
    said = StringProperty("")
    without = StringProperty("")
    words = AliasProperty(
        lambda self: self.said.format(day=in_full(self.day)) if self.day else self.without,
        bind=("day", "said", "without"),
    )

    def move(self, by: int) -> None:
        """Take another day, or the first one."""
        self.day = self.day + timedelta(by) if self.day else self.today() + timedelta(int(self.far))
        self.dispatch("on_turn", self.day)


class ThingEditor(EventSource, BoxLayout):
    """Fields for one thing that was agreed.

    ``on_thing`` brings it whenever a field is left or a day chosen, and is true where that is saved;
    ``on_done`` says that the work is over, and ``on_out`` that nothing of the kind was agreed.
    """

    __events__ = ("on_thing", "on_done", "on_out")

    def __init__(self, agreed: Agreed, today: Callable[[], date], **kwargs):
        super().__init__(**kwargs)
        what, who, again = self.ids.what, self.ids.who, self.ids.again
        what.text, who.text, again.day, again.today = agreed.what, agreed.who_helps, agreed.look_again, today
        for field in (what, who):
            field.bind(focus=lambda _, focus: focus or self.keep())
        again.bind(day=lambda *_: self.keep())
        self._given = agreed

    def begin(self) -> None:
        """Have the keyboard on what was agreed, where nothing stands there yet."""
        if not self.ids.what.text:
            _begin(self.ids.what)

    def keep(self) -> bool:
        """Hand over what was changed, and say whether it is saved."""
        agreed = Agreed(self.ids.what.text, self.ids.who.text, self.ids.again.day)
        if agreed == self._given or self.parent is None:
            return True
        if self.dispatch("on_thing", agreed):
            self._given = agreed
            return True
        return False


def _begin(field) -> None:
    """Have the keyboard on a field once it has its place."""
    Clock.schedule_once(lambda _: field.get_root_window() and setattr(field, "focus", True), 0)
