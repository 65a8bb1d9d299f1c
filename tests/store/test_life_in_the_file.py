"""What is done to families' pages is kept: in any order, no change is lost, in old files too."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from lanterns_season import PLAYERS
from noted_facts import DAYS, KEYS, SENTENCES, THINGS, note_facts
from older_files import make_older

from evaltrack.errors import EvaltrackError, NotSavedError, SeasonFileError
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey, NoteLife, ReadMark, Since, Stage
from evaltrack.rink.plain_text import one_line, without_empty
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

KEY = KEYS[0]
MARK, OTHER = ReadMark("0" * 16, "1" * 16), ReadMark("2" * 16, "1" * 16)
DAMAGE = [
    ("note_fact", "player", bytes(16)),
    ("note_fact", "as_of", "soon"),
    ("note_fact", "field", "hair"),
    ("note_fact", "about", "two words"),
    ("note_fact", "about", ""),
    ("note_fact", "value", "x" * 2_001),
    ("note_fact", "at", 2**62),
    ("note_force", "fact", 9),
]


class Pages(RuleBasedStateMachine):
    """Pages that are worked on in any order, beside a plain list of what was done."""

    make_season = None

    @initialize()
    def begin(self):
        """Open a season of its own."""
        self.path = type(self).make_season()
        self.season = open_season(self.path)
        self.done: list[list] = []  # of each act what was done, and whether it holds
        self.before: tuple = ()

    @rule(facts=st.lists(note_facts(), min_size=1, max_size=3))
    def do(self, facts):
        """Do something to pages."""
        self.season.notes.add(facts, "bench", 5)
        self.done += [[one, True] for one in facts]

    @rule(where=st.integers(0, 1_000), holds=st.booleans())
    def take_back(self, where, holds):
        """Take an act back, or let it hold again."""
        if self.done:
            place = where % len(self.done)
            facts = [fact for life in self.season.notes.all().values() for fact in life.facts]
            fact = sorted(facts, key=lambda one: one.nth)[place]  # of one tablet, as they were done
            self.season.notes.put_in_force(fact, holds, "bench")
            self.done[place][1] = holds

    @rule()
    def open_again(self):
        """Close the file and open it."""
        self.season.close()
        self.season = open_season(self.path)

    @invariant()
    def holds_what_was_done_last(self):
        """Of each page what a plain list says, and all that was ever done to it."""
        found = self.season.notes.all()
        assert set(found) == {one.note for one, _ in self.done}
        for key, life in found.items():
            mine = [(one, holds) for one, holds in self.done if one.note == key]
            told = [(f.field, f.about, f.value, f.in_force) for f in life.facts]
            assert told == [(one.field, one.about, _read(one.value), holds) for one, holds in mine]
            assert life.edits == _plain([one for one, holds in mine if holds])

    @invariant()
    def history_only_grows(self):
        """Every row of before is there as it was."""
        rows = tuple(self.season._connection.execute("SELECT * FROM note_fact ORDER BY nth, tablet"))
        assert rows[: len(self.before)] == self.before
        self.before = rows

    def teardown(self):
        """Close the file."""
        if hasattr(self, "season"):
            self.season.close()


def _read(value):
    shown = value and without_empty(value)
    return shown and "\n".join(one_line(line) for line in shown.strip().split("\n"))


def _plain(done) -> NoteEdits:
    """Return what holds by writing one act over the other, in order."""
    last = {}
    for one in done:
        last[one.field, one.about] = _read(one.value)
    words = {sentence: last.get((NoteField.WORDS, sentence)) for sentence in SENTENCES}
    agreed = []
    for thing in THINGS:
        parts = (NoteField.AGREED, NoteField.WHO_HELPS, NoteField.LOOK_AGAIN)
        what, who, again = (last.get((part, thing)) or "" for part in parts)
        if what:
            agreed.append(Agreed(what, who, date.fromisoformat(again) if again else None))
    picked = [last.get((part, "")) for part in (NoteField.STRENGTHS, NoteField.NEXT_SKILLS)]
    meeting = last.get((NoteField.MEETING, ""))
    return NoteEdits(
        *(None if keys is None else tuple(keys.split()) for keys in picked),
        words={key: text for key, text in words.items() if text is not None},
        coach_words=last.get((NoteField.COACH_WORDS, "")) or "",
        agreed=tuple(agreed),
        meeting=date.fromisoformat(meeting) if meeting else None,
        coach=last.get((NoteField.COACH, "")) or "",
        language=last.get((NoteField.LANGUAGE, "")) or "en",
    )


def test_edits_in_any_order(make_season):
    """Whatever is done and taken back, in whatever order: what holds is what a plain list says."""
    Pages.make_season = staticmethod(make_season)
    machine = Pages.TestCase
    machine.settings = settings(max_examples=15, stateful_step_count=15, deadline=None)
    machine("runTest").runTest()


def done(*facts: tuple, key: NoteKey = KEY) -> NoteLife:
    """Return a page to which these were done: field, value, and what it is about."""
    made = [NoteFact(key, field, *rest, nth=nth) for nth, (field, *rest) in enumerate(facts, 1)]
    return NoteLife(key, tuple(made))


def test_a_page_goes_from_draft_to_look_again():
    """Each stage follows from what was done, and an edit after the reading makes a draft of it again."""
    today, again = date(2026, 2, 1), date(2026, 3, 1)
    acts = [(NoteField.DRAFTED,)]
    assert done(*acts).stage(MARK, today) is Stage.DRAFT
    acts.append((NoteField.READ, str(MARK)))
    assert done(*acts).stage(MARK, today) is Stage.READ
    assert done(*acts).stage(OTHER, today) is Stage.DRAFT
    acts.append((NoteField.PRINTED, "pdf letter"))
    assert done(*acts).stage(MARK, today) is Stage.PRINTED
    acts.append((NoteField.DISCUSSED, "2026-01-20"))
    assert done(*acts).stage(MARK, today) is Stage.DISCUSSED
    acts += [(NoteField.AGREED, "Wall passes", "a"), (NoteField.LOOK_AGAIN, again.isoformat(), "a")]
    assert done(*acts).stage(MARK, today) is Stage.DISCUSSED
    assert done(*acts).next_look() == again
    assert done(*acts).stage(MARK, again) is Stage.DUE
    acts.append((NoteField.LOOKED_BACK, again.isoformat(), "a"))
    assert done(*acts).stage(MARK, again) is Stage.DISCUSSED
    assert done(*acts).next_look() is None
    acts.append((NoteField.LOOK_AGAIN, "2026-04-01", "a"))
    assert done(*acts).stage(MARK, date(2026, 4, 1)) is Stage.DUE, "another day is another look"


def test_a_draft_that_was_printed_is_still_a_draft():
    """Printed before it was read, it is read now and not printed: the paper carries the word draft."""
    life = done((NoteField.PRINTED, "pdf letter"), (NoteField.READ, str(MARK)))
    assert life.stage(MARK, DAYS[0]) is Stage.READ
    life = done((NoteField.READ, str(MARK)), (NoteField.PRINTED, "pdf letter draft"))
    assert life.stage(MARK, DAYS[0]) is Stage.READ


@pytest.mark.parametrize(
    ("mark", "said"),
    [
        (MARK, Since.AS_READ),
        (ReadMark("2" * 16, "1" * 16), Since.EDITED),
        (ReadMark("2" * 16, "3" * 16), Since.SEASON_CHANGED),
        (ReadMark("0" * 16, "3" * 16), Since.AS_READ),
    ],
)
def test_what_was_read_is_told_from_what_is_there_now(mark, said):
    """By the text: an edit, or counts that were corrected; what is not on the page does not matter."""
    assert done((NoteField.READ, str(MARK))).since(mark) is said
    assert done().since(mark) is Since.NEVER_READ


def test_a_text_that_is_too_long_is_refused_and_nothing_is_kept(season):
    """All of an act or nothing of it."""
    facts = [
        NoteFact(KEY, NoteField.COACH, "Ines"),
        NoteFact(KEY, NoteField.WORDS, "x" * 2_001, "seen.counts"),
    ]
    with pytest.raises(EvaltrackError, match="2,000 characters at most"):
        season.notes.add(facts)
    assert season.notes.all() == {}
    season.notes.add([NoteFact(KEY, NoteField.COACH_WORDS, "x" * 20_000)])
    assert len(season.notes.all()[KEY].edits.coach_words) == 20_000


def test_what_is_pasted_with_words_and_shows_nothing_is_not_kept(season):
    """Soft hyphens and marks of no width or of direction would be strange signs on paper; a turn is shown."""
    pasted = "wall\u00ad pass\u200bes\ufeff \u200fשלום\u200f and \u202egnorw"
    season.notes.add([NoteFact(KEY, NoteField.COACH_WORDS, pasted)])
    assert season.notes.all()[KEY].edits.coach_words == "wall passes שלום and \ufffdgnorw"


def test_a_page_of_somebody_unknown_is_not_saved(season):
    """The file takes no page of a player that it does not have."""
    stranger = replace(PLAYERS[0], id=type(PLAYERS[0].id)(int=99))
    with pytest.raises(NotSavedError):
        season.notes.add([NoteFact(NoteKey(stranger.id, DAYS[0]), NoteField.DRAFTED)])


def test_a_file_of_version_eight_has_no_page_and_takes_one(season_path):
    """Its rows are as they were; a copy of the older file is kept."""
    make_older(season_path, 8)
    with open_season(season_path) as season:
        assert season.notes.all() == {}
        season.notes.add([NoteFact(KEY, NoteField.DRAFTED)])
        assert list(season.notes.all()) == [KEY]
    assert season_path.with_name(f"lanterns.db.before-version-{SCHEMA_VERSION}").exists()


@pytest.mark.parametrize(("table", "column", "value"), DAMAGE)
def test_what_evaltrack_would_not_have_written_is_damage(season_path, table, column, value):
    """One sentence says so, whichever value it is."""
    with open_season(season_path) as season:
        season.notes.add([NoteFact(KEY, NoteField.WORDS, "Well done.", "seen.counts")])
        season.notes.put_in_force(season.notes.all()[KEY].facts[0], False)
    with closing(sqlite3.connect(season_path)) as file, file:
        assert file.execute(f"UPDATE {table} SET {column} = ?", (value,)).rowcount == 1
    with open_season(season_path) as season:
        if table == "note_force":  # a word on nothing: what it was about still holds
            assert season.notes.all()[KEY].facts[0].in_force
            return
        with pytest.raises(SeasonFileError, match="is damaged"):
            season.notes.all()
