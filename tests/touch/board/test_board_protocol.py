"""The boards are written to one protocol, and the screen knows nothing else of them."""

import inspect

import pytest

from evaltrack.device.tablet import BoardKind, Tablet, keep_tablet, load_tablet
from evaltrack.touch.board.boards import Board, Boards, RotatingBoard
from evaltrack.touch.desk.desk import Desk


def _asked_of(protocol):
    return {
        name: member
        for base in protocol.__mro__[:-1]
        for name, member in vars(base).items()
        if not name.startswith("_") and (inspect.isfunction(member) or isinstance(member, property))
    }


@pytest.mark.parametrize("kind", BoardKind)
def test_each_board_has_what_the_screen_asks_of_it(kind):
    """Every method takes and gives what the protocol says, and every property is one."""
    made = type(Boards(Desk())[kind])
    asked = _asked_of(RotatingBoard if kind is BoardKind.REP else Board)
    assert len(asked) >= 10
    for name, member in asked.items():
        own = inspect.getattr_static(made, name)
        assert type(own) is type(member), name
        if inspect.isfunction(member):
            assert inspect.signature(own) == inspect.signature(member), name


def test_a_board_is_made_once():
    """What a board has chosen stays while another one is in front."""
    boards = Boards(Desk())
    assert all(boards[kind] is boards[kind] for kind in BoardKind)
    assert len({type(boards[kind]) for kind in BoardKind}) == len(BoardKind)


@pytest.mark.parametrize("kind", BoardKind)
def test_each_kind_is_a_setting_that_lasts(kind):
    """The tablet takes every kind as the board in front, and has it again at the next start."""
    keep_tablet(load_tablet(), board=kind.value)
    assert BoardKind(load_tablet().board) is kind


def test_a_fresh_tablet_begins_with_a_kind_that_there_is():
    """The setting's own default is one of the boards."""
    assert BoardKind(Tablet().board) is BoardKind.GROUP
