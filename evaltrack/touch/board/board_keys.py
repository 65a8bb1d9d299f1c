"""The boards from a keyboard: arrows move over tiles and buttons, letters say what happened."""

from kivy.core.window import Window

from evaltrack.device.tablet import BoardKind
from evaltrack.language import mark, tr
from evaltrack.rink.tally import Outcome
from evaltrack.touch.widgets.button import TapButton

_ARROWS = {273: (0, -1), 274: (0, 1), 275: (1, 0), 276: (-1, 0)}  # right, down
_OUTCOMES = {"d": Outcome.DONE, "m": Outcome.MISSED, "u": Outcome.UNSEEN}
_BOARDS = {"1": BoardKind.GROUP, "2": BoardKind.REP, "3": BoardKind.PLAYER}
_ENTER = (13, 271, 32)
_BACKSPACE, _TAB = 8, 9
LETTERS = mark("D is done, M is missed, U is unseen")
_OTHERS = {"ctrl", "alt", "meta"}


class BoardKeys:
    """Turns the keys of a keyboard into what a finger does on a board.

    The arrows move over the board. D, M and U say done, missed and unseen of the tile in focus, Enter takes
    the button in focus; where none is in focus yet, the first of them only shows which one comes to be. One
    thing is in focus at a time: with Tab the frame leaves the board, with an arrow it comes back to it.
    Z and Backspace undo, R does it again. P is pressure, S the next step, K the next skill, N the next rep.
    1, 2 and 3 are the boards.
    """

    def __init__(self, screen):
        self._screen = screen
        self._acts = {
            "z": screen.undo,
            "n": screen.next_rep,
            "r": screen.redo,
            "k": screen.next_skill,
            "s": screen.next_step,
            "p": lambda: screen.desk.watch(pressure=not screen.pressure),
        }

    def listen(self) -> None:
        """Take keys from now on."""
        self.leave()
        Window.bind(on_key_down=self._key)

    def leave(self) -> None:
        """Leave the keyboard alone."""
        Window.unbind(on_key_down=self._key)

    def _key(self, _, key: int, __, ___, modifiers) -> bool:
        if not self._screen.desk.practice or _OTHERS & set(modifiers):
            return False
        letter = chr(key) if 32 < key < 127 else ""
        if key in _ARROWS or letter in _OUTCOMES or (key in _ENTER and not self._focused()):
            self._work_board(key, letter)
        elif key == _TAB:
            self._screen.ids.board.leave_focus()
            return False
        elif letter in _BOARDS:
            self._screen.choose(_BOARDS[letter])
        elif key == _BACKSPACE or letter in self._acts:
            self._acts[letter or "z"]()
        else:
            return False
        return True

    def _work_board(self, key: int, letter: str) -> None:
        board = self._screen.ids.board
        for button in self._focused():
            button.focused = False
        if key in _ARROWS:
            board.move_focus(*_ARROWS[key])
        elif letter in _OUTCOMES:
            board.tally_in_focus(_OUTCOMES[letter])
        elif board.focus and board.focus.tile is not None:
            self._screen.desk.message = tr(LETTERS)
        else:
            board.press_in_focus()

    def _focused(self) -> list[TapButton]:
        """Return the button beside the board that the keyboard is on, if it is on one."""
        buttons = (one for one in self._screen.walk(restrict=True) if isinstance(one, TapButton))
        return [button for button in buttons if button.focused]
