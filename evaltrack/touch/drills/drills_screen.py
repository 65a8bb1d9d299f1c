"""The drills in their order, those that are not in use any more, and what saving would change."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder

from evaltrack.language import mark, tr, tr_many
from evaltrack.touch.drills.draft.draft_words import drill_words, fault_words, title_of
from evaltrack.touch.drills.draft_bar import OrderedRow, moves
from evaltrack.touch.drills.draft_screen import DraftScreen
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line, Option, answers_for
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_WAITS = mark("A practice is not ended. Drills can be changed here, and saved when it is over.")
_STAYS = mark("Taken out of use, its tallies stay, and it can be brought back below.")


class DrillsScreen(DraftScreen):
    """Shows every drill; a tap opens it by ``on_drill``, which brings its path.

    Nothing is saved before Save, and then all of it. Whoever leaves with changes is asked once.
    """

    __events__ = ("on_drill",)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._asking = False

    def on_pre_enter(self, *_):
        """Show the drills as they are being changed, or as the season has them."""
        self.drafting.take_up()
        self._asking = False
        self.desk.message = ""
        self.show()

    def on_leave(self, *_):
        """Forget what was said of the last saving."""
        self.drafting.saved = []

    def on_back(self, *_):
        """Leave, or ask first what becomes of the changes."""
        if self._asking or not self.draft.is_changed:
            self.dispatch("on_left")
        else:
            self._asking = True
            self.show()

    def add(self) -> None:
        """Add a drill, and open it."""
        self.dispatch("on_drill", self.draft.add())

    def save(self) -> None:
        """Save all drills, and say what changed."""
        if self.drafting.save():
            self._asking = False
        self.show()

    def parts(self) -> list:
        """Return the question, what would change, the drills, and those that are not in use."""
        self.heading = tr("Drills")
        drills = self.draft.drills
        steps = sum(len(drill.steps) for drill in drills)
        self.summary = f"{counted(len(drills), 'drill')}, {counted(steps, 'step')}"
        waits = [Line(text=tr(_WAITS))] if self.drafting.waits_for() else []
        return [*waits, *self._question(), *self._changes(), *self._drills(), *self._out_of_use()]

    def _question(self) -> list:
        if not self._asking:
            return []
        faults = len(self.draft.reading.faults)
        stay = [Option(tr("Go on changing"), tr("stay here"), self._stay)]
        if not faults:
            stay.insert(0, Option(tr("Save them"), tr("all drills"), self.save))
        leave = Option(tr("Throw them away"), tr("back to what is saved"), self._throw_away)
        return [Heading(text=tr("There are changes that are not saved.")), answers_for(*stay, leave)]

    def _stay(self) -> None:
        self._asking = False
        self.show()

    def _throw_away(self) -> None:
        self.drafting.throw_away()
        self.dispatch("on_left")

    def _changes(self) -> list:
        faults = len(self.draft.reading.faults)
        if faults:
            return [Line(text=_to_mend(faults))]
        would = self.drafting.would_change()
        if would:
            return [Heading(text=tr("Not saved yet")), Line(text="\n".join(would))]
        saved = self.drafting.saved
        return [Heading(text=tr("Saved")), Line(text="\n".join(saved))] if saved and not self._asking else []

    def _drills(self) -> list:
        drills = self.draft.drills
        return [Heading(text=tr("In use, in this order")), *(self._row(n) for n in range(len(drills)))]

    def _row(self, number: int) -> OrderedRow:
        drill, of = self.draft.drills[number], len(self.draft.drills)
        path = (drill.key,)
        wrong = fault_words(self.draft, path)
        row = ListRow(title=title_of(drill), small=wrong or drill_words(drill), marked=bool(wrong))
        opens = partial(self.dispatch, "on_drill", path)
        return OrderedRow(row, opens, moves(self.draft, path, self.show, (number, of)))

    def _out_of_use(self) -> list:
        gone = self.draft.out_of_use()
        if not gone:
            return [Line(text=tr(_STAYS), soft=True)]
        lines = []
        for drill in gone:
            line = KeyedLine(words=f"{drill.name}\n{drill_words(drill)}", title=tr("Bring back"))
            line.bind(on_turn=lambda _, path=(drill.key,): self._bring_back(path))
            lines.append(line)
        return [Heading(text=tr("Not in use any more")), *lines]

    def _bring_back(self, path: tuple) -> None:
        self.draft.bring_back(path)
        self.show()


def _to_mend(faults: int) -> str:
    return tr_many(
        "{number} thing to mend before the drills can be saved.",
        "{number} things to mend before the drills can be saved.",
        faults,
    )
