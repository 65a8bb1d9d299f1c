"""What a loan has in it, how long it lasts, and that it gives back tallies and nothing else.

Cases: every kept-back name in every spelling, from a season in which names stand everywhere; numbers alone;
the practice that runs; the end by date, by facts and after a clock is set back; what a loan refuses; a lender
and two helpers who do what they like, packs in any order and again; a loan that was made a season by hand.
"""

import random
import re
import sqlite3
import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from erasable_season import EARLIER, noted, scatter
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import PLAYERS, PRACTICES, definition, station, tally
from name_search import where_named
from three_tablets import NOON, OneTablet, ThreeTablets, clock_of, refusals

from evaltrack.errors import EvaltrackError
from evaltrack.rink.loan import LentNames, day_fault
from evaltrack.rink.name_pattern import KEPT_BACK
from evaltrack.rink.practice import Attendance, Practice, local_day
from evaltrack.store.backups.keeping import keep_backup_if_due
from evaltrack.store.edits import state
from evaltrack.store.lending import lend
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack

TODAY = local_day(NOON)
DAY_LONG = 24 * 3_600_000
SURNAMES = ("Quillembrück", "Quillembruck", "Vandersloot", "Marsh", "Tallow", "Fern", "Løkken", "Reed")
FIRST_NAMES = ("Žofia", "Oda", "Petra", "Åse", "Juno")
# texts of the staff, or of families' pages
AT_HOME = ("Soft ice", "was not", "Wall passes", "Head up", "Pond of", "Zofja", "Pip", "Tuomo")


def lent(path: Path, names: LentNames = LentNames.FIRST, days: int = 7, name: str = "lent") -> Path:
    """Lend a season on the day of the tests, into a folder of its own."""
    target = path.parent / name / "loan.db"
    target.parent.mkdir()
    with open_season(path) as season:
        lend(season, target, names, TODAY + timedelta(days), NOON)
    return target


@pytest.fixture(scope="module")
def named_season(tmp_path_factory) -> Path:
    """Make a season in which names stand in every place where they can."""
    path = noted(tmp_path_factory.mktemp("season") / "lanterns.db")
    with open_season(path) as season:
        skills = season.catalogue.skills()
        told = replace(skills[0], definition=definition("Like QUILLEMBRU\u0308CK does it, said Juno Reed."))
        season.catalogue_changes.set_to([told, *skills[1:]], None, (), "bench")
    scatter(path)
    return path


def test_no_surname_and_no_word_of_the_staff_is_in_the_bytes(named_season):
    """In no case, form and encoding; the first names are there, so that the search can find something."""
    loan = lent(named_season, name="first")
    assert where_named(loan.parent, *SURNAMES, *EARLIER, *AT_HOME) == []
    assert where_named(loan.parent, *FIRST_NAMES) == [f"loan.db: {name}" for name in FIRST_NAMES]
    assert loan.stat().st_mode & 0o077 == 0  # nor is it anybody's who shares the machine
    assert len(where_named(named_season.parent, *SURNAMES)) >= len(SURNAMES)


def test_numbers_alone_are_without_any_name(named_season):
    """Not even a first name; the numbers and positions are as they were."""
    loan = lent(named_season, LentNames.NONE, name="none")
    assert where_named(loan.parent, *SURNAMES, *EARLIER, *AT_HOME, *FIRST_NAMES) == []
    with open_season(loan) as season, open_season(named_season) as whole:
        mine, theirs = season.people.players(), whole.people.players()
        assert [(p.number, p.position, p.id) for p in mine] == [(p.number, p.position, p.id) for p in theirs]
        assert {p.name for p in mine} == {""}


def test_a_loan_has_the_boards_and_nothing_noted(named_season):
    """Skills, drills and their definitions; no tally, practice, birth year or status of health."""
    with open_season(lent(named_season, name="boards")) as season:
        assert (season.log.count(), season.practices.every(), season.people.observers()) == (0, [], [])
        assert [skill.key for skill in season.catalogue.skills()] == [
            "outlet_pass",
            "wall_puck_feet",
            "shot_on_net",
        ]
        assert "does it" in season.catalogue.skills()[0].definition.done
        assert {(p.birth_year, str(p.status)) for p in season.people.players()} == {
            (None, "full"),
            (None, "away"),
        }
        assert season.checks.findings() == []
        assert season.loan.last_day == TODAY + timedelta(7)


def test_the_practice_that_runs_goes_along_without_its_tallies(season_path):
    """So that what the helper notes there is noted in the same practice."""
    with open_season(season_path) as season:
        marks = [Attendance(player.id, True, place, NOON) for place, player in enumerate(PLAYERS[:3])]
        season.practices.begin(
            Practice("2025-11-12", TODAY, started_at=NOON), marks, station(practice="2025-11-12", at=NOON)
        )
        season.log.add(tally(1, practice="2025-11-12", at=NOON))
        with open_season(lent(season_path)) as loan:
            assert ([one.key for one in loan.practices.every()], loan.log.count()) == (["2025-11-12"], 0)
            assert len(loan.practices.attendance("2025-11-12")) == 3
            loan.people.add_observer("Ines")
            loan.log.add(tally(2, practice="2025-11-12", at=NOON + 1, tablet="helper"))
            back = read_pack("back", loan.packs.pack("helper", at=NOON))
        season.packs.join([("back", back)], now=NOON)
        assert (season.log.count(), len(season.practices.every())) == (2, 1 + len(PRACTICES))


def test_a_loan_ends_with_its_last_day(season_path):
    """That day is the last one; the next morning it is over."""
    with open_season(lent(season_path, days=2)) as season:
        assert not season.loan.is_over(NOON + 2 * DAY_LONG)
        assert season.loan.is_over(NOON + 3 * DAY_LONG)


@pytest.mark.parametrize("told", ["clock", "tally", "day"])
def test_a_clock_set_back_does_not_revive_a_loan(season_path, told):
    """The latest moment counts that was ever seen: kept at an opening, of a tally, of a practice's day."""
    late = NOON + 4 * DAY_LONG
    path = lent(season_path, days=2)
    with open_season(path) as season:
        held = TODAY + timedelta(4 if told == "day" else 0)
        season.practices.begin(Practice("2025-11-12", held), [], station(practice="2025-11-12", at=NOON))
        if told == "clock":
            season.keep_latest(late)
            season.keep_latest(NOON)
        if told == "tally":
            season.log.add(tally(1, practice="2025-11-12", at=late))
    with open_season(path) as season:
        assert season.loan.is_over(NOON - 4000 * DAY_LONG)


def test_a_loan_ends_today_at_the_earliest_and_after_three_months_at_the_latest():
    """Both days are still taken; the days beside them are told why not."""
    first, last = TODAY, TODAY + timedelta(92)
    assert [day_fault(day, TODAY) for day in (first, last)] == ["", ""]
    assert f"cannot end on {first - timedelta(1)}" in day_fault(first - timedelta(1), TODAY)
    assert "after 92 days at the latest" in day_fault(last + timedelta(1), TODAY)


def test_a_loan_has_no_backup_in_the_place_of_its_season(season_path):
    """It would push out those of the season, which has the same id."""
    path = lent(season_path)
    with open_season(path) as loan:
        loan.practices.begin(Practice("2025-11-12", TODAY), [], station(practice="2025-11-12", at=NOON))
        loan.log.add(tally(1, practice="2025-11-12", at=NOON))
    assert keep_backup_if_due(path) is None
    assert keep_backup_if_due(season_path) is not None


def test_two_loans_and_the_season_are_three_tablets_on_one(season_path):
    """One tablet may have all of them: what it notes in each is told apart, and joins without a clash."""
    with open_season(season_path) as season:
        loans = [open_season(lent(season_path, name=name)) for name in ("a", "b")]
        idents = {"c" * 12, *(one.loan.tablet("c" * 12) for one in loans)}
        assert len(idents) == 3
        assert all(len(ident) <= 40 for one in loans for ident in (one.loan.tablet("x" * 40),))
        for n, loan in enumerate(loans):
            ident = loan.loan.tablet("c" * 12)
            place = station(practice="2025-11-12", tablet=ident, at=NOON + n, observer=f"Helper {n}")
            loan.practices.begin(Practice("2025-11-12", TODAY, started_at=NOON + n), [], place)
            loan.log.add(tally(n, practice="2025-11-12", tablet=ident, at=NOON + n, observer=place.observer))
        packs = [(str(n), read_pack("p", one.packs.pack("c", at=NOON))) for n, one in enumerate(loans)]
        joined = season.packs.join(packs, now=NOON)
        assert (joined.clashes.total(), season.log.count()) == (0, 2)
        assert len(season.practices.held_on(TODAY)) == 1
        for loan in loans:
            loan.close()


def test_what_a_loan_refuses(season_path, tmp_path):
    """Nothing is joined into it, nobody erased, it is not closed, lent on, and takes no season's place."""
    from evaltrack.store.backups.restoring import opened_backup

    path = lent(season_path)
    with open_season(season_path) as season, open_season(path) as loan:
        whole = read_pack("whole", season.packs.pack("bench", at=NOON))
        with pytest.raises(EvaltrackError, match="on loan"):
            loan.packs.join([("whole", whole)], now=NOON)
        with pytest.raises(EvaltrackError, match="on loan"):
            lend(loan, tmp_path / "on.db", LentNames.NONE, TODAY)
        for day in (TODAY - timedelta(1), TODAY + timedelta(93)):
            with pytest.raises(EvaltrackError, match="end"):
                lend(season, tmp_path / "on.db", LentNames.NONE, day, NOON)
        with pytest.raises(EvaltrackError, match="is there already"):
            lend(season, path, LentNames.NONE, TODAY, NOON)
    with pytest.raises(EvaltrackError, match="on loan"), opened_backup(path):
        pass
    for forget in (lambda loan: loan.forget(TODAY, "bench"), lambda loan: loan.erase(PLAYERS[0].id)):
        # a pack of it would close the lender's season too
        with open_season(path) as loan, pytest.raises(EvaltrackError, match="on loan"):
            forget(loan)
    assert not list(tmp_path.glob("on*"))


def test_a_loan_stays_one_when_it_is_copied_and_saved_from_damage(season_path, tmp_path):
    """It is known by what is in the file."""
    from evaltrack.store.salvage.salvaging import salvage

    path = lent(season_path)
    with open_season(path) as season:
        season.copies.write(tmp_path / "copy.db")
    salvage(path, tmp_path / "saved.db")
    for name in ("copy.db", "saved.db"):
        with open_season(tmp_path / name) as season:
            assert season.loan.last_day == TODAY + timedelta(7)


def test_a_check_looks_at_the_end_of_a_loan(season_path):
    """A loan whose last day is none opens nowhere, so it is not called whole."""
    path = lent(season_path)
    with closing(sqlite3.connect(path)) as file, file:
        file.execute("UPDATE loan SET last_day = '2026-13-45'")
    with open_season(path) as loan:
        assert ["last day of the loan" in one for one in loan.checks.findings()] == [True]


AT_BOARDS = ("begin", "end", "mark", "tally", "tally", "undo", "rep", "pack")
OWN = ("roster", "catalogue", "comment", "plan", "calendar", "begin", "tally", "undo", "mark")


class Lender(ThreeTablets):
    """The first tablet lends its season to the other two, which do what the boards do."""

    def lend(self, folder: Path, names: LentNames) -> None:
        owner = self.tablets[0].season
        for n, tablet in enumerate(self.tablets[1:]):
            tablet.season.close()
            target = folder / f"loan-{n}.db"
            lend(owner, target, names, (local_day(self.now) or TODAY) + timedelta(7), self.now)
            self.tablets[n + 1] = OneTablet(tablet.name, target, tablet.off)

    def rep(self, tablet: OneTablet, at: int) -> None:
        """Begin a rep, where those who go in it are all on the tablet: who has left is not lent."""
        if {player.id for player in PLAYERS} <= {player.id for player in tablet.season.people.everyone()}:
            super().rep(tablet, at)

    def take_back_all(self) -> None:
        """Take in every pack of the pool, in any order, some of them twice."""
        owner = self.tablets[0].season
        chosen = self.chance.sample(self.pool, len(self.pool)) + self.pool[:2]
        for name, content in chosen:
            with refusals("join that one first"):
                self._note(owner.packs.join([(name, read_pack(name, content))], now=self.now))


def at_home(connection: sqlite3.Connection) -> dict:
    """Return all that no helper may change: the rows of every table but those of the boards, and fields."""
    boards = {
        "begun", "practice", "attendance", "observer", "station", "rep", "rep_slot", "line_fact",
        "line_start", "moved", "stood", "tally", "withdrawal", "edit", "lost_edit", "epoch",
        "_sqlite_migrations",
    }  # fmt: skip
    tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    found = {
        # of a practice that turns out to be the second one of its day the key may change
        name: sorted(
            re.sub(r"(-\d\d)\.\d+'", r"\1'", repr(row)) for row in connection.execute(f"SELECT * FROM {name}")
        )
        for name in set(tables) - boards
    }
    fields = "player", "skill", "definition", "drill", "step", "catalogue_text"
    history = connection.execute("SELECT * FROM edit WHERE clock > 0").fetchall()
    edits = sorted(row for row in history if row[0] in fields)
    return found | {"state": state(connection, fields), "edit": edits}


@settings(max_examples=6, deadline=None)
@given(st.integers(0, 2**32), st.sampled_from(LentNames))
def test_taking_back_changes_nothing_but_what_was_noted_at_the_boards(season_template, seed, names):
    """Lend, let all three go on, take back in any order and again: the roster, notes and catalogue stay."""
    with tempfile.TemporaryDirectory() as folder:
        chance = random.Random(seed)
        world = Lender(season_template, Path(folder), chance)
        for _ in range(10):
            world.act(0, chance.choice(OWN))
        with clock_of(world.now):
            world.lend(Path(folder), names)
        for _ in range(30):
            which = chance.randrange(3)
            world.act(which, chance.choice(AT_BOARDS if which else OWN))
        for tablet in world.tablets[1:]:
            world.pool.append((tablet.name, tablet.season.packs.pack(tablet.name, at=world.now)))
        owner = world.tablets[0].season
        before = at_home(owner._connection)
        world.take_back_all()
        assert at_home(owner._connection) == before
        rows = {row[0] for row in owner._connection.execute("SELECT id FROM tally")}
        assert rows == {ident.bytes for ident in world.made}
        assert owner.checks.findings() == []
        world.close()


def test_names_in_the_lenders_season_are_whole_after_a_loan_comes_back(named_season, tmp_path):
    """A first name would be the greater text of the two; it never goes along."""
    with open_season(named_season) as season:
        season.copies.write(tmp_path / "copy.db")
    with open_season(tmp_path / "copy.db") as season, open_season(lent(named_season, name="whole")) as loan:
        before = season.people.everyone(), season.catalogue.skills()
        pack = loan.packs.pack("helper", at=NOON)
        assert not any(name.encode() in pack for name in FIRST_NAMES)
        season.packs.join([("back", read_pack("back", pack))], now=NOON)
        assert (season.people.everyone(), season.catalogue.skills()) == before


@pytest.mark.parametrize("names", LentNames)
def test_a_loan_that_was_made_a_season_by_hand_takes_nothing_of_the_roster_away(
    named_season, tmp_path, names
):
    """Its shorter names, missing years and words struck out never win; it gets the whole ones by a pack."""
    with open_season(named_season) as season:
        season.copies.write(tmp_path / "copy.db")
    with open_season(tmp_path / "copy.db") as season:
        season.people.change([replace(PLAYERS[1], birth_year=2014)], TODAY, "bench")
    path = lent(tmp_path / "copy.db", names)
    with closing(sqlite3.connect(path)) as file, file:
        file.execute("DELETE FROM loan")
    with open_season(tmp_path / "copy.db") as season, open_season(path) as freed:
        before = at_home(season._connection)
        assert KEPT_BACK in freed.catalogue.skills()[0].definition.done
        for giver, taker in ((freed, season), (season, freed), (freed, season)):
            taker.packs.join([("a", read_pack("a", giver.packs.pack("a", at=NOON)))], now=NOON)
        assert at_home(season._connection) == before
        assert freed.people.everyone() == season.people.everyone()
        assert freed.catalogue.skills() == season.catalogue.skills()
