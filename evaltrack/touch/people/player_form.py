"""The form for one player: number, name, position, status; every complaint beside its line."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.rink.player import Player, Position, Status
from evaltrack.touch.people.player_draft import MOST_DIGITS, PlayerDraft
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen


class FormLine(BoxLayout):
    """A line of the form: its title, what is wrong with it, and what one chooses in it."""

    title = StringProperty("")
    says = StringProperty("")
    wrong = BooleanProperty(False)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_SAID = {
    "number": "The history stays with the player; old practices keep the number of their day.",
    "name": "",
    "position": "Which skills are watched, and in which line of a drill the player waits.",
}
_STATUS_WORDS = {
    Status.FULL: "Everything.",
    Status.LIMITED: "No contact. It is said when a practice starts.",
    Status.AWAY: "Not here for a while; not asked for when a practice starts.",
    Status.LEFT: "Gone from boards, coverage and notes. What was tallied stays, the number is free.",
}


class PlayerForm(AppScreen):
    """A player as they are, or a new one, to be changed.

    Nothing is saved before Save, and that only while no line has a complaint; ``on_done`` comes after it.
    ``wrong`` names the lines that have one.
    """

    __events__ = ("on_back", "on_done")
    heading = StringProperty("")
    number = StringProperty("")
    position = StringProperty("")
    status = StringProperty("")
    number_words = StringProperty("")
    name_words = StringProperty("")
    position_words = StringProperty("")
    status_words = StringProperty("")
    wrong = ListProperty()
    swap_words = StringProperty("")
    swaps = BooleanProperty(False)
    new = BooleanProperty(True)
    ready = BooleanProperty(False)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.open(None)

    def open(self, player: Player | None) -> None:
        """Show a player as they are, or an empty form for a new one."""
        self.desk.message = ""
        self._draft = PlayerDraft.of(player, self.desk.everyone)
        self._fresh = True  # the first digit replaces the number that stands there
        self.new = player is None
        self.heading = "A new player" if self.new else f"{player.number}  {player.name}"
        self.ids.name.text = self._draft.name
        self._show()

    def digit(self, digit: str) -> None:
        """Take a digit of the number."""
        before = "" if self._fresh else self._draft.number
        self._fresh = False
        self._set(number=(before + digit)[:MOST_DIGITS], swaps=False)

    def erase(self) -> None:
        """Take the last digit back."""
        self._fresh = False
        self._set(number=self._draft.number[:-1], swaps=False)

    def write_name(self, name: str) -> None:
        """Take the name as it is typed."""
        self._set(name=name)

    def choose_position(self, letter: str) -> None:
        """Take a position group."""
        self._set(position=Position(letter))

    def choose_status(self, word: str) -> None:
        """Take a status; ``left`` too."""
        self._set(status=Status(word), swaps=False)

    def swap(self) -> None:
        """Let whoever wears the number take this player's in return, or not."""
        self._set(swaps=not self._draft.swaps)

    def save(self) -> None:
        """Save what stands there, all of it or nothing, and say that it is done."""
        if self._draft.complaints():
            return
        changed = self._draft.result()
        if not changed or self.desk.change_roster(changed):
            self.dispatch("on_done")

    def _set(self, **values) -> None:
        for name, value in values.items():
            setattr(self._draft, name, value)
        self._show()

    def _show(self) -> None:
        draft = self._draft
        wrong = draft.complaints()
        self.number, self.position = draft.number, draft.position or ""
        self.status, self.status_words = draft.status, _STATUS_WORDS[draft.status]
        self.number_words, self.name_words, self.position_words = (wrong.get(f, _SAID[f]) for f in _SAID)
        self.wrong = list(wrong)
        self.swaps = draft.swaps
        self.swap_words = f"{draft.wearer.name} takes {draft.player.number}" if draft.can_swap else ""
        self.ready = not wrong
