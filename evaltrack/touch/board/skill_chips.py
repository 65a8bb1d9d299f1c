"""The row of skills at the head of a board: one tap changes what is watched."""

from collections.abc import Callable

from kivy.metrics import dp
from kivy.uix.boxlayout import BoxLayout

from evaltrack.language import tr
from evaltrack.rink.skill import Skill
from evaltrack.touch.widgets.button import TapButton

_WIDE, _NARROW = 6, 5  # chips in a row, without the one that turns the page
_LONG = 24  # letters in a name from which it has smaller type


class SkillChips:
    """Fills a row with a chip for each skill, a page at a time, those of the step first.

    The chosen skill stands on every page, lit: on one that is not its own behind the others.
    """

    def __init__(self, row: BoxLayout, choose: Callable[[str], None]):
        self._row, self._choose = row, choose
        self._skills: list[Skill] = []
        self._size = _WIDE
        self._page = 0
        self._chips: dict[str, TapButton] = {}
        self._turner: TapButton | None = None  # turns the page, where there are several
        self._built: tuple = ()  # what stands on the chips, and whether one turns the page
        self._chosen = ""

    def show(self, skills: list[Skill], chosen: str, wide: bool) -> None:
        """Show the page that has the chosen skill, and mark it."""
        self._skills, self._chosen = skills, chosen
        self._size = _WIDE if wide else _NARROW
        self._page = [skill.key for skill in skills].index(chosen) // self._size
        self._fill()

    def _turn(self, *_) -> None:
        self._page = (self._page + 1) % self._pages
        self._fill()

    def _fill(self) -> None:
        start = self._page * self._size
        page = self._skills[start : start + self._size]
        page += [skill for skill in self._skills if skill.key == self._chosen and skill not in page]
        more = len(self._skills) > self._size
        built = [(skill.key, skill.name) for skill in page], more
        if built != self._built:
            self._built = built
            self._build(page, more)
        for key, chip in self._chips.items():
            chip.active = key == self._chosen
        if self._turner:
            self._turner.small = tr("{page} of {pages}", page=self._page + 1, pages=self._pages)

    @property
    def _pages(self) -> int:
        return -(-len(self._skills) // self._size)

    def _chip(self, name: str, narrow: bool) -> TapButton:
        size = 13 if narrow or len(name) > _LONG else 16 if self._size == _WIDE else 14
        return TapButton(title=name, title_size=f"{size}sp", wraps=True, in_bar=True)

    def _build(self, page: list[Skill], more: bool) -> None:
        self._row.clear_widgets()
        self._turner = None
        self._chips = {s.key: self._chip(s.name, len(page) > self._size) for s in page}
        for key, chip in self._chips.items():
            chip.bind(on_press=lambda _, key=key: self._choose(key))
            self._row.add_widget(chip)
        if more:
            narrow = {"size_hint_x": None, "width": dp(60)}
            self._turner = TapButton(title=tr("more"), title_size="16sp", in_bar=True, **narrow)
            self._turner.bind(on_press=self._turn)
            self._row.add_widget(self._turner)
