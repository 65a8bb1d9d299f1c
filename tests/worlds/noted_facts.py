"""What is done to families' pages, at random and by hand: for the tests of the store and of the screens."""

from datetime import date
from string import ascii_lowercase

from hypothesis import strategies as st
from lanterns_season import PLAYERS

from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey

DAYS = (date(2026, 1, 12), date(2026, 3, 3))
KEYS = [NoteKey(player.id, day) for player in PLAYERS[:2] for day in DAYS]
THINGS = ("0193a", "0193b")
SENTENCES = ("seen.counts", "going_well.outlet_pass", "next.gap_up")
_words = st.text(min_size=1, max_size=30).map(lambda text: " ".join(text.split()))
_days = st.sampled_from(["", "2026-01-20", "2026-03-03"])
_skills = st.lists(st.text(ascii_lowercase, min_size=1, max_size=5), max_size=3).map(" ".join)
_hex = st.sampled_from(["0" * 16, "1" * 16])
_OF_PAGE = {
    NoteField.DRAFTED: st.just(""),
    NoteField.STRENGTHS: st.none() | _skills,
    NoteField.NEXT_SKILLS: st.none() | _skills,
    NoteField.COACH_WORDS: st.lists(_words, max_size=3).map("\n".join),
    NoteField.MEETING: _days,
    NoteField.COACH: _words,
    NoteField.LANGUAGE: st.sampled_from(["en", "fr"]),
    NoteField.READ: st.tuples(_hex, _hex).map(" ".join),
    NoteField.PRINTED: st.sampled_from(["pdf us-letter", "html"]),
    NoteField.DISCUSSED: _days,
}
_OF_THINGS = {
    NoteField.AGREED: st.just("") | _words,
    NoteField.WHO_HELPS: _words,
    NoteField.LOOK_AGAIN: _days,
    NoteField.LOOKED_BACK: _days,
}


@st.composite
def note_facts(draw) -> NoteFact:
    """Return one thing that is done to one of four pages."""
    note = draw(st.sampled_from(KEYS))
    field = draw(st.sampled_from(list(NoteField)))
    if field is NoteField.WORDS:
        return NoteFact(note, field, draw(st.none() | st.just("") | _words), draw(st.sampled_from(SENTENCES)))
    if field in _OF_THINGS:
        return NoteFact(note, field, draw(_OF_THINGS[field]), draw(st.sampled_from(THINGS)))
    return NoteFact(note, field, draw(_OF_PAGE[field]))
