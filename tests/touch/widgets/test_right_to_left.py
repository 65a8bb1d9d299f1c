"""Hebrew and Arabic names on the screens: joined, in the order of reading, and drawn by Kivy that way."""

import subprocess
import sys
import unicodedata

import numpy as np
import pytest
from kivy.clock import Clock
from kivy.core.text import Label
from kivy.uix.textinput import TextInput
from scipy.ndimage import label as components

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.right_to_left import as_drawn


def _ink(text: str) -> np.ndarray:
    """Return where a line has ink, drawn by Kivy's own provider without a window."""
    drawn = Label(text=text, font_size=60, font_name=fonts.font_for(text))
    drawn.resolve_font_name()
    drawn._size = drawn.render()
    drawn._render_begin()
    drawn.render_lines(drawn._cached_lines, drawn._default_line_options(drawn._cached_lines),
                       drawn._render_text, 0, drawn._size)  # fmt: skip
    image = drawn._render_end()
    return np.frombuffer(image.data, np.uint8).reshape(image.height, image.width, 4)[:, :, 3] > 100


def test_arabic_letters_are_joined():
    """The four letters of a name without dots are one stroke of the pen; letter by letter they are four."""
    assert components(_ink("محمد"), np.ones((3, 3)))[1] == 1
    assert components(_ink("\u200c".join("محمد")), np.ones((3, 3)))[1] > 1


def test_hebrew_is_drawn_from_the_right():
    """A short letter before a tall one stands at the right of it."""
    ink = _ink("יל")
    height = ink.any(axis=1).argmax()
    assert ink[height].nonzero()[0].max() < ink.shape[1] / 2 + 3
    assert not ink[height, ink.shape[1] * 2 // 3 :].any()


@pytest.mark.parametrize("text", ["", "Zoë Łukasik", "Ελλάδα", "Київ", "14  Mei-Lin", "…"])
def test_other_words_are_left_as_they_are(text):
    """Nothing is turned, and nothing is imported for it."""
    assert as_drawn(text) is text


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("דוד לוי", "יול דוד"),
        ("7  דוד לוי", "7  יול דוד"),
        ("דוד לוי (7)", "(7) יול דוד"),
        ("Zoë דוד 12", "Zoë 12 דוד"),
        ("דוד is here", "דוד is here".replace("דוד", "דוד"[::-1])),
        ("דָּוִד", "דוד"),
        ("דוד לו…", "…ול דוד"),
    ],
)
def test_a_line_is_turned_as_it_is_read(text, drawn):
    """Among Latin words, after a number, with its points, and where it was cut."""
    assert as_drawn(text) == drawn


@pytest.mark.parametrize("name", ["محمد العلي", "فاطمة الزهراء", "پژمان گرجی", "عبد الله", "هدى", "لآلئ"])
def test_our_font_has_every_joined_letter(name):
    """Of Arabic and Persian: the joined forms are characters of their own, which the font must have."""
    from evaltrack.paper.note.letters import missing_letters

    drawn = as_drawn(name)
    assert missing_letters(drawn) == []
    assert any("ARABIC LETTER" in unicodedata.name(one) and "FORM" in unicodedata.name(one) for one in drawn)


def test_a_name_is_typed_and_kept_as_it_is():
    """The field shows it turned, its cursor stays in the box, and it hands on the letters as typed."""
    field = TextInput(multiline=False, font_name=fonts.FALLBACK, size=(400, 60))
    for letter in "محمد العلي":
        Clock.tick()  # it lays its lines out in the next frame
        field.insert_text(letter)
    Clock.tick()
    field.do_cursor_movement("cursor_home")
    field.do_backspace()
    field.do_cursor_movement("cursor_end")
    field.do_backspace()
    assert field.text == "محمد العل"
    assert field.x <= field.cursor_pos[0] <= field.right


def test_nothing_is_loaded_before_such_a_name_is_drawn():
    """The path to the first board stays as light as it was."""
    code = (
        "import sys; sys.path.insert(0, 'tests/harness'); import headless; headless.install();"
        "from evaltrack.touch.widgets.right_to_left import as_drawn; as_drawn('Zoë');"
        "before = {'arabic_reshaper', 'bidi'} & set(sys.modules); as_drawn('דוד');"
        "sys.exit(bool(before) or 'bidi' not in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode == 0
