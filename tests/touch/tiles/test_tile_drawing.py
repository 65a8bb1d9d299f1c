"""Where the words of tiles and keys are drawn: none through a ring, none out of its key."""

import pytest
from finger_spread import UPRIGHT, WIDE
from kivy.graphics import InstructionGroup, Line, Rectangle
from kivy.metrics import dp
from on_boards import board_of, both_ways_up, tap
from pressing import press
from test_rep_layout import STEPS, area_of

from evaltrack.rink.board_grid import Rect
from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.tally_words import LEFT_EMPTY
from evaltrack.touch.tiles import tile_drawing
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.marks import MARKS
from evaltrack.touch.tiles.placement import stacked
from evaltrack.touch.tiles.rep_layout import rep_rows, with_choice
from evaltrack.touch.tiles.tile_drawing import GAP, draw_button
from evaltrack.touch.widgets import fonts, glyphs
from evaltrack.touch.widgets.glyphs import texture

_BLANK = 0.21  # of a line's height, below letters that do not hang down


def parts(group, kind) -> list:
    """Return the instructions of a kind."""
    return [part for part in group.children if isinstance(part, kind)]


def words(group) -> list:
    """Return the rectangles that carry text."""
    return [part for part in group.children if type(part) is Rectangle and part.texture]


@both_ways_up
@pytest.mark.parametrize("title", ["Group", "By rep", "Player"])
@pytest.mark.parametrize("outcome", [Outcome.DONE, Outcome.MISSED])
def test_the_ring_leaves_the_word_of_its_half_alone(bench, title, outcome):
    """On every board the word stands above the ring's line and below the count."""
    press(bench, title)
    tap(bench, 1, outcome)
    bench.settle()
    group = board_of(bench)._groups["tile", 1]
    (ring,) = [line for line in parts(group, Line) if line.width == 3]
    # a texture is kept for its very arguments, so that it tells which words a rectangle carries
    named = [texture(str(outcome), size, fonts.PLAIN, None) for size in range(11, 23)]
    (word,) = [w for w in words(group) if w.texture in named]
    counted = [texture("1", size, fonts.SEMIBOLD, None) for size in range(20, 70)]
    (count,) = [w for w in words(group) if w.texture in counted]
    assert word.pos[1] + _BLANK * word.size[1] > ring.rounded_rectangle[1] + ring.width
    assert word.pos[1] + (1 - _BLANK) * word.size[1] < count.pos[1] + _BLANK * count.size[1]


@pytest.mark.parametrize("small", ["", "not here"])
@pytest.mark.parametrize("size", [(128, 70), (160, 68), (97, 70)])
@pytest.mark.parametrize("name", ["Lauri", "Ayumi", "Bartholomew"])
def test_nothing_on_a_key_is_cut_by_its_edge(size, small, name):
    """Number, name and small line stay within the key, letters that hang down included."""
    group, key = InstructionGroup(), Rect(0, 0, *size)
    draw_button(group, key, ButtonFace(name, "8", small))
    assert len(words(group)) == 2 + bool(small)
    for drawn in words(group):
        assert min(drawn.pos) >= 4
        assert drawn.pos[0] + drawn.size[0] <= key.width - 4
        assert drawn.pos[1] + drawn.size[1] <= key.height - 4


@pytest.mark.parametrize("larger_words", [1.0, 1.4], ids=["words", "larger"], indirect=True)
@pytest.mark.parametrize("small", ["no contact", "comes now", "Breakout D"])
@pytest.mark.parametrize("size", [(134, 107), (93, 213), (128, 104), (134, 90)])
def test_the_small_line_under_a_number_and_a_name_is_clear_of_the_rim(size, small, larger_words):
    """Whoever comes now, or may not touch, is told so in letters that do not run into the key's outline."""
    group, key = InstructionGroup(), Rect(0, 0, *size)
    draw_button(group, key, ButtonFace("Ayumi", "9", small))
    number, name, line = words(group)
    assert line.pos[1] >= dp(GAP) / 2 + 3  # a texture is blank below its letters
    assert number.pos[1] + number.size[1] <= size[1] - dp(GAP) / 2 - 3
    assert number.size[1] >= 1.1 * name.size[1]


def whole(group, key) -> bool:
    """Say whether all words stand within a key; a word that was cut would end in an ellipsis."""
    room = key.inset(3)  # a texture is blank above and below its letters
    return all(
        room.x <= drawn.pos[0]
        and drawn.pos[0] + drawn.size[0] <= room.right
        and room.y <= drawn.pos[1]
        and drawn.pos[1] + drawn.size[1] <= room.top
        for drawn in words(group)
    )


@pytest.mark.parametrize("count", [0, 9, 10, 47, 88, 100, 288])
@pytest.mark.parametrize("size", [(267, 152), (256, 156), (150, 104), (110, 130), (800, 390)])
def test_a_count_of_any_length_stays_clear_of_its_mark_and_in_its_half(size, count, monkeypatch):
    """From the tenth tally on the check does not run into the count, and neither leaves the half."""
    marks, counts, draw = {}, [], tile_drawing.draw

    def watched(group, text, x, *args, **kwargs):
        wide = draw(group, text, x, *args, **kwargs)
        if text == str(count):
            counts.append((x - wide / 2, x + wide / 2))

    monkeypatch.setattr(tile_drawing, "draw", watched)
    for outcome in (Outcome.DONE, Outcome.MISSED):
        monkeypatch.setitem(
            MARKS, outcome, lambda _, x, __, radius, key=outcome: marks.update({key: (x, radius)})
        )
    tile_drawing.draw_tile(
        InstructionGroup(), Rect(0, 0, *size), Face("", "Bo", missed=count, done=count), None
    )
    for (left, right), outcome, edge in zip(
        sorted(counts), (Outcome.MISSED, Outcome.DONE), (0, size[0] / 2), strict=True
    ):
        x, radius = marks[outcome]
        assert left - (x + 1.1 * radius) > 0.6 * radius  # a check reaches out further to its right
        assert x - radius >= edge + dp(GAP) / 2
        assert right <= edge + size[0] / 2 - dp(GAP) / 2


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
@pytest.mark.parametrize("name", STEPS)
def test_every_plate_says_why_its_slot_is_empty(name, window, monkeypatch):
    """In each shipped step the reason and the slot's name stand on its plate, whole."""
    slots, area = STEPS[name].slots, area_of(window)
    board = stacked(area, rep_rows([len(slot.skills) for slot in slots], len(slots), area))
    monkeypatch.setattr(glyphs, "texture", _uncut)
    for n, slot in enumerate(slots):
        for why in (LEFT_EMPTY, f"no {slot.position.word} waits"):
            group = InstructionGroup()
            draw_button(group, board.buttons[n], ButtonFace(why, small=slot.name))
            assert len(words(group)) == 2
            assert whole(group, board.buttons[n])


@pytest.mark.parametrize("window", [WIDE, UPRIGHT], ids=["wide", "upright"])
@pytest.mark.parametrize("players", [9, 20, 24])
def test_every_key_of_a_choice_says_what_happens(players, window, monkeypatch):
    """Off the ice with the number, and a late player's, stand whole on keys of every size."""
    area, count = area_of(window), players + 2
    board = with_choice(stacked(area, rep_rows([1, 2, 2, 1, 1], 4, area)), count, 6)
    monkeypatch.setattr(glyphs, "texture", _uncut)
    for n in range(6, 6 + count):
        for face in (
            ButtonFace("off the ice", small="88 goes now"),
            ButtonFace("Aoife", "88", "comes now"),
            ButtonFace("leave it", small="Breakout D"),
        ):
            group = InstructionGroup()
            draw_button(group, board.buttons[n], face)
            assert whole(group, board.buttons[n])


@pytest.mark.parametrize("high", range(1180, 1300, 3))
def test_the_keys_of_a_choice_are_all_drawn_alike(high):
    """Rows whose edges fall on other pixels do not turn number and name another way."""
    area = Rect(0, 84, 800, high - 216)
    board = with_choice(stacked(area, rep_rows([1, 1, 2, 2, 1], 3, area)), 42, 6)
    ways = set()
    for n in range(6, 48):
        group = InstructionGroup()
        draw_button(group, board.buttons[n], ButtonFace("Bo D.", "21"))
        number, name = words(group)
        ways.add(number.pos[0] + number.size[0] <= name.pos[0])
    assert len(ways) == 1


def _uncut(text, size, font=fonts.PLAIN, width=None):
    return texture(text, size, font)
