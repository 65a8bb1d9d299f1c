"""The first screen of a season on loan: its boards, giving the tallies back, and deleting it here."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.device.given_back import is_given
from evaltrack.language import tr
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.practice.left_open import question_about
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Heading, Line, Option, answers_for, keys_for
from evaltrack.touch.worker import pack_tasks
from evaltrack.touch.worker.worker import Worker
from evaltrack.words.lending import given_words, how_words, loan_words

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class LoanScreen(AppScreen):
    """What there is to do with a season on loan.

    ``on_practice`` leads to the board, ``on_folder`` asks into which folder the tallies are to be written,
    ``on_deleted`` comes when the loan is gone from the tablet. ``words`` say what became of an act, ``busy``
    that something is done beside the app, ``over`` that the loan has ended.
    """

    __events__ = ("on_practice", "on_folder", "on_setup", "on_seasons", "on_deleted")
    heading = StringProperty("")
    words = StringProperty("")
    busy = BooleanProperty(False)
    over = BooleanProperty(False)

    def __init__(self, desk: Desk, worker: Worker, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._worker, self._asking = worker, False
        desk.bind(left_open=self._follow)

    def on_pre_enter(self, *_):
        """Say from whom the loan is and until when, and what there is to do."""
        if not self.busy:
            self.words, self._asking = "", False
            self.desk.told(self.show)

    def _follow(self, *_) -> None:
        if self.desk.loan and self.manager and self.manager.current == self.name:
            self.desk.told(self.show)

    def show(self) -> None:
        """Show the loan as it is now."""
        desk, loan = self.desk, self.desk.loan
        if loan is None:
            return
        self.over, team = desk.loan_is_over, str(desk.season.team)
        self.heading = team
        body = self.ids.body
        body.clear_widgets()
        body.add_widget(Heading(text=loan_words(loan, team, desk.now())))
        body.add_widget(Line(text=how_words(loan, desk.now())))
        body.add_widget(Line(text=f"{given_words(desk.season.log.count(), self._given)}.", soft=True))
        if self._asking:
            self._ask(body)
            return
        if not self.over:
            self._offer_practice(body)
        body.add_widget(keys_for(self._ways_back(), "260sp"))

    @property
    def _given(self) -> bool:
        return is_given(self.desk.loan.id, self.desk.season.copies.amount())

    def _offer_practice(self, body) -> None:
        question = question_about(self.desk)
        if question:
            body.add_widget(Heading(text=question))
            ends = Option(tr("It is over"), tr("all is saved"), self._end, True)
            options = [ends, Option(tr("Go on with it"), tr("back to the board"), self._go_on)]
        elif self.desk.practice:
            to_board = partial(self.dispatch, "on_practice")
            options = [Option(tr("Go on with the practice"), tr("back to the board"), to_board, True)]
        else:
            start = partial(self.dispatch, "on_practice")
            options = [Option(tr("Start a practice"), tr("who is here, which drill"), start, True)]
        body.add_widget(keys_for(options, "300sp", large=True))

    def _ways_back(self) -> list[Option]:
        give = partial(self.dispatch, "on_folder")
        return [
            Option(tr("Give the tallies back"), tr("as one file, into a folder"), give, self.over),
            Option(tr("Delete this loan"), tr("from this tablet"), self._begin_to_ask),
        ]

    def _end(self) -> None:
        self.desk.end_left_open()
        self.desk.told(self.show)

    def _go_on(self) -> None:
        self.desk.go_on()
        self.dispatch("on_practice")

    def give_into(self, folder: str) -> None:
        """Write all that was noted into a folder."""
        self.busy, self.words = True, tr("One moment …")
        work = partial(pack_tasks.give_back, self._path, Path(folder), self.desk.tablet.id)
        self._worker.ask(work, self._done, self._done)

    @property
    def _path(self) -> Path:
        return self.desk.season.path.resolve()

    def _done(self, sentence: str) -> None:
        self.busy, self.words = False, sentence
        self.desk.told(self.show)

    def _begin_to_ask(self) -> None:
        self._asking = True
        self.desk.told(self.show)

    def _ask(self, body) -> None:
        body.add_widget(Heading(text=tr("Delete this loan from the tablet?")))
        lost = tr("What was not given back is lost then, for good.")
        kept = tr("The season that it was lent from stays as it is.")
        body.add_widget(Line(text=kept if self._given else f"{lost} {kept}"))
        leave = Option(tr("Leave it here"), tr("nothing is changed"), self._leave)
        delete = Option(tr("Delete it"), tr("this cannot be undone"), self._delete)
        body.add_widget(answers_for(leave, delete))

    def _leave(self) -> None:
        self._asking = False
        self.desk.told(self.show)

    def _delete(self) -> None:
        if self.desk.delete_loan():
            self._asking = False
            self.dispatch("on_deleted")
        else:
            self._done(self.desk.message)
