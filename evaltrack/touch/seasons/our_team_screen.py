"""Whose season it is: the team, its age class, the season."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import ListProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.age_class import AGE_CLASSES, customs_of
from evaltrack.touch.seasons.season_draft import SeasonDraft, season_words
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_LOCAL = mark("Common practice, no rule of ours: the rules of your league and association win.")


class OurTeamScreen(AppScreen):
    """Takes name, age class and season; ``on_done`` comes when the roster is next."""

    __events__ = ("on_back", "on_done")
    words = StringProperty("")
    customs = StringProperty("")
    season = StringProperty("")
    seasons = ListProperty(["", ""])

    def __init__(self, draft: SeasonDraft, today: Callable[[], date] = date.today, **kwargs):
        self.draft, self._today = draft, today
        super().__init__(**kwargs)
        for name in AGE_CLASSES:
            chip = TapButton(title=name, title_size="22sp")
            chip.bind(on_press=lambda chip: self._choose(chip.title))
            self.ids.classes.add_widget(chip)

    def on_pre_enter(self, *_):
        """Show what was typed before, if anything."""
        draft = self.draft
        self.seasons = season_words(self._today())
        self.ids.team.text, self.ids.age_class.text = draft.team, draft.age_class
        self.season = draft.season or self.seasons[0]
        self.words = ""
        self.show_class()

    def on_pre_leave(self, *_):
        """Keep what was typed."""
        self._take()

    def show_class(self) -> None:
        """Show which age class is chosen, and what commonly goes with it."""
        name = self.ids.age_class.text.strip()
        for chip in self.ids.classes.children:
            chip.active = chip.title == name
        told = customs_of(name)
        self.customs = "\n".join([*map(tr, told), tr(_LOCAL)]) if told else ""

    def go_on(self) -> None:
        """Go on to the roster, or say what is missing."""
        self.words = self._take()
        if not self.words:
            self.dispatch("on_done")

    def _choose(self, name: str) -> None:
        self.ids.age_class.text = name

    def _take(self) -> str:
        return self.draft.name(self.ids.team.text, self.ids.age_class.text, self.season)
