"""The language of a family's page is chosen on its screen, kept, and given to the family's next page."""

import pytest
from test_notes_by_touch import Hand
from watched_for_notes import AFTER, watch

from evaltrack.language import Language, speaking
from evaltrack.rink.note_life import NoteField

TURN = ("French (Canada)", "English")


@pytest.fixture
def hand(drive, season_path, window):
    """Return a hand on a season of which three players were watched up to January."""
    watch(season_path)
    return Hand(drive(season_path))


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], indirect=True)
def test_a_page_is_turned_into_french_and_back_by_touch(hand):
    """Sentences, counts and the printed page are French while the keys stay English; it is a draft anew."""
    hand.open_page()
    hand.tap("I have read it")
    assert not hand.screen.is_draft
    hand.tap("French (Canada)")
    assert hand.screen.is_draft
    assert hand.life.edits.language == "fr-CA"
    said = hand.lines()
    for words in ("Ce qui va bien", "Les entraîneurs ont noté", "À travailler ensuite", "The meeting"):
        assert words in said
    assert "The coaches wrote down" not in said
    hand.tap("Choose what goes well")
    assert "essais sur" in hand.lines()
    hand.app.go("note")
    hand.ready()
    text = hand.print_out("Plain text", ".txt").read_text("utf-8")
    assert "Ce qui va bien" in text
    assert "Going well" not in text
    hand.tap("English")
    assert not hand.screen.is_draft
    hand.tap("History")
    assert "The language of the page: French (Canada)." in hand.lines()


def test_what_was_written_stays_and_the_coach_is_told(hand):
    """A coach's own words are nobody's to translate."""
    hand.open_page()
    hand.type("What the counts do not show", "Asks good questions.")
    hand.tap("French (Canada)")
    assert "stays as you wrote it" in hand.screen.words
    assert hand.life.edits.coach_words == "Asks good questions."


def test_the_next_page_of_the_family_is_in_its_language(hand):
    """A choice that was made once need not be made again; other families are not touched by it."""
    hand.open_page()
    hand.tap("French (Canada)")
    watch(hand.desk.season.path, AFTER)
    hand.open_page()
    hand.tap("Draft a new page")
    assert hand.life.value(NoteField.LANGUAGE) == "fr-CA"
    assert "Ce qui va bien" in hand.lines()


def test_in_french_a_page_is_drafted_in_french(hand):
    """Without a touch: whose coach works in French has families who read it."""
    with speaking(Language.FRENCH_CANADA):
        hand.app.go("home")
        hand.notes.read()
        done = []
        hand.notes.refresh(lambda: done.append(True), done.append)
        hand.driver.wait(lambda: done)
        hand.notes.draft([hand.player])
    assert hand.life.edits.language == "fr-CA"


def test_what_stands_between_the_sentences_is_in_the_words_of_the_page(hand):
    """A page in English is English on a French screen, down to the blank before a colon."""
    hand.open_page()
    english = [one for one in hand.lines().splitlines() if one.startswith("Gap up: ")]
    assert english
    with speaking(Language.FRENCH_CANADA):
        hand.app.go("notes")
        hand.ready()
        hand.app.go("note")
        hand.ready()
        assert [one for one in hand.lines().splitlines() if one.startswith("Gap up: ")] == english
