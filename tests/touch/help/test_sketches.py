"""The drawings of the help: every word in them is whole, in each language, upright and lengthwise."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kivy.graphics import InstructionGroup

from evaltrack.language import Language, speak
from evaltrack.touch.help.sketch import Sketch
from evaltrack.touch.help.sketch_rows import read_row, widths
from evaltrack.touch.widgets import glyphs
from evaltrack.words.help_pages import help_pages

LENGTHWISE, UPRIGHT = 600, 752  # pixels that a drawing has beside the points of its page, and below them

needs = st.lists(st.tuples(st.floats(0, 200), st.floats(0.1, 1)), min_size=1, max_size=8)


@pytest.fixture
def cut(monkeypatch):
    """Return the list of the words that are cut when they are drawn."""
    found, drawn = [], glyphs.texture

    def watched(text, size, font=glyphs.fonts.PLAIN, width=None):
        if width is not None and drawn(text, size, font).width > width:
            found.append(text)
        return drawn(text, size, font, width)

    monkeypatch.setattr(glyphs, "texture", watched)
    return found


@pytest.mark.parametrize("wide", [LENGTHWISE, UPRIGHT])
@pytest.mark.parametrize("language", [Language.ENGLISH, Language.FRENCH_CANADA])
def test_no_word_of_a_drawing_is_cut(language, wide, cut):
    """Longer words get more of their row, then a second line, then a smaller type; none ends in dots."""
    speak(language)
    for name, page in help_pages().items():
        sketch = Sketch(width=wide, rows=[read_row(row) for row in page.sketch])
        sketch.draw(InstructionGroup())
        assert cut == [], name


def test_a_word_that_is_cut_is_noticed(cut):
    """A word that has no room in any type ends in dots, and is found."""
    sketch = Sketch(width=LENGTHWISE, rows=[read_row(f"bar: {'=Habiletés' * 20} | Retour")])
    sketch.draw(InstructionGroup())
    assert cut


@given(needs, st.floats(10, 1000))
def test_the_parts_of_a_row_fill_it(parts, room):
    """Together they are as wide as the row; alike where that does; none lacks what its longest word needs
    while there is room for the longest words of all."""
    lines, words = [line for line, _ in parts], [line * share for line, share in parts]
    found = widths(lines, words, room)
    assert sum(found) == pytest.approx(room)
    if max(lines) <= room / len(parts):
        assert found == pytest.approx([room / len(parts)] * len(parts))
    if sum(words) <= room:
        assert all(wide >= word - 1e-6 for wide, word in zip(found, words, strict=True))
