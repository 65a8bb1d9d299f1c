"""One drill: its name, and its steps from easy to hard."""

from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import ObjectProperty

from evaltrack.language import mark, tr
from evaltrack.touch.drills.draft.draft_words import fault_words, step_words, title_of
from evaltrack.touch.drills.draft_bar import OrderedRow, moves
from evaltrack.touch.drills.draft_screen import DraftScreen
from evaltrack.touch.drills.named_part import NamedPart
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.sheet import Heading, KeyedLine, Line

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class DrillScreen(DraftScreen):
    """Shows the drill with this ``path``; a tap on a step opens it by ``on_step``, which brings its path."""

    __events__ = ("on_step",)
    path = ObjectProperty(())

    def on_pre_enter(self, *_):
        """Show the drill as it is being changed."""
        self.desk.message = ""
        self.ids.view.scroll_y = 1
        self.show()

    def add(self) -> None:
        """Add a step, and open it."""
        self.dispatch("on_step", self.draft.add(self.path))

    def show(self) -> None:
        """Show the drill, or leave when it is not there any more."""
        if self.draft.at(self.path) is None:
            self.dispatch("on_left")
        else:
            super().show()

    def parts(self) -> list:
        """Return the name, the steps, and those that are not in use any more."""
        self.heading, self.summary = title_of(self.draft.at(self.path)), tr("steps from easy to hard")
        return [self._name(), *self._steps(), *self._out_of_use()]

    def _name(self) -> NamedPart:
        name = NamedPart(hint=tr("The name of the drill"), text=self.draft.at(self.path).name)
        name.tell(self.draft.own_faults(self.path))
        name.bind(on_write=lambda _, text: self._rename(name, text))
        return name

    def _rename(self, name: NamedPart, text: str) -> None:
        self.draft.change(self.path, mark("the name"), name=text)
        name.tell(self.draft.own_faults(self.path))
        self.heading = title_of(self.draft.at(self.path))
        self.ids.bar.show(self.draft)

    def _steps(self) -> list:
        return [
            Heading(text=tr("Steps, easy to hard")),
            *(self._row(n) for n in range(len(self.draft.at(self.path).steps))),
        ]

    def _row(self, number: int) -> OrderedRow:
        steps = self.draft.at(self.path).steps
        step, path = steps[number], (*self.path, steps[number].key)
        wrong = fault_words(self.draft, path)
        row = ListRow(title=title_of(step), small=wrong or step_words(step), marked=bool(wrong))
        keys = moves(self.draft, path, self.show, (number, len(steps)))
        keys.insert(2, (tr("Copy"), partial(self._copy, path)))
        return OrderedRow(row, partial(self.dispatch, "on_step", path), keys)

    def _copy(self, path: tuple) -> None:
        self.dispatch("on_step", self.draft.copy(path))

    def _out_of_use(self) -> list:
        gone = self.draft.out_of_use(self.path)
        if not gone:
            return [Line(text=tr("Taken out of use, a step keeps its tallies."), soft=True)]
        lines = []
        for step in gone:
            line = KeyedLine(words=f"{step.name}\n{step_words(step)}", title=tr("Bring back"))
            line.bind(on_turn=lambda _, path=(*self.path, step.key): self._bring_back(path))
            lines.append(line)
        return [Heading(text=tr("Steps that are not in use any more")), *lines]

    def _bring_back(self, path: tuple) -> None:
        self.draft.bring_back(path)
        self.show()
