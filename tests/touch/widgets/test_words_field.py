"""A field for several lines of words: nothing of a line is cut at its end."""

from evaltrack.touch.widgets.field import WordsField

SENTENCE = "Start: solid, and going up since 16 September. It worked in 26 of 36 tries, about 7 in 10."


def test_no_line_is_wider_than_the_field(window):
    """At whatever width: words are measured one by one, rounded, and drawn as one line."""
    field = WordsField(text=SENTENCE, font_size=18)
    for width in range(300, 720, 3):
        field.width = width
        field._refresh_text(SENTENCE)
        room = width - field.padding[0] - field.padding[2]
        wide = [label.width for label in field._lines_labels if label.width > room]
        assert wide == [], width
