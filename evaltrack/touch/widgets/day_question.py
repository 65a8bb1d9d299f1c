"""The question which day it is, or was."""

from datetime import date, timedelta
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.language import tr
from evaltrack.rink.days import in_full
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.screen import Landscape

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class DayQuestion(EventSource, Landscape, BoxLayout):
    """Offers large buttons to choose the day, or the tablet's date. ``on_answer`` brings the day.

    ``latest`` is the last day that can be chosen. ``verb`` is ``is`` or, of a day gone by, ``was``.
    """

    __events__ = ("on_answer",)
    day = ObjectProperty(date.min)
    today = ObjectProperty(date.min)
    latest = ObjectProperty(date.max)
    verb = StringProperty("is")
    question = StringProperty("")
    remark = StringProperty("")

    def ask(self, question: str, likely: date, today: date, remark: str = "") -> None:
        """Ask again, beginning at the day that it may well be."""
        self.question, self.remark = question, remark
        self.today, self.day = today, likely

    def move(self, days: int) -> None:
        """Choose a day that is so many days later, if it can be chosen."""
        if self.reaches(self.day, days):
            self.day += timedelta(days)

    def reaches(self, day: date, days: int) -> bool:
        """Say whether a day so many days after this one can be chosen."""
        return (self.latest - day).days >= days

    def words(self, day: date) -> str:
        """Return a day as an answer."""
        if self.verb == "was":
            return tr("It was {day}", day=in_full(day))
        return tr("It is {day}", day=in_full(day))
