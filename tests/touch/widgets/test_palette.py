"""What is drawn can be read: contrast, letters, and different names on different tiles."""

import pytest
from contrast import contrast
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.places import assets
from evaltrack.rink.player import Player, Position
from evaltrack.rink.short_names import short_names
from evaltrack.touch.input.focus_ring import RING_TINTS
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.palette import DARK, LIGHT, colour

PAIRS = (
    ("ink", "tile"), ("soft", "tile"), ("on_fill", "fill"), ("ink", "dim"), ("on_bar", "bar"),
    ("bar_soft", "bar"), ("ink", "ground"), ("soft", "ground"), ("bar", "bar_soft"), ("fill", "tile"),
)  # fmt: skip


def test_the_contrast_of_black_on_white_is_21():
    """WCAG 2.2, definition of contrast ratio: black on white is 21:1."""
    assert contrast(colour("000000"), colour("FFFFFF")) == pytest.approx(21)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("words", "under"), PAIRS)
def test_words_reach_seven_to_one(palette, words, under):
    """WCAG 2.2, 1.4.6 asks 7:1 of text; every pair that carries words has it."""
    assert contrast(getattr(palette, words), getattr(palette, under)) >= 7


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["ground", "tile", "fill", "dim", "bar", "band", "band50", "bar_soft"])
def test_one_of_the_two_lines_of_the_focus_is_seen_on_every_ground(palette, ground):
    """WCAG 2.2, 1.4.11 asks 3:1 of what is no text; the ring has one line in the ink and one in the tile."""
    lines = [getattr(palette, name) for name in RING_TINTS]
    assert max(contrast(line, getattr(palette, ground)) for line in lines) >= 3
    assert contrast(*lines) >= 7


@pytest.mark.parametrize("weight", ["Regular", "SemiBold", "Bold"])
def test_our_type_has_every_letter_we_say_it_has(weight):
    """No letter of the table would be drawn as an empty box."""
    known = TTFont(assets() / "fonts" / f"IBMPlexSansCondensed-{weight}.ttf").getBestCmap()
    missing = [hex(c) for low, high in fonts._COVERED for c in range(low, high + 1) if c not in known]
    assert missing == []


def test_a_name_in_other_letters_gets_the_wide_font():
    """Cyrillic and syllabics are drawn in the fallback as a whole; Latin with marks is not."""
    assert fonts.font_for("Zoë Łukasik") == fonts.PLAIN
    assert fonts.font_for("Оксана") == fonts.FALLBACK
    assert fonts.font_for("ᐊᓂ", fonts.BOLD) == fonts.FALLBACK_BOLD


@given(st.lists(st.sampled_from(["Mina A", "Mina Ab", "Mina B", "Bo C", "Bo", "Zoë"]), unique=True))
def test_short_names_are_as_different_as_the_names(names):
    """Two players with different names never carry the same word on their tiles."""
    players = [Player(str(i), name, Position.DEFENCE) for i, name in enumerate(names)]
    assert len(set(short_names(players).values())) == len(names)
