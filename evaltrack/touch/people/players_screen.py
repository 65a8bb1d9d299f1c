"""The roster: who is on the team, by number; a tap opens the form for one of them."""

from collections import Counter
from datetime import date
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import local_day
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.words.status import status_words
from evaltrack.words.wording import counted

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_LEAST_PLACES = 20  # so that a small team has no keys as large as the screen
_LETTERS = {Position.DEFENCE: mark("D"), Position.FORWARD: mark("F"), Position.GOALIE: mark("G")}


class PlayersScreen(AppScreen):
    """The players by number.

    ``gone`` says that those who have left are shown. ``on_player`` brings a player, or None for a new one.
    """

    __events__ = ("on_back", "on_player")
    gone = BooleanProperty(False)
    summary = StringProperty("")
    left = StringProperty("")
    shown = ObjectProperty(())

    def on_pre_enter(self, *_):
        """Show the roster as it is now."""
        self.gone = False
        self.show()

    def show(self) -> None:
        """Show the team, or those who have left."""
        desk = self.desk
        left = [player for player in desk.everyone if player.status is Status.LEFT]
        self.left = tr("{number} left", number=len(left)) if left else ""
        self.shown = tuple(left if self.gone else desk.players)
        ones = Counter(player.position for player in desk.players if not player.also)
        groups = [f"{ones[group]} {tr(letter)}" for group, letter in _LETTERS.items()]
        if both := sum(p.also is not None for p in desk.players):
            groups.append(tr("{number} D and F", number=both))
        team = counted(len(desk.players), "player")
        self.summary = tr("{what}: {more}", what=team, more=", ".join(groups))
        grid = self.ids.players
        grid.clear_widgets()
        for player in self.shown:
            grid.add_widget(self._key(player))
        for _ in range(_LEAST_PLACES - len(self.shown)):
            grid.add_widget(TapButton(opacity=0, disabled=True))

    def turn(self) -> None:
        """Change between the team and those who have left."""
        self.gone = not self.gone
        self.show()

    def _key(self, player: Player) -> TapButton:
        today = local_day(self.desk.now()) or date.today()
        said = ", ".join(filter(None, (player.position_words, status_words(player, today))))
        key = TapButton(title=f"{player.number}  {player.name}", small=said, title_size="19sp", wraps=True)
        key.bind(on_press=lambda _: self.dispatch("on_player", player))
        return key
