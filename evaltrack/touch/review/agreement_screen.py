"""Two observers: how far they agree, which skill they split on, and who is stricter."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.review.review import Review
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line
from evaltrack.touch.worker.tasks import agreement_in
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.observers import NOBODY_STRICT, strict_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WORKING = mark("Matching the observers' tries …")


class AgreementScreen(AppScreen):
    """``words`` say what is being done or went wrong; ``waiting`` that it is being worked out.

    ``told`` is what is told of the observers: headings, each with its lines.
    """

    __events__ = ("on_back",)
    summary = StringProperty("")
    words = StringProperty("")
    waiting = BooleanProperty(False)

    def __init__(self, desk: Desk, review: Review, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self.review, self._worker = review, worker
        self._asked = None  # of which season file, and after how many writes
        self.told: list[tuple[str, list[str]]] = []

    def on_pre_enter(self, *_):
        """Match the tries again where something was written since."""
        self.summary = tr("of the tries that both saw: how many they saw alike")
        self.review.show(self._fill)
        season = self.desk.season
        asked = season and (season, self.desk.changed, season.seen_version)
        if season is None or asked == self._asked:
            return
        self._asked, self.waiting, self.words = asked, True, tr(_WORKING)
        self._worker.ask(
            partial(agreement_in, season.path), partial(self._take, asked), partial(self._fail, asked)
        )

    def on_leave(self, *_):
        """Draw nothing while another screen is shown."""
        self.review.hide(self._fill)

    def _take(self, asked: tuple, told: list) -> None:
        if asked == self._asked:
            self.told, self.waiting, self.words = told, False, ""
            self.ids.view.scroll_y = 1
            self._fill()

    def _fail(self, asked: tuple, sentence: str) -> None:
        if asked == self._asked:
            self._asked, self.waiting = None, False
            self.words = tr("The observers could not be compared: {reason}.", reason=sentence)

    def _fill(self, *_) -> None:
        strict = [strict_words(one) for one in self.review.strict] or [tr(NOBODY_STRICT)]
        over_season = [(tr("Over the whole season"), strict)] if self.review.standings else []
        body = self.ids.body
        body.clear_widgets()
        for heading, lines in (*self.told, *over_season):
            if heading:
                body.add_widget(Heading(text=heading))
            for line in lines:
                body.add_widget(Line(text=line))
