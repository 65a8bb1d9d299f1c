"""A field for a name, and under it what is wrong with it."""

from collections.abc import Iterable
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.intake.drafted_drills import Fault
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it


class NamedPart(EventSource, BoxLayout):
    """``on_write`` brings the text as it is typed."""

    __events__ = ("on_write",)
    hint = StringProperty("")
    wrong = StringProperty("")

    def __init__(self, text: str = "", **kwargs):
        super().__init__(**kwargs)
        self.ids.field.text = text
        self.ids.field.bind(text=lambda _, words: self.dispatch("on_write", words))

    def tell(self, faults: Iterable[Fault]) -> None:
        """Show what is wrong with the name, and what is wrong with all of it."""
        self.wrong = "\n".join(fault.text for fault in faults if fault.field in ("name", "key", ""))


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
