"""The first screen off the ice: start a practice, or look at the team."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.screenmanager import Screen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_NO_SEASON = (
    "There is no season file yet. On a laptop, 'evaltrack demo' makes the season of an invented team, and "
    "'evaltrack new' one from your own roster; 'evaltrack' then opens it here."
)
_PRIVACY = (
    "This tablet holds children's data: number, name, position, tallies. Lock it when you put it down, and "
    "delete the season file when the season is over."
)


class HomeScreen(Screen):
    """What there is to do with the season in hand."""

    __events__ = ("on_practice", "on_team", "on_look")
    desk = ObjectProperty(None)
    heading = StringProperty("evaltrack")
    summary = StringProperty("")
    practice_words = StringProperty("")
    hint = StringProperty(_NO_SEASON)
    running = BooleanProperty(False)
    has_season = BooleanProperty(False)
    dark = BooleanProperty(False)

    def on_pre_enter(self, *_):
        """Count afresh."""
        desk = self.desk
        self.dark = desk.tablet.dark
        self.has_season = desk.season is not None
        if not self.has_season:
            return
        practices = [p for p in desk.season.practices.all()]
        self.heading = str(desk.season.team)
        self.running = desk.practice is not None
        self.summary = (
            f"{len(desk.players)} players, {len(practices)} practices, {desk.season.log.count():,} tallies"
        )
        self.practice_words = "back to the board" if self.running else "who is here, which drill"
        self.hint = _PRIVACY

    def on_practice(self) -> None:
        """Do nothing: the app listens."""

    def on_team(self) -> None:
        """Do nothing: the app listens."""

    def on_look(self) -> None:
        """Do nothing: the app listens."""
