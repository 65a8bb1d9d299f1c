"""The lines of the form for a skill: a title, what it means or what is wrong with it, and what is chosen."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.widgets.button import TapButton  # noqa: F401  the kv rules name it
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.field import WordsField  # noqa: F401  and these
from evaltrack.touch.widgets.text_label import TextLabel  # noqa: F401


class SkillLine(EventSource, BoxLayout):
    """A line; ``wrong`` stands in the place of what it ``says``."""

    title = StringProperty("")
    says = StringProperty("")
    wrong = StringProperty("")


class TextLine(SkillLine):
    """A line with words to write; with ``breaks`` they may have several lines."""

    __events__ = ("on_words",)
    breaks = BooleanProperty(False)
    field = ObjectProperty(None)


class WhoLine(SkillLine):
    """A line with the position groups, of which ``chosen`` has the letters."""

    __events__ = ("on_turn",)
    chosen = StringProperty("")


class TargetLine(SkillLine):
    """A line with a target between two keys that lower and raise it."""

    __events__ = ("on_step",)
    target = StringProperty("")


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
