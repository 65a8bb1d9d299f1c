"""The bench board for the whole group: one skill, every player who is here."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.screenmanager import Screen

from evaltrack.rink.short_names import short_names
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.last_tallies import LastTallies  # noqa: F401  the kv rule names it
from evaltrack.touch.skill_chips import SkillChips
from evaltrack.touch.tally_board import Face

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_STRIP = 16  # tallies in the strip at most


class BoardScreen(Screen):
    """Taps go to the desk; what the desk has written comes back as counts."""

    __events__ = ("on_practice",)
    desk = ObjectProperty(None)
    skill = StringProperty("")
    caption = StringProperty("")
    step = StringProperty("")
    after = StringProperty("")
    pressure = BooleanProperty(False)
    undoes = StringProperty("")
    total = NumericProperty(0)

    def __init__(self, desk, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._names: dict = {}
        self._places: dict = {}
        self._players: list = []
        self.chips = SkillChips(self.ids.skills, lambda key: desk.watch(skill=key))
        desk.bind(practice=self._fill, station=self._follow)
        self.bind(size=self._show_chips)
        self._fill()

    def tally(self, place: int, outcome: Outcome) -> None:
        """Commit a tap; the tile changes only when it is on disk."""
        player = self._players[place]
        if self.desk.tally(player, outcome):
            self._show_count(place)
            self.ids.board.ring(place, outcome)
            self._show_last()

    def undo(self) -> None:
        """Withdraw the last tally and show it gone."""
        tally = self.desk.undo()
        if tally and tally.player in self._places:
            self._show_count(self._places[tally.player])
            self._ring_last()
        self._show_last()

    def on_practice(self) -> None:
        """Do nothing: the app listens."""

    def _fill(self, *_) -> None:
        if not self.desk.practice:
            return
        self._names = short_names(self.desk.players)
        present = sorted(self.desk.attendance.values(), key=lambda a: a.place)
        self._players = [a.player for a in present]
        self._places = {a.player: place for place, a in enumerate(present)}
        self._follow()

    def _follow(self, *_) -> None:
        station = self.desk.station
        if not (station and self._places):
            return
        skill = self.desk.skills[station.skill]
        self.skill, self.caption = skill.name, skill.caption
        steps = self.desk.drill.steps
        number = [step.key for step in steps].index(station.step) + 1
        self.step = self.desk.step.name
        self.after = f"step {number} of {len(steps)}" if len(steps) > 1 else self.desk.drill.name
        self.pressure = station.pressure
        self._show_chips()
        self.ids.board.show([self._face(player) for player in self._players])
        self._ring_last()
        self._show_last()

    def _show_chips(self, *_) -> None:
        if self.desk.station and self.width > 100:  # a screen is 100 pixels wide before it is laid out
            wide = self.width > self.height
            self.chips.show(self.desk.watched_skills(), self.desk.station.skill, wide)

    def _face(self, ident) -> Face:
        player, skill = self.desk.player(ident), self.desk.skills[self.desk.station.skill]
        return Face(
            number=player.number,
            name=self._names[ident],
            done=self.desk.count(ident, Outcome.DONE),
            missed=self.desk.count(ident, Outcome.MISSED),
            watched=skill.suits(player.position),
            here=self.desk.attendance[ident].here,
        )

    def _show_count(self, place: int) -> None:
        self.ids.board.update(place, self._face(self._players[place]))

    def _ring_last(self) -> None:
        last = self.desk.last(1)
        same = last and last[0].skill == self.desk.station.skill
        if same:
            self.ids.board.ring(self._places.get(last[0].player), last[0].outcome)
        else:
            self.ids.board.ring(None)

    def _show_last(self) -> None:
        last = self.desk.last(_STRIP)
        self.ids.last.tallies = [(self.desk.player(t.player).number, t.outcome) for t in last]
        self.total = self.desk.total
        self.undoes = self._in_words(last[0]) if last else ""

    def _in_words(self, tally: Tally) -> str:
        words = f"{self.desk.player(tally.player).number} {tally.outcome}"
        if tally.skill != self.desk.station.skill:
            words += f", {self.desk.skills[tally.skill].name}"
        return words
