"""An observer who taps a drill on the real board: two fingers at times, unsteady ones, mistakes put right.

What a finger says is read off the screen, from the number, the skill and the part of the tile under it. The
tallies in the season file have to be those, each once and in order, less what was taken back.
"""

import random
import re
from collections import Counter
from dataclasses import dataclass, field

from continuous_drill import Try
from driver import Driver, Finger
from finger_spread import WIDE, landing

from evaltrack.rink.board_grid import aim_of, half_of, tab_of
from evaltrack.rink.tally import Outcome
from evaltrack.touch.widgets.button import TapButton

_TITLES = {"group": "Group", "rep": "By rep", "player": "Player"}
_NOTICED = 0.9  # of what went wrong
_GIVEN = re.compile(
    r"the (?:(\d+) tallies|tally) made for (\d+) in this rep (?:is|are) (?:now|again) (\d+)'s"
)

Said = tuple[str, str, Outcome]


@dataclass
class Account:
    """What an observer did: where his first touches landed, the others, and what the screen said of each."""

    tries: int = 0
    others: int = 0  # touches that were no try: undo, another rep, another player, once more
    landed: Counter = field(default_factory=Counter)
    computed: Counter = field(default_factory=Counter)
    said: list[Said] = field(default_factory=list)
    undone: int = 0
    corrected: int = 0  # slots into which he put the right player
    given: int = 0  # tallies that became another player's by that

    @property
    def touches(self) -> int:
        """Return how often a finger touched the glass."""
        return self.tries + self.others


class Observer:
    """Taps tries on a board. ``spread`` is the standard deviation of his fingers in mm, ``slips`` how often
    he means the other half."""

    def __init__(self, driver: Driver, kind: str, chance: random.Random, spread: float, slips: float):
        self._driver, self._kind, self._chance = driver, kind, chance
        self._spread, self._slips = spread / WIDE[2], slips
        self._desk = driver.app.desk
        self._screen = driver.app.screens.get_screen("board")
        self._board = self._screen.ids.board
        self._names = {skill.name: skill.key for skill in self._desk.skills.values()}
        self._watched = self._desk.station
        self._heard = ""
        self.account = Account()

    def see(self, *tries: Try) -> None:
        """Tap a try, or two at once with two fingers, and put right what he notices went wrong."""
        fingers, wrong = [], []
        for meant in tries:
            place = self._find(meant)
            outcome = self._slip(meant.outcome)
            spot = self._aim(place, outcome)
            said = self._said_at(*spot)
            self._note(meant, place, outcome, spot, said)
            fingers.append(self._down(spot, said))
            if said != (meant.number, meant.skill, meant.outcome):
                wrong.append((meant, said))
        self._up(fingers)
        # the last one first: only what was tallied last can be taken back
        for meant, said in wrong[::-1]:
            if self._chance.random() < _NOTICED:
                self._put_right(meant, said)

    # the finger

    def _slip(self, outcome: Outcome) -> Outcome:
        other = {Outcome.DONE: Outcome.MISSED, Outcome.MISSED: Outcome.DONE}
        return other.get(outcome, outcome) if self._chance.random() < self._slips else outcome

    def _aim(self, place: int, outcome: Outcome) -> tuple[float, float]:
        x, y = aim_of(self._board.layout.tile(place), outcome)
        return self._chance.gauss(x, self._spread), self._chance.gauss(y, self._spread)

    def _down(self, spot: tuple[float, float], said: Said | None) -> Finger:
        if said:
            self.account.said.append(said)
        elif self._key("Undo").collide_point(*spot) and self.account.said:
            self.account.said.pop()
        finger = Finger(*spot).down()
        self._driver.frames(1)
        self._hear()
        return finger

    def _hear(self) -> None:
        """Follow the bar when it says that tries of a slot that was put right are another player's."""
        before, heard = list(self.account.said), self._heard
        self._heard = self._desk.message
        for count, wrong, right in _GIVEN.findall(self._heard) if self._heard != heard else ():
            made = [i for i, said in enumerate(before) if said[0] == wrong]
            for i in made[-int(count or 1) :]:
                self.account.said[i] = right, *before[i][1:]
                self.account.given += 1

    def _up(self, fingers: list[Finger]) -> None:
        for finger in fingers:
            finger.up()
        self._driver.settle()

    # what stands on the screen

    def _on(self, place: int) -> tuple[str, str, bool]:
        """Return number and skill as they stand on and beside a tile, and whether it is of the next rep."""
        face = self._board.faces[place]
        if self._screen.kind == "group":
            return face.number, self._names[self._screen.words[0]], False
        if self._screen.kind == "player":
            return self._screen.words[0].split()[0], self._names[face.name], False
        if face.number:
            return face.number, self._names[face.caption], True
        tile, keys = self._board.layout.tile(place), self._board.layout.buttons.items()
        plates = [
            (k.x, self._board.buttons[i].number) for i, k in keys if abs(k.y - tile.y) < 1 and k.x < tile.x
        ]
        return max(plates)[1], self._names[face.name], False

    def _tiles(self) -> list[int]:
        faces = self._board.faces
        return [i for i in self._board.layout.tiles if i < len(faces) and faces[i] and faces[i].here]

    def _said_at(self, x: float, y: float) -> Said | None:
        """Return what a finger at a point says by what is drawn there; None where nothing is tallied."""
        for place in self._tiles():
            tile = self._board.layout.tile(place)
            if tile.holds(x, y):
                halves = (Outcome.DONE, Outcome.MISSED)
                part = next(part for part in halves if half_of(tile, part).holds(x, y))
                return *self._on(place)[:2], Outcome.UNSEEN if tab_of(tile).holds(x, y) else part
        return None

    def _key(self, title: str) -> TapButton:
        return next(w for w in self._screen.walk() if isinstance(w, TapButton) and w.title == title)

    # finding the tile of a try

    def _find(self, meant: Try) -> int:
        for steer in (self._to_the_board, self._to_the_rep, self._to_the_player):
            steer(meant)
        following = meant.begins and meant.rep > 1
        found = [i for i in self._tiles() if self._on(i) == (meant.number, meant.skill, following)]
        return found[0] if found else self._correct(meant)

    def _to_the_board(self, _: Try) -> None:
        """Put right what a stray finger did in the head or the foot: another screen, board, skill or step."""
        if self._driver.app.screens.current != "board":
            self._driver.app.go("board")
            self.account.others += 1
        if self._screen.kind != self._kind:
            self._press(self._key(_TITLES[self._kind]))
        at = self._desk.station
        if (at.step, at.skill, at.pressure) != (
            self._watched.step,
            self._watched.skill,
            self._watched.pressure,
        ):
            self._desk.watch(
                step=self._watched.step, skill=self._watched.skill, pressure=self._watched.pressure
            )
            self.account.others += 1
            self._driver.settle()

    def _to_the_rep(self, meant: Try) -> None:
        """Leave a choice of players that a stray finger opened, and go to the rep on the ice."""
        if self._kind != "rep":
            return
        if any(key.title == "leave it" for key in self._board.buttons):
            self._press_on_board("leave it")
        wanted = meant.rep - (meant.begins and meant.rep > 1)
        while (shown := int(self._screen.words[0].split()[1])) != wanted:
            if shown > wanted:
                self._undo()
            else:
                self._press(self._key("Next rep"))

    def _undo(self) -> None:
        """Go back one act; where that is a tally, it is gone."""
        before = self._desk.total
        self._press(self._key("Undo"))
        if self._desk.total < before:
            self.account.said.pop()
            self.account.undone += 1

    def _to_the_player(self, meant: Try) -> None:
        if self._kind == "player" and self._screen.words[0].split()[0] != meant.number:
            self._press_on_board(meant.number)

    def _correct(self, meant: Try) -> int:
        """Put the right player into his slot: two taps, after the one that begins the rep."""
        if meant.begins and meant.rep > 1:
            self._press(self._key("Next rep"))
        found = [i for i in self._tiles() if self._on(i) == (meant.number, meant.skill, False)]
        if not found:
            self.account.corrected += 1
            self._press_on_board(meant.slot)
            self._press_on_board(meant.number)
            found = [i for i in self._tiles() if self._on(i) == (meant.number, meant.skill, False)]
        return found[0]

    def _press(self, key: TapButton) -> None:
        self._driver.tap(key)
        self._driver.settle()
        self._hear()
        self.account.others += 1

    def _press_on_board(self, words: str) -> None:
        """Tap the key of the board that carries these words; a player's, among those to choose from."""
        keys = self._board.layout.buttons
        index = max(
            i
            for i in keys
            if words
            in (self._board.buttons[i].title, self._board.buttons[i].number, self._board.buttons[i].small)
        )
        rect = keys[index]
        self._driver.tap((rect.x + rect.width / 2, rect.y + rect.height / 2))
        self._driver.settle()
        self._hear()
        self.account.others += 1

    # the account

    def _note(self, meant: Try, place: int, outcome: Outcome, spot, said: Said | None) -> None:
        self.account.tries += 1
        if outcome is Outcome.UNSEEN:
            return
        layout = self._board.layout
        expected = landing(layout, place, outcome, self._spread)
        self.account.computed.update(right=expected.right, wrong=expected.wrong)
        self.account.computed["not counted"] += expected.tab + expected.elsewhere
        right = said == (meant.number, meant.skill, outcome)
        lost = said is None or tab_of(layout.tile(place)).holds(*spot)
        self.account.landed["right" if right else "not counted" if lost else "wrong"] += 1

    def _put_right(self, meant: Try, said: Said | None) -> None:
        """Take back what was said wrongly, if it is still the last, and tap once more with care."""
        if said and self.account.said[-1:] == [said]:
            self._undo()
        place = self._find(meant)
        spot = aim_of(self._board.layout.tile(place), meant.outcome)
        self._up([self._down(spot, self._said_at(*spot))])
        self.account.others += 1
