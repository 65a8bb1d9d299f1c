"""The shipped skills and drills are those of the language in which a season is founded."""

import pytest
from collect import CATALOGUE, JOINED, sentences

from evaltrack.founding.built_in import CONTEXT, in_words, shipped_texts, skill_in_words
from evaltrack.founding.catalogue_files import write_catalogue
from evaltrack.founding.season import found_season
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.language import Language, speaking
from evaltrack.rink.player import Player, Position

FRENCH = pytest.mark.parametrize("wanted", [Language.FRENCH_CANADA, Language.FRENCH_FRANCE])


@pytest.fixture
def french_season(tmp_path):
    """Found a season while the language is French."""
    with speaking(Language.FRENCH_CANADA):
        season = found_season(
            tmp_path / "s.db", "Kettle Bay Lanterns", "12U", [Player("7", "Zoë Łukasik", Position.DEFENCE)]
        )
    yield season
    season.close()


@pytest.fixture
def english_season(tmp_path):
    """Found a season while the language is English."""
    season = found_season(
        tmp_path / "e.db", "Kettle Bay Lanterns", "12U", [Player("7", "Zoë Łukasik", Position.DEFENCE)]
    )
    yield season
    season.close()


def names(season):
    """Return every name and text of a season's catalogue."""
    skills = season.catalogue.skills()
    texts = [
        text
        for one in skills
        for text in (one.name, one.caption, one.looks_like, *one.at_home, one.definition.done)
    ]
    for drill in season.catalogue.drills():
        texts.append(drill.name)
        for step in drill.steps:
            texts += [step.name, *(slot.name for slot in step.slots)]
    return texts


def test_what_is_collected_for_translation_is_what_is_looked_up():
    """A text that the reader of the files finds and the collector does not would stay English unnoticed."""
    prefix = f"{CATALOGUE}{JOINED}"
    collected = {key[len(prefix) :] for key in sentences() if str(key).startswith(prefix)}
    assert (CONTEXT, collected) == (CATALOGUE, shipped_texts())


def test_a_season_founded_in_french_has_french_skills_and_drills_under_the_same_keys(
    french_season, english_season
):
    """No English name or text is left, and no key differs, so that files of tallies fit both."""
    assert not set(names(french_season)) & set(names(english_season)) & (shipped_texts() - {"2 contre 2"})
    for kind in ("skills", "drills"):
        french, english = (getattr(one.catalogue, kind)() for one in (french_season, english_season))
        assert [one.key for one in french] == [one.key for one in english]
    assert "Passe de sortie" in names(french_season)


def test_its_catalogue_is_written_and_read_again(french_season, tmp_path):
    """The French words keep to the lengths that a file may have."""
    folder = write_catalogue(french_season, tmp_path / "out")
    skills = read_skills(folder / "skills.toml")
    assert skills == french_season.catalogue.skills()
    assert read_drills(folder / "drills.toml", skills) == french_season.catalogue.drills()


@FRENCH
def test_a_shipped_name_is_told_in_the_language_in_force_and_a_coachs_as_it_was_written(wanted):
    """Also one that is a word of the screens."""
    with speaking(wanted):
        assert in_words("Gap up") == "Resserrer l’écart"
        assert [in_words(text) for text in ("Our own passing", "Settings", "")] == [
            "Our own passing",
            "Settings",
            "",
        ]
    assert in_words("Gap up") == "Gap up"


def test_french_names_of_a_season_are_english_again_on_an_english_page(french_season, english_season):
    """What was founded in French and nobody renamed is the shipped skill still."""
    french, english = french_season.catalogue.skills(), english_season.catalogue.skills()
    assert [skill_in_words(one) for one in french] == english
