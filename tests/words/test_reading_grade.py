"""How hard a text reads: by syllables counted by hand, and by the formula worked out by hand."""

import pytest

from evaltrack.words.reading_grade import HARD, reading_grade, syllables_in

# counted aloud
_SYLLABLES = {
    1: "puck coach team tries worked baked called stopped skates drills charts steps line goes",
    2: "practice goalie noticed skated likely often quiet being little table wanted agreed licensed "
    "going higher create coaches watches passes without before outlet receive backwards something aside "
    "people",
    3: "October defender carrier medical injury usual",
    4: "January comprehensive",
    5: "evaluation institutional",
}


@pytest.mark.parametrize(
    ("word", "count"),
    [(word, count) for count, words in _SYLLABLES.items() for word in words.split()],
)
def test_syllables_are_those_that_one_hears(word, count):
    """In the words that our pages use, silent endings and names of months among them."""
    assert syllables_in(word) == count


def test_the_grade_is_that_of_the_formula():
    """Two sentences of ten words and 16 syllables: .39 * 10 / 2 + 11.8 * 16 / 10 - 15.59 = 5.24."""
    text = "The defender is on the ice. Watch the medical carrier!"
    assert reading_grade(text) == pytest.approx(5.24)


def test_plain_words_are_easy_and_an_office_is_not():
    """Figures are left out, and a text without words has no grade to fear."""
    assert reading_grade("It worked in 26 of 37 tries.") == reading_grade("It worked in of tries.")
    assert reading_grade("Institutional considerations necessitate comprehensive evaluation.") > HARD
    assert reading_grade("We will look at it again in the spring.") < 3
    assert HARD == 8
    assert reading_grade("") == reading_grade("26 of") == 0
