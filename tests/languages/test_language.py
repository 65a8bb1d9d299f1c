"""Which language is in force, and how France differs from Canada in its spacing."""

import threading

import pytest

from evaltrack import language
from evaltrack.language import Language, language_of, spaced_for_france, speaking, tr, tr_many


@pytest.mark.parametrize(
    ("tag", "wanted"),
    [
        ("fr", Language.FRENCH_CANADA),
        ("fr-CA", Language.FRENCH_CANADA),
        ("fr_FR.UTF-8", Language.FRENCH_FRANCE),
        ("fr_BE", Language.FRENCH_CANADA),
        ("en_GB", Language.ENGLISH),
        ("C.UTF-8", Language.ENGLISH),
        ("de_DE", None),
    ],
)
def test_a_tag_names_its_language(tag, wanted):
    """Tags of the standard and names of POSIX locales are both read."""
    assert language_of(tag) is wanted


def test_french_takes_the_singular_for_none():
    """0 goes with the form for one in French and with the form for many in English."""
    assert tr_many("{number} practice", "{number} practices", 0) == "0 practices"
    with speaking(Language.FRENCH_CANADA):
        said = [tr_many("{number} practice", "{number} practices", number) for number in (0, 1, 2)]
    assert said == ["0 séance", "1 séance", "2 séances"]


def test_a_language_for_a_block_is_that_threads_alone():
    """A page made in French beside the screens leaves the screens in English."""
    seen = []
    with speaking(Language.FRENCH_CANADA):
        other = threading.Thread(target=lambda: seen.append(language.language()))
        other.start()
        other.join()
        assert language.language() is Language.FRENCH_CANADA
    assert seen == [Language.ENGLISH]


def test_words_without_values_keep_their_braces():
    """Only a sentence with values is filled in."""
    assert tr("{as it is}") == "{as it is}"


def test_france_has_a_thin_space_where_quebec_has_none():
    """Before ; ! and ? that end a word, and nowhere else."""
    assert spaced_for_france("Prêts? Oui! Bien; allons") == "Prêts\u202f? Oui\u202f! Bien\u202f; allons"
    assert spaced_for_france("Déjà\u202f!") == "Déjà\u202f!"
