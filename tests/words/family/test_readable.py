"""The coach's own words are looked over for how hard they read, and never held back."""

from dataclasses import replace

from sample_sheets import SKILLS, counted, ground_of

from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.readable import hard_words

_PLAYER = Player("7", "Zoë Łukasik", Position.DEFENCE)
_OFFICE = (
    "Considerable improvement in situational awareness facilitates comprehensive participation in "
    "defensive responsibilities."
)


def _told(ground=None, **edits):
    ground = ground or ground_of(_PLAYER)
    return list(hard_words(draft_sheet(ground, _PLAYER, [counted("stop", 9, 37)], NoteEdits(**edits))))


def test_words_of_an_office_are_told_with_their_grade():
    """Wherever they stand: in the coach's paragraphs, in what was agreed, in the place of a sentence."""
    agreed = (Agreed(_OFFICE),)
    told = _told(
        coach_words=f"Zoë helps to pick up the pucks.\n{_OFFICE}", agreed=agreed, words={"next.open": _OFFICE}
    )
    assert len(told) == 3
    assert all(one.startswith("This reads at about grade ") and one.endswith(f"“{_OFFICE}”") for one in told)
    assert int(told[0].split(";")[0].split()[-1]) > 12


def test_plain_words_few_words_and_our_own_are_not():
    """Two long words are no text."""
    assert (
        _told(coach_words="Zoë helps to pick up the pucks after each practice.\nSituational awareness.") == []
    )
    assert _told() == []


def test_the_words_of_the_catalogue_are_the_clubs_and_not_looked_over():
    """What to try at home stands in the catalogue, which has a screen of its own."""
    hard = replace(SKILLS["stop"], at_home=(_OFFICE,))
    ground = replace(ground_of(_PLAYER), skills={"stop": hard})
    assert _told(ground, next_skills=("stop",)) == []
