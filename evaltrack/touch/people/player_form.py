"""The form for one player: number, name, position, status; every complaint beside its line."""

from datetime import date, timedelta
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, OptionProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.language import mark, tr
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import local_day
from evaltrack.rink.roster_change import RosterChange
from evaltrack.touch.people.player_draft import MOST_DIGITS, PlayerDraft
from evaltrack.touch.widgets.field import Field  # noqa: F401  the kv rule names it
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.words.roster import history_lines


class FormLine(BoxLayout):
    """A line of the form: its title, what is wrong with it, and what one chooses in it."""

    title = StringProperty("")
    says = StringProperty("")
    wrong = BooleanProperty(False)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_YEAR_DIGITS = 4
_MOST_LINES = 4  # of what was changed, the last ones
_SAID = {
    "number": mark("The history stays with the player; old practices keep the number of their day."),
    "name": "",
    "position": mark("Which skills are watched, and in which line of a drill the player waits."),
}
_BOTH = {
    Position.DEFENCE: mark(
        "Skills of both are watched; in a drill the shorter line. "
        "A share goes by the steps that defenders get."
    ),
    Position.FORWARD: mark(
        "Skills of both are watched; in a drill the shorter line. "
        "A share goes by the steps that forwards get."
    ),
}
_ALSO = {Position.DEFENCE: mark("Also defender"), Position.FORWARD: mark("Also forward")}
_BORN = mark("The year of birth, or nothing: no more than the year is kept.")
_STATUS_WORDS = {
    Status.FULL: mark("Everything."),
    Status.LIMITED: mark("No contact. It is said when a practice starts."),
    Status.AWAY: mark("Not expected at practices. With a day, back on that day."),
    Status.LEFT: mark("Gone from boards, coverage and notes. What was tallied stays, the number is free."),
}


class PlayerForm(AppScreen):
    """A player as they are, or a new one, to be changed.

    Nothing is saved before Save, and that only while no line has a complaint; ``on_done`` comes after it.
    ``other`` says that a skater has the other group too, and ``both`` whether that is so.
    ``wrong`` names the lines that have one. ``typing`` says what the keys of digits write: the number or the
    year of birth. ``open_end`` says that no day of coming back is named.
    ``history`` has what was changed of the player so far.
    """

    __events__ = ("on_back", "on_done", "on_kept")
    heading = StringProperty("")
    number = StringProperty("")
    position = StringProperty("")
    other = StringProperty("")
    both = BooleanProperty(False)
    status = StringProperty("")
    number_words = StringProperty("")
    name_words = StringProperty("")
    position_words = StringProperty("")
    status_words = StringProperty("")
    wrong = ListProperty()
    swap_words = StringProperty("")
    swaps = BooleanProperty(False)
    born = StringProperty("")
    typing = OptionProperty("number", options=["number", "birth_year"])
    until = StringProperty("")
    open_end = BooleanProperty(True)
    away = BooleanProperty(False)
    history = StringProperty("")
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
        self.new, self.typing = player is None, "number"
        self.history = "\n".join(history_lines(self._changes(player))[-_MOST_LINES:])
        self.heading = tr("A new player") if self.new else f"{player.number}  {player.name}"
        self.ids.name.text = self._draft.name
        self._show()

    def _changes(self, player: Player | None) -> list[RosterChange]:
        found: list[RosterChange] = []
        if player and self.desk.season:
            self.desk.told(lambda: found.extend(self.desk.season.people.changes()))
        return [change for change in found if player and change.player == player.id]

    def type_in(self, field: str) -> None:
        """Let the keys of digits write the number, or the year of birth."""
        self.typing, self._fresh = field, True
        self._show()

    def digit(self, digit: str) -> None:
        """Take a digit of what is typed."""
        self._type(("" if self._fresh else getattr(self._draft, self.typing)) + digit)

    def erase(self) -> None:
        """Take the last digit back."""
        self._type(getattr(self._draft, self.typing)[:-1])

    def _type(self, digits: str) -> None:
        self._fresh = False
        if self.typing == "number":
            self._set(number=digits[:MOST_DIGITS], swaps=False)
        else:
            self._set(birth_year=digits[:_YEAR_DIGITS])

    def write_name(self, name: str) -> None:
        """Take the name as it is typed."""
        self._set(name=name)

    def choose_position(self, letter: str) -> None:
        """Take a position group, of two the first."""
        self._set(position=Position(letter))

    def choose_both(self) -> None:
        """Let a skater play in the other group too, or not any more."""
        self._set(both=not self._draft.both)

    def choose_status(self, word: str) -> None:
        """Take a status; ``left`` too."""
        self._set(status=Status(word), swaps=False)

    def move_until(self, days: int) -> None:
        """Expect a player who is away so many days later; the first time from today on. Never before it."""
        today = local_day(self.desk.now()) or date.today()
        until = (self._draft.away_until or today) + timedelta(days)
        self._set(away_until=max(until, today + timedelta(1)))

    def no_day(self) -> None:
        """Let it be open until when a player is away."""
        self._set(away_until=None)

    def swap(self) -> None:
        """Let whoever wears the number take this player's in return, or not."""
        self._set(swaps=not self._draft.swaps)

    def on_kept(self, player: Player) -> None:
        """Leave it to whoever listens."""

    def show_kept(self) -> None:
        """Ask for what is kept of the player."""
        self.dispatch("on_kept", self._draft.player)

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
        self.other = tr(_ALSO[draft.other]) if draft.other else ""
        self.both = draft.both and bool(draft.other)
        self.status, self.status_words = draft.status, tr(_STATUS_WORDS[draft.status])
        self.number_words, self.name_words, self.position_words = (
            wrong.get(f) or tr(_SAID[f]) for f in _SAID
        )
        if self.both:
            self.position_words = tr(_BOTH[draft.position])
        self.born = draft.birth_year
        if self.typing == "birth_year" or "birth_year" in wrong:
            self.number_words = wrong.get("number") or wrong.get("birth_year") or tr(_BORN)
        self.away = draft.status is Status.AWAY
        self.open_end = draft.away_until is None
        self.until = in_full(draft.away_until) if draft.away_until else tr("no day named")
        self.wrong = list(wrong)
        self.swaps = draft.swaps
        self.swap_words = _swap_words(draft) if draft.can_swap else ""
        self.ready = not wrong


def _swap_words(draft: PlayerDraft) -> str:
    return tr("{name} takes {number}", name=draft.wearer.name, number=draft.player.number)
