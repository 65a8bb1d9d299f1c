"""The list of all practices, the newest first."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import StringProperty

from evaltrack.language import mark, tr
from evaltrack.paper.tables.practices import Held, contents, put_right_in_short, read_held
from evaltrack.rink.practice import Practice
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Option, keys_for
from evaltrack.words.practices import title_of
from evaltrack.words.wording import counted, listed

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NONE = mark("There is no practice in this season yet. What is tallied at the bench stands here.")


class PracticesScreen(AppScreen):
    """One key for each practice; ``on_practice`` brings the key of the one that is wanted."""

    __events__ = ("on_back", "on_practice")
    summary = StringProperty("")

    def on_pre_enter(self, *_):
        """Read the practices again."""
        self.ids.view.scroll_y = 1
        self.desk.told(self._fill)

    def _fill(self) -> None:
        rows = read_held(self.desk.season)
        counting = [row for row in rows if not row.practice.aside]
        self.summary = _counted(len(counting), len(rows) - len(counting)) if rows else tr(_NONE)
        self.takes_hint = bool(rows)
        body, every = self.ids.body, [row.practice for row in rows]
        body.clear_widgets()
        body.add_widget(keys_for((self._option(row, every) for row in rows[::-1]), "400sp"))

    def _option(self, row: Held, every: list[Practice]) -> Option:
        title = title_of(row.practice, every)
        return Option(title, _small(row), lambda: self.dispatch("on_practice", row.practice.key))


def _counted(counting: int, aside: int) -> str:
    said = counted(counting, "practice")
    return tr("{practices}, and {number} set aside", practices=said, number=aside) if aside else said


def _small(row: Held) -> str:
    state = tr("set aside") if row.practice.aside else tr("runs") if row.runs else ""
    return "; ".join(filter(None, (state, contents(row), listed(row.observers), *put_right_in_short(row))))
