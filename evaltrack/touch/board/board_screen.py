"""The bench: one of three boards, what is watched in words, undo in a corner, and the last tallies."""

from pathlib import Path

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty

from evaltrack.device.tablet import BoardKind
from evaltrack.rink.days import in_short
from evaltrack.rink.practice import local_day
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.board.board_controls import BoardControls
from evaltrack.touch.board.board_keys import BoardKeys
from evaltrack.touch.board.boards import Board, Boards, RotatingBoard
from evaltrack.touch.board.hints import hint_for
from evaltrack.touch.board.last_tallies import LastTallies  # noqa: F401  the kv rule names it
from evaltrack.touch.board.shown_board import ShownBoard
from evaltrack.touch.board.since_last import SinceLast  # noqa: F401  the kv rule names it
from evaltrack.touch.board.taking_back import TakingBack
from evaltrack.touch.board.tally_words import in_words, nth_step
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.undone import Act
from evaltrack.touch.widgets.screen import AppScreen

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_STRIP = 16  # tallies in the strip at most
_LATER = 0.5  # seconds after the board is in front


class BoardScreen(AppScreen):
    """Taps go to a board and from there to the desk; what the desk has written comes back as counts.

    ``kind`` is the board in front, empty before the first practice. ``day`` is that of the practice.
    ``asks_first`` says that the key of the last step asks whether to go back to the first one.
    """

    __events__ = ("on_practice",)
    takes_arrows = True
    kind = StringProperty("")
    words = ListProperty(["", ""])
    question = ListProperty()
    step = StringProperty("")
    after = StringProperty("")
    asks_first = BooleanProperty(False)
    pressure = BooleanProperty(False)
    undoes = StringProperty("")
    redoes = StringProperty("")
    total = NumericProperty(0)
    shared = BooleanProperty(False)
    seconds = NumericProperty(-1)
    day = StringProperty("")

    def __init__(self, desk: Desk, **kwargs):
        super().__init__(desk=desk, **kwargs)
        self._practice = None
        self._use(Boards(desk))
        self._controls = BoardControls(desk, self.ids, self.next_rep)
        self._keys = BoardKeys(self)
        self._clock = None
        self.bind(size=self._fit)
        desk.bind(practice=self._fill, station=self._follow, plan=self._follow, on_counted=self._show_others)
        self._fill()

    @property
    def board(self) -> Board:
        """Return the board in front, made when it is first asked for."""
        return self._boards[self.kind]

    @property
    def _rotating(self) -> RotatingBoard | None:
        """Return the board in front where reps follow one another on it."""
        return self.board if self.kind == BoardKind.REP else None

    def on_pre_enter(self, *_):
        """Listen to the keyboard and count the seconds while the boards are in front."""
        self._keys.listen()
        self._clock = Clock.schedule_interval(self._tick, 1)
        Clock.schedule_once(lambda _: self.desk.read_plan(), _LATER)  # nobody waits for its marks
        self._fit()

    def on_pre_leave(self, *_):
        """Leave the keyboard alone."""
        self._keys.leave()
        self.asks_first = False
        if self._clock:
            self._clock.cancel()

    def choose(self, kind: str) -> None:
        """Put another board in front."""
        if kind != self.kind and self.desk.practice:
            self.asks_first = False
            self.kind = BoardKind(kind)
            self.desk.remember(board=self.kind.value)  # settings are plain text
            self._follow()

    def tally(self, place: int, outcome: Outcome) -> None:
        """Commit a tap; the tile changes only when it is on disk."""
        if not self._means_the_same():
            return
        tally, more = self.board.tally(place, outcome)
        if more:
            self._show()
        elif tally:
            self.ids.board.update(place, self.board.face(place))
            self.ids.board.ring(place, outcome)
        if tally:
            self._show_last()

    def press(self, index: int) -> None:
        """Take a button of the board."""
        if not self._means_the_same(index):
            return
        self.board.press(index)
        self._show()
        self._show_last()

    def undo(self) -> None:
        """Take the last act back and show it gone."""
        if self._means_the_same():
            self._show_change(*self._taking_back.undo(self.kind))

    def redo(self) -> None:
        """Bring back what was undone last."""
        if self.redoes and self._means_the_same():
            self._show_change(*self._taking_back.redo(self.kind))

    def _show_change(self, tally: Tally | None, more: bool) -> None:
        if more:
            self._show()
        elif tally:
            self._show_counts(tally)
        self._show_last()

    def next_rep(self) -> None:
        """Begin the next rep, on the board that has reps."""
        if self._rotating and self._means_the_same():
            self._rotating.next_rep()
            self._show_change(None, True)

    def _means_the_same(self, button: int = -1) -> bool:
        """Make sure that the file is in place, and say whether a finger still means what it came down on.

        A file that had to be opened again has a board of its own, which may show another rep, and no choice.
        """
        board, before = self.board, self._shown()
        self.asks_first = False  # whoever goes on tallying has not meant the first step
        self.desk.in_place()
        return self.board is board or before.means(self._shown(), button)

    def _shown(self) -> ShownBoard:
        board = self.ids.board
        return ShownBoard(tuple(self.words), self.undoes, board.faces, board.buttons)

    def next_step(self) -> None:
        """Go on to the next step. Behind the last one ask first, and go back to the first when told again."""
        several = len(self.desk.drill.steps) > 1
        if several and not (self.desk.next_step() or self.asks_first):
            self.asks_first = True
        elif self.asks_first:
            self.desk.first_step()

    def next_skill(self) -> None:
        """Watch the next skill of the row."""
        if self.kind == BoardKind.GROUP:
            keys = [skill.key for skill in self.desk.watched_skills()]
            self.desk.watch(skill=keys[(keys.index(self.desk.station.skill) + 1) % len(keys)])

    def _fill(self, *_) -> None:
        if self.desk.practice is not self._practice:  # begun, or read again from a file that came back
            self._practice = self.desk.practice
            self._use(Boards(self.desk))
        if self.desk.practice and self.desk.attendance:
            self.kind = BoardKind(self.desk.tablet.board)
            self._follow()

    def _use(self, boards: Boards) -> None:
        self._boards, self._taking_back = boards, TakingBack(self.desk, boards)

    def _follow(self, *_) -> None:
        station, practice = self.desk.station, self.desk.practice
        if not (station and practice and practice is self._practice and self.kind):
            return
        steps = self.desk.drill.steps
        number = [step.key for step in steps].index(station.step) + 1
        self.step = self.desk.step.name
        self.after = nth_step(number, len(steps)) or self.desk.drill.name
        self.asks_first = False
        self.pressure = station.pressure
        if not self.board.take_up():  # its rotation cannot be read
            self.kind = BoardKind.GROUP
            self.board.take_up()
        self._controls.show(self.kind)
        self._fit()
        self._show()
        self._show_last()

    def _show(self) -> None:
        board = self.board
        self.words = board.words
        self.question = self._rotating.question if self._rotating else ()
        if rotating := self._rotating:
            self._controls.follow(rotating)
        self.ids.board.show(board.faces(), board.buttons(), board.lay_out)
        self._ring_last()

    def _show_others(self, *_) -> None:
        if self.desk.practice is self._practice and self.kind:
            self._show()
            self._show_last()

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
        self.ids.last.hint = hint_for(self.kind, {*self.desk.tablet.acts, *(tally.outcome for tally in last)})
        self.total, self.shared = self.desk.total, self.desk.others > 0
        acts = self._taking_back.would_undo(self.kind), self._taking_back.would_redo(self.kind)
        self.undoes, self.redoes = self._in_words(acts[0]), self._in_words(acts[1], brief=True)
        self._tick()

    def _show_day(self) -> None:
        practice, today = self.desk.practice, local_day(self.desk.now())
        short = in_short(practice.held_on, today or practice.held_on) if practice else ""
        self.day = short.replace(", ", "\n")  # two lines of a narrow button

    def _tick(self, *_) -> None:
        self._show_day()
        last = self.desk.last(1)
        self.seconds = max(0, (self.desk.now() - last[0].at) // 1000) if last else -1

    def _in_words(self, act: Act | None, brief: bool = False) -> str:
        if act is None:
            return ""
        if act.tally is None:
            return self.board.in_words(act)
        tally = act.tally
        plain = self.kind == BoardKind.GROUP and tally.skill == self.desk.station.skill
        skill = "" if plain or (brief and not self.landscape) else self.desk.skill(tally.skill).name
        name = "" if brief else self.board.name(tally.player)
        return in_words(tally, self.desk.player(tally.player).number, skill, name)

    def _fit(self, *_) -> None:
        if self.width > 100:  # a screen is 100 pixels wide before it is laid out
            self._controls.fit(self.kind, self.landscape)
