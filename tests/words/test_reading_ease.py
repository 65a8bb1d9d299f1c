"""How easy French reads, by the formula of Kandel and Moles, against words and texts of known difficulty."""

from dataclasses import replace

import pytest
from sample_sheets import SAMPLES

from evaltrack.words.family.readable import hard_words
from evaltrack.words.family.sheet import COACH, Sentence
from evaltrack.words.reading_ease import HARD_EASE, reading_ease, syllables_in

HARD = (
    "L’évaluation longitudinale des compétences psychomotrices démontre une amélioration statistiquement "
    "significative, conditionnellement à la participation régulière aux activités d’entraînement."
)


@pytest.mark.parametrize(
    ("word", "syllables"),
    [
        ("bonjour", 2), ("entraîneur", 3), ("gardien", 2), ("habileté", 4), ("rondelle", 2), ("séance", 2),
        ("patinoire", 3), ("créer", 2), ("Noël", 2), ("les", 1), ("l’écart", 2), ("joue", 1), ("essais", 2),
    ],
)  # fmt: skip
def test_a_word_has_the_syllables_that_are_spoken(word, syllables):
    """A mute e at the end is none, and vowels that are spoken one by one are two."""
    assert syllables_in(word) == syllables


def test_the_formula_is_worked_out_by_hand():
    """Two sentences, five words, eight syllables: 207 - 1.015 x 2.5 - 73.6 x 8/5."""
    assert reading_ease("Passe la rondelle. Tire maintenant!") == pytest.approx(
        207 - 1.015 * 2.5 - 73.6 * 8 / 5
    )


def test_a_hard_text_is_hard_and_an_easy_one_is_not():
    """The limit lies between what a school child reads and what an office writes."""
    assert (
        reading_ease(HARD) < 0 < HARD_EASE < reading_ease("Il prend la rondelle. Il passe. Il va au filet.")
    )
    assert reading_ease("12 + 3") == 100


def test_a_coach_is_told_of_hard_words_on_a_french_page():
    """By the formula for French; the same words on an English page are judged by the English one."""
    page = SAMPLES["usual"]()

    def with_words(text, language):
        parts = [
            replace(part, sentences=(Sentence("coach.1", text, own=True),)) if part.key == COACH else part
            for part in page.parts
        ]
        return list(hard_words(replace(page, parts=tuple(parts), language=language)))

    (told,) = with_words(HARD, "fr-CA")
    assert told.startswith("This is hard to read")
    assert (
        with_words("Un plaisir à voir jouer, et toujours le premier à ranger les rondelles.", "fr-CA") == []
    )
