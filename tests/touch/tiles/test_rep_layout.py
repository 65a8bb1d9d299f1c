"""Where the slots of a rep stand: every shipped step, both ways up, and any other. Plain numbers."""

import pytest
from finger_spread import UPRIGHT, WIDE, mean_landing
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.board_grid import Rect, tab_of
from evaltrack.touch.tiles.placement import stacked
from evaltrack.touch.tiles.rep_layout import buttons_under, rep_rows, with_choice
from evaltrack.touch.widgets.bars import FOOT, board_size

DRILLS = read_drills(sample_roster() / "drills.toml", read_skills(sample_roster() / "skills.toml"))
STEPS = {f"{drill.key}-{step.key}": step for drill in DRILLS for step in drill.steps}
counts = st.lists(st.integers(0, 3), min_size=1, max_size=8)


def area_of(window) -> Rect:
    """Return the area of the board in a window."""
    return Rect(0, FOOT, *board_size(*window[:2], 1))


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
@pytest.mark.parametrize("name", STEPS)
def test_every_shipped_step_has_halves_for_a_glove(name, window):
    """On ten inches each half is 19 mm a side clear of its tab; at 4 mm spread at most 1 % stray.

    Seven slots of two or three skills are more than a bench can watch; there it may be 1.3 %.
    """
    slots, mm = [len(slot.skills) for slot in STEPS[name].slots], window[2]
    board = stacked(area_of(window), rep_rows(slots, len(slots), area_of(window)))
    for tile in board.tiles.values():
        assert tile.width / 2 * mm >= 19
        assert (tile.height - tab_of(tile).height) * mm >= 19
    assert min(plate.width * mm for plate in board.buttons.values()) >= 13
    assert mean_landing(board, board.tiles, 4 / mm).wrong <= (0.01 if len(board.tiles) < 18 else 0.013)


@given(slots=counts, starters=st.integers(0, 6), window=st.sampled_from([WIDE, UPRIGHT]))
def test_every_slot_has_its_plate_and_its_tiles(slots, starters, window):
    """Whatever the step, each slot has one plate, its tiles beside it in a row, and those who come fit."""
    board = stacked(area_of(window), rep_rows(slots, starters, area_of(window)))
    following = len(board.tiles) - sum(slots)
    assert 0 <= following <= starters
    assert set(board.buttons) == set(range(len(slots) + bool(following)))
    assert set(board.tiles) == set(range(sum(slots) + following))
    place = 0
    for slot, tiles in enumerate(slots):
        plate = board.buttons[slot]
        for nth in range(tiles):
            tile = board.tiles[place + nth]
            assert (tile.y, tile.height) == (plate.y, plate.height)
            assert tile.x >= plate.right - 1e-6
        place += tiles


@given(slots=counts, keys=st.integers(2, 24), window=st.sampled_from([WIDE, UPRIGHT]))
def test_a_choice_moves_nothing_that_stays(slots, keys, window):
    """The keys of who could be in a slot take the lowest rows; every tile above is where it was."""
    base = stacked(area_of(window), rep_rows(slots, len(slots), area_of(window)))
    choosing = with_choice(base, keys, len(slots) + 1)
    assert {place: base.tiles[place] for place in choosing.tiles} == choosing.tiles
    offered = [choosing.buttons[len(slots) + 1 + i] for i in range(keys)]
    assert min(key.width for key in offered) * window[2] >= 17
    assert min(key.height for key in offered) * window[2] >= 11
    cells = [cell.rect for row in choosing.rows for cell in row]
    assert sum(c.width * c.height for c in cells) == pytest.approx(base.area.width * base.area.height)


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
def test_twenty_players_have_keys_for_a_finger(window):
    """The keys of twenty players are at least 11 mm high and 19 mm wide."""
    rows = buttons_under(20, 0, area_of(window))
    columns = max(len(parts) for _, parts in rows)
    width, height = area_of(window).width, area_of(window).height
    assert width / columns * window[2] >= 19
    assert min(share for share, _ in rows) * height * window[2] >= 11
