"""The words on a key stand clear of its rim where they can, and are smaller before they are cut."""

import pytest
from kivy.metrics import dp

from evaltrack.touch.widgets import button
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.glyphs import BLANK

LEAST = 6  # dp above and below together
CHIPS = [
    "Set before the shot",
    "Support at the right distance",
    "Pass off the boards",
    "Wall puck with the feet",
]


def height_of(key: TapButton) -> float:
    """Return how high the words on a key are, without the blank below the last line."""
    lines = key._lines()
    return sum(line.height for line in lines) - BLANK * key.title_size


@pytest.mark.parametrize("title", CHIPS)
@pytest.mark.parametrize("size", [(66, 53), (78, 70)])
def test_a_long_name_on_a_narrow_chip_is_clear_of_the_rim(title, size):
    """Three lines of a name leave the key's outline alone, above and below."""
    key = TapButton(title=title, title_size="13sp", wraps=True, size=(dp(size[0]), dp(size[1])))
    assert height_of(key) <= key.height - dp(LEAST)


@pytest.mark.parametrize("high", [30, 34, 36, 38])
def test_where_no_room_is_left_at_the_rim_the_words_take_all_of_it(high, monkeypatch):
    """A low key has the same words in the same size as if nothing were to stay clear: none is cut for it."""
    key = TapButton(title="2 against 1", small="step 1 of 3", wraps=True, size=(dp(86), dp(high)))
    sizes = [line.size for line in key._lines()]
    monkeypatch.setattr(button, "CLEAR", 0)
    assert sizes == [line.size for line in key._lines()]
