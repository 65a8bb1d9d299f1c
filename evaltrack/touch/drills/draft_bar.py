"""The bar over drills that are being changed, and the rows in which their parts stand."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.language import tr
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.sheet import SheetBar


class DraftBar(SheetBar):
    """Has Undo, with what it takes back, and Save, which waits until there is something whole to save."""

    __events__ = ("on_undo", "on_save")
    undoes = StringProperty("")
    waits = StringProperty("")
    ready = BooleanProperty(False)

    def show(self, draft: DrillsDraft) -> None:
        """Say what can be undone, and whether the draft can be saved."""
        faults = len(draft.reading.faults)
        self.undoes = draft.undoes
        self.ready = draft.is_changed and not faults
        changed = tr("{number} to mend first", number=faults) if faults else tr("all drills")
        self.waits = changed if draft.is_changed else tr("nothing changed")


class OrderedRow(BoxLayout):
    """A row of a list with an order: it opens what it names, and the keys beside it move it or take it out.

    ``opens`` is what a tap on the row does; ``acts`` are the keys, one that can do nothing has None.
    """

    def __init__(self, row: ListRow, opens: Callable, acts: list[tuple[str, Callable | None]], **kwargs):
        super().__init__(**kwargs)
        row.small_size = "15sp"  # it may hold a complaint, which grows with the other words
        row.bind(height=self.setter("height"), on_press=lambda _: opens())
        self.height = row.height
        self.add_widget(row)
        for title, act in acts:
            key = RowKey(title=title, disabled=act is None)
            key.bind(on_press=lambda _, act=act: act())
            self.add_widget(key)


class RowKey(TapButton):
    """A key beside a row."""


def moves(draft: DrillsDraft, path: tuple, shown: Callable, place: tuple[int, int]) -> list:
    """Return the keys that move something up, down, or out of its list.

    ``place`` is its number in the list, and how many there are; ``shown`` shows the list again.
    """
    number, of = place

    def act(change: Callable) -> None:
        change()
        shown()

    def key(can: bool, change: Callable, *what) -> Callable | None:
        return partial(act, partial(change, path, *what)) if can else None

    return [
        (tr("Up"), key(number > 0, draft.move, -1)),
        (tr("Down"), key(number < of - 1, draft.move, 1)),
        (tr("Take out"), key(of > 1, draft.take_out)),
    ]


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
