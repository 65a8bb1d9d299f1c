"""The bench: one of three boards, what is watched in words, undo in a corner, and the last tallies."""

from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.rink.days import in_short
from evaltrack.rink.practice import local_day
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.board.board_keys import BoardKeys
from evaltrack.touch.board.group_board import GroupBoard
from evaltrack.touch.board.last_tallies import LastTallies  # noqa: F401  the kv rule names it
from evaltrack.touch.board.since_last import SinceLast  # noqa: F401  the kv rule names it
from evaltrack.touch.board.skill_chips import SkillChips
from evaltrack.touch.board.tally_words import HINTS, in_words
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.widgets.events import EventSource
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_STRIP = 16  # tallies in the strip at most


class BoardScreen(AppScreen):
    """Taps go to a board and from there to the desk; what the desk has written comes back as counts.

    ``kind`` is the board in front: ``group``, ``rep`` or ``player``. ``day`` is that of the practice.
    """

    __events__ = ("on_practice",)
    kind = StringProperty("")
    words = ListProperty(["", ""])
    step = StringProperty("")
    after = StringProperty("")
    pressure = BooleanProperty(False)
    undoes = StringProperty("")
    total = NumericProperty(0)
    shared = BooleanProperty(False)
    seconds = NumericProperty(-1)
    day = StringProperty("")

    def __init__(self, desk: Desk, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._practice = None
        self._boards = {"group": GroupBoard(desk)}
        self._turned: set[str] = set()  # the rows whose sides are exchanged
        self._controls = {"group": self.ids.skills.__self__}
        self.chips = SkillChips(self.ids.skills, lambda key: desk.watch(skill=key))
        self._keys = BoardKeys(self)
        self._clock = None
        self.bind(size=self._fit)
        desk.bind(practice=self._fill, station=self._follow)
        self._fill()

    @property
    def board(self):
        """Return the board in front, made when it is first asked for."""
        if self.kind not in self._boards:
            self._boards[self.kind] = _make_board(self.kind, self.desk)
        return self._boards[self.kind]

    def on_pre_enter(self, *_):
        """Listen to the keyboard and count the seconds while the boards are in front."""
        self._keys.listen()
        self._clock = Clock.schedule_interval(self._tick, 1)
        self._fit()

    def on_pre_leave(self, *_):
        """Leave the keyboard alone."""
        self._keys.leave()
        if self._clock:
            self._clock.cancel()

    def choose(self, kind: str) -> None:
        """Put another board in front."""
        if kind != self.kind and self.desk.practice:
            self.desk.remember(board=kind)
            self.kind = kind
            self._follow()

    def tally(self, place: int, outcome: Outcome) -> None:
        """Commit a tap; the tile changes only when it is on disk."""
        if not self._means_the_same():
            return
        tally, anew = self.board.tally(place, outcome)
        if anew:
            self._show()
        elif tally:
            self.ids.board.update(place, self.board.face(place))
            self.ids.board.ring(place, outcome)
        if tally:
            self._show_last()

    def press(self, index: int) -> None:
        """Take a key of the board."""
        if not self._means_the_same(index):
            return
        self.board.press(index)
        self._show()
        self._show_last()

    def undo(self) -> None:
        """Withdraw the last tally and show it gone."""
        if not self._means_the_same():
            return
        tally = self.desk.undo()
        if tally and tally.rep and self.kind != "rep":
            self._undone_by_rep(tally)
        if tally and self.board.undone(tally):
            self._show()
        elif tally:
            self._show_counts(tally)
        self._show_last()

    def _undone_by_rep(self, tally: Tally) -> None:
        """Let the board by rep, which is not in front, take back the rep that began with a tally."""
        if "rep" not in self._boards:
            self._boards["rep"] = _make_board("rep", self.desk)
            if not self._boards["rep"].take_up():
                del self._boards["rep"]
                return
        self._boards["rep"].undone(tally)

    def next_rep(self) -> None:
        """Begin the next rep, on the board that has reps."""
        if self.kind == "rep" and self._means_the_same():
            self.board.next_rep()
            self._show()

    def back(self) -> None:
        """Take the last change of the rotation back, on the board that has one."""
        if self.kind == "rep" and self._means_the_same():
            self.board.back()
            self._show()
            self._show_last()

    def _means_the_same(self, key: int = -1) -> bool:
        """Make sure that the file is in place, and say whether a finger still means what it came down on.

        A file that had to be opened anew has a board of its own, which may show another rep, and no choice.
        """
        board, before = self.board, self._shown()
        self.desk.in_place()
        if self.board is board:
            return True
        (words, undoes, faces, keys), now = before, self._shown()
        same = (words, undoes, _readings(faces)) == (*now[:2], _readings(now[2]))
        known = _readings(now[3])
        return same and key < len(known) and _readings(keys)[: len(known)] == known

    def _shown(self) -> tuple:
        """Return what stands on the board: words, the last tally, tiles and keys."""
        board = self.ids.board
        return list(self.words), self.undoes, board.faces, board.keys

    def next_skill(self, way: int = 1) -> None:
        """Watch the next skill of the row."""
        if self.kind == "group":
            keys = [skill.key for skill in self.desk.watched_skills()]
            self.desk.watch(skill=keys[(keys.index(self.desk.station.skill) + way) % len(keys)])

    def _fill(self, *_) -> None:
        if self.desk.practice is not self._practice:  # begun, or read again from a file that came back
            self._practice = self.desk.practice
            self._boards = {"group": GroupBoard(self.desk)}
        if self.desk.practice and self.desk.attendance:
            self.kind = self.desk.tablet.board
            self._follow()

    def _follow(self, *_) -> None:
        station, practice = self.desk.station, self.desk.practice
        if not (station and practice and practice is self._practice and self.kind):
            return
        steps = self.desk.drill.steps
        number = [step.key for step in steps].index(station.step) + 1
        self.step = self.desk.step.name
        self.after = f"step {number} of {len(steps)}" if len(steps) > 1 else self.desk.drill.name
        self.pressure = station.pressure
        if not self.board.take_up():  # its rotation cannot be read
            self.kind = "group"
            self.board.take_up()
        self._show_controls()
        self._fit()
        self._show()
        self._show_last()

    def _show(self) -> None:
        board = self.board
        self.words = board.words
        self.ids.last.hint = HINTS[self.kind]
        if self.kind == "rep":
            controls = self._controls["rep"]
            controls.following, controls.can_go_back = board.following, board.can_go_back
        self.ids.board.show(board.faces(), board.keys(), board.lay_out)
        self._ring_last()

    def _show_counts(self, tally: Tally) -> None:
        place = self.board.place_of(tally)
        if place is not None:
            self.ids.board.update(place, self.board.face(place))
        self._ring_last()

    def _ring_last(self) -> None:
        last = self.desk.last(1)
        place = self.board.place_of(last[0]) if last else None
        self.ids.board.ring(place, *(tally.outcome for tally in last))

    def _show_last(self) -> None:
        last = self.desk.last(_STRIP)
        self.ids.last.tallies = [(self.desk.player(t.player).number, t.outcome, t.pressure) for t in last]
        self.total, self.shared = self.desk.total, self.desk.others > 0
        self.undoes = self._in_words(last[0]) if last else ""
        self._tick()

    def _show_day(self) -> None:
        practice, today = self.desk.practice, local_day(self.desk.now())
        short = in_short(practice.held_on, today or practice.held_on) if practice else ""
        self.day = short.replace(", ", "\n")  # two lines of a narrow key

    def _tick(self, *_) -> None:
        self._show_day()
        last = self.desk.last(1)
        self.seconds = max(0, (self.desk.now() - last[0].at) // 1000) if last else -1

    def _in_words(self, tally: Tally) -> str:
        plain = self.kind == "group" and tally.skill == self.desk.station.skill
        skill = "" if plain else self.desk.skills[tally.skill].name
        return in_words(tally, self.desk.player(tally.player).number, skill)

    def _show_controls(self) -> None:
        """Put into the head what the board in front needs there."""
        if self.kind == "rep" and "rep" not in self._controls:
            controls = self._controls["rep"] = RepControls()
            controls.bind(on_next=lambda _: self.next_rep(), on_back=lambda _: self.back())
        wanted = [self._controls[kind] for kind in self._controls if kind == self.kind]
        if self.ids.middle.children != wanted:
            self.ids.middle.clear_widgets()
            for controls in wanted:
                self.ids.middle.add_widget(controls)

    def _fit(self, *_) -> None:
        """Put the controls on the side of the hand that taps, and as many skills in a row as fit."""
        if self.width <= 100:  # a screen is 100 pixels wide before it is laid out
            return
        wide = self.landscape
        if self.desk.station and self.kind == "group":
            self.chips.show(self.desk.watched_skills(), self.desk.station.skill, wide)
        left = self.desk.tablet.hand == "left"
        for name, turned in (("controls", left), ("foot", left), ("head", left and wide)):
            if turned != (name in self._turned):
                self._turned ^= {name}
                _mirror(self.ids[name])


class RepControls(EventSource, BoxLayout):
    """The keys for the next rep, with the numbers of who comes in, and for taking a change back."""

    __events__ = ("on_next", "on_back")
    following = StringProperty("")
    can_go_back = BooleanProperty(False)


def _readings(faces) -> list[tuple]:
    """Return the words on tiles or keys: not their counts, nor which of them is chosen."""
    words = ("number", "name", "title", "caption", "small")
    return [tuple(getattr(face, name, "") for name in words) for face in faces]


def _mirror(row) -> None:
    children = row.children[:]
    row.clear_widgets()
    for child in children:
        row.add_widget(child)


def _make_board(kind: str, desk: Desk):
    if kind == "rep":
        from evaltrack.touch.board.rep_board import RepBoard

        return RepBoard(desk)
    from evaltrack.touch.board.player_board import PlayerBoard

    return PlayerBoard(desk)
