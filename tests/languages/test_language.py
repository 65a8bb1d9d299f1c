"""Which language is in force, and how France differs from Canada in its spacing."""

import threading

import pytest

from evaltrack import language
from evaltrack.language import (
    Language,
    language_of,
    language_of_system,
    spaced_for_france,
    speaking,
    tr,
    tr_many,
)


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


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ({}, Language.ENGLISH),
        ({"LANG": "fr_CA.UTF-8"}, Language.FRENCH_CANADA),
        ({"LANG": "fr_CA", "LC_MESSAGES": "fr_FR"}, Language.FRENCH_FRANCE),
        ({"LC_MESSAGES": "fr_FR", "LC_ALL": "en_CA"}, Language.ENGLISH),
        ({"LC_ALL": "en_CA", "EVALTRACK_LANGUAGE": "fr-FR"}, Language.FRENCH_FRANCE),
        ({"LC_ALL": "", "LANG": "fr"}, Language.FRENCH_CANADA),
        ({"LC_ALL": "de_DE", "LANG": "fr"}, Language.ENGLISH),
    ],
)
def test_the_environment_is_asked_in_the_order_of_posix(monkeypatch, given, wanted):
    """The first that is set decides, also where it names a language that there is not: then it is English."""
    for name in ("EVALTRACK_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in given.items():
        monkeypatch.setenv(name, value)
    assert language_of_system() is wanted


def test_a_block_ends_in_the_language_before_it():
    """Also within another one, and when it ends in an error."""
    with speaking(Language.FRENCH_CANADA):
        with pytest.raises(ZeroDivisionError), speaking(Language.FRENCH_FRANCE):
            1 / (language.language() is not Language.FRENCH_FRANCE)
        assert language.language() is Language.FRENCH_CANADA
    assert (language.language(), tr("")) == (Language.ENGLISH, "")
    assert [one.is_french for one in Language] == [False, True, True]


def test_in_france_both_forms_of_a_count_have_their_spaces():
    """As sentences have."""

    class Words:
        def gettext(self, message):
            return message

        def ngettext(self, one, many, number):
            return one if number < 2 else many

    words = language._OfFrance(Words())
    assert [words.ngettext("un!", "des!", n) for n in (1, 2)] == ["un\u202f!", "des\u202f!"]
    assert words.gettext("Oui?") == "Oui\u202f?"
