"""Who is erased is in no byte of the season file and of what was kept beside it; all others are as before.

Cases: 5,000 tallies; names of before; comments, plans, calendar, corrections, rotations; tries that changed
hands; the name in free pages; with the tries kept; refused while another program has the file.
"""

import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from erasable_season import EARLIER, FIRST, ZORA, noted, scatter
from lanterns_season import PLAYERS
from name_search import where_named
from three_tablets import NOON

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.device.backup_places import Why, backups_folder
from evaltrack.errors import SeasonFileError
from evaltrack.rink.loan import LentNames
from evaltrack.rink.name_pattern import STRUCK
from evaltrack.rink.practice import local_day
from evaltrack.rink.tally_correction import Change
from evaltrack.store.backups.keeping import keep_backup, write_backup
from evaltrack.store.backups.restoring import lost_by, opened_backup
from evaltrack.store.erasing import erasing
from evaltrack.store.erasing.taking_out import take_out
from evaltrack.store.erasing.whose_names import pattern_of
from evaltrack.store.lending import lend
from evaltrack.store.opening import open_season

NAMES = (ZORA.name, *EARLIER, "Quillembrück", "Quillembruck", "Vandersloot", "Žofia", "Zofja")
DAY = local_day(NOON)


@pytest.fixture(scope="module")
def large(tmp_path_factory) -> Path:
    """Keep a season of 5,000 tallies in which a player is named wherever that is possible."""
    return noted(tmp_path_factory.mktemp("large") / "lanterns.db", tallies=5000, practices=20)


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Path:
    """Keep a small one."""
    return noted(tmp_path_factory.mktemp("small") / "lanterns.db")


def copy_of(path: Path, folder: Path) -> Path:
    return Path(shutil.copy(path, folder / "lanterns.db"))


def _told(tally) -> tuple:
    """Return what a tally says; one that led through the player is another fact of the same words."""
    return str(replace(tally, id=ZORA.id)), tally.at


def erase(path: Path, **how):
    with open_season(path) as season:
        return season.erase(ZORA.id, **how)


def dump(path: Path) -> str:
    with closing(sqlite3.connect(path)) as file:
        return "\n".join(line for line in file.iterdump() if '"epoch"' not in line)


@pytest.mark.parametrize("keep_counts", [False, True])
def test_the_name_is_in_no_byte(large, tmp_path, keep_counts):
    """In no encoding, form or case, neither in the file nor in any other one of its folder."""
    path = copy_of(large, tmp_path)
    scatter(path)
    shutil.copy(path, tmp_path / "lanterns.db.before-version-8")
    (tmp_path / f"lanterns.db.{2**22 + 1}-{'0' * 32}.new").write_bytes(path.read_bytes())
    assert where_named(tmp_path, *NAMES), "the search finds what is there"
    erased = erase(path, keep_counts=keep_counts)
    assert where_named(tmp_path, *NAMES) == []
    assert [one.name for one in erased.copies] == ["lanterns.db.before-version-8"]
    assert [one.name for one in tmp_path.iterdir()] == ["lanterns.db"]
    assert ZORA.id.hex not in dump(path).lower().replace(
        f"insert into \"erased\" values(x'{ZORA.id.hex}')", ""
    )
    assert os.stat(path).st_mode & 0o077 == 0


def test_others_are_as_before(small, tmp_path):
    """Their tallies, corrections, comments and plans, but for what was theirs only by mistake."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        before = sorted(_told(t) for t in season.log.tallies() if t.player != ZORA.id)
        changes = [c for c in season.people.changes() if c.player != ZORA.id]
    erase(path)
    with open_season(path) as season:
        assert sorted(map(_told, season.log.tallies())) == before
        assert season.people.everyone() == sorted(PLAYERS, key=lambda p: (int(p.number), len(p.number)))
        assert season.people.changes() == changes
        kept = season.tally_corrections.all()
        assert all(one.becomes != ZORA.id and ZORA.id not in one.was.values() for one in kept)
        assert season.comments.all()[FIRST.isoformat()] == f"{STRUCK} was tired; Juno Reed was not."
        plan = season.plans.last()
        assert plan.places.keys() == {player.id for player in PLAYERS}
        assert plan.remarks == (f"{STRUCK} and Juno Reed are apart.",)
        assert season.calendar.all()[0].place == f"Pond of the {STRUCK}s"
        assert season.reps.facts(FIRST.isoformat(), "bench") == []
        assert ZORA.id.bytes in season.packs.erased()


def test_tries_that_are_kept_are_nobodys(small, tmp_path):
    """They count in the figures of the team, and no list and no correction has them."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        count = season.log.count()
        cells = [cell[2:] for cell in season.log.cells()]
        others = [(s.player, s.skill, s.tries, s.done) for s in read_standings(season) if s.player != "88"]
        withdrawn = len(season.log.tallies(player=ZORA.id))
    done = erase(path, keep_counts=True)
    with open_season(path) as season:
        assert season.log.count() == count
        assert done.taken_out.settled.kept == withdrawn
        assert sorted(map(str, (cell[2:] for cell in season.log.cells()))) == sorted(map(str, cells))
        assert {player.name for player in season.people.everyone()} == {player.name for player in PLAYERS}
        known = {player.id for player in PLAYERS}
        assert {tally.player for tally in season.log.tallies()} <= known
        assert set().union(*season.turnout.there().values()) <= known
        assert [(s.player, s.skill, s.tries, s.done) for s in read_standings(season, left=True)] == others
        given = [one for one in season.tally_corrections.all() if one.change is Change.PLAYER]
        assert {one.becomes for one in given} <= known


@pytest.mark.parametrize("keep_counts", [False, True])
def test_no_older_pack_brings_a_try_back(small, tmp_path, keep_counts):
    """What was noted for another player, and found to be the erased one's, does not become that player's."""
    from evaltrack.store.packs.pack_file import read_pack

    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        pack = season.packs.pack("bench")
    erase(path, keep_counts=keep_counts)
    with open_season(path) as season:
        before = sorted((str(t.id), str(t.player)) for t in season.log.tallies())
        comments = season.comments.all()
        joined = season.packs.join([("old", read_pack("old", pack))])
        assert joined.erased == []
        assert not joined.clashes, "a name that was struck out is no sign of a copied tablet"
        assert sorted((str(t.id), str(t.player)) for t in season.log.tallies()) == before
        assert season.comments.all() == comments, "what was struck out wins"
        assert ZORA.id not in {player.id for player in season.people.everyone()}
    assert where_named(tmp_path, *NAMES) == []


def test_the_backups_of_the_app_go_and_an_older_one_says_whom_it_would_bring_back(small, tmp_path):
    """No backup in the app's folder has the name; whoever brings one back from elsewhere is told."""
    path, stick = copy_of(small, tmp_path), tmp_path / "stick.db"
    with open_season(path) as season:
        write_backup(season, stick)
        kept = keep_backup(season, Why.PRACTICE)
    assert kept in erase(path).copies
    assert where_named(backups_folder(), *NAMES) == []
    with opened_backup(stick) as season:
        assert lost_by(season, path)["erased players"] == 1


def test_a_coach_of_the_same_surname_stays(small, tmp_path):
    """So does a word of the game that is a name as well; both are told, since they were not looked for."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        season.people.add_observer("Ida Quillembrück")
        season.people.change([replace(ZORA, name="Puck Quillembrück")], FIRST, "bench")
    told = erase(path)
    with open_season(path) as season:
        assert "Ida Quillembrück" in season.people.observers()
        assert season.catalogue.skills()[0].definition.starts == "He has the puck."
    assert told.names.passed_over == ["Puck", "Quillembrück"]
    assert where_named(tmp_path, ZORA.name, "Puck Quillembrück", "Vandersloot", "Žofia") == []


def test_a_table_that_is_new_is_not_forgotten(small, tmp_path):
    """Rows that refer to the player go, and those that belong to them; texts in it are struck out."""
    with closing(sqlite3.connect(copy_of(small, tmp_path), isolation_level=None)) as file:
        file.execute(
            "CREATE TABLE page (nth INTEGER, tablet TEXT, player BLOB REFERENCES player (id), words TEXT,"
            " PRIMARY KEY (nth, tablet)) STRICT, WITHOUT ROWID"
        )
        file.execute(
            "CREATE TABLE page_force (nth INTEGER PRIMARY KEY, page INTEGER, tablet TEXT,"
            " FOREIGN KEY (page, tablet) REFERENCES page (nth, tablet)) STRICT"
        )
        pages = [(1, "bench", ZORA.id.bytes, ""), (2, "bench", PLAYERS[0].id.bytes, "with Žofia")]
        file.executemany("INSERT INTO page VALUES (?, ?, ?, ?)", pages)
        file.executemany("INSERT INTO page_force VALUES (?, ?, 'bench')", [(1, 1), (2, 2), (3, 1)])
        take_out(file, ZORA.id, pattern_of(file, ZORA.id), False, 1)
        assert file.execute("SELECT nth, words FROM page").fetchall() == [(2, f"with {STRUCK}")]
        assert file.execute("SELECT nth FROM page_force").fetchall() == [(2,)]


@pytest.mark.skipif(os.name == "nt", reason="links take a right of their own there")
def test_behind_a_link_the_file_itself_is_replaced(small, tmp_path):
    """Else the name would stay in the file to which the link leads."""
    path = copy_of(small, tmp_path)
    (tmp_path / "link.db").symlink_to(path)
    erase(tmp_path / "link.db")
    assert (tmp_path / "link.db").is_symlink()
    assert where_named(tmp_path, *NAMES) == []


def test_a_rehearsal_changes_nothing(small, tmp_path):
    """It tells what would go, by the same way."""
    path = copy_of(small, tmp_path)
    before = dump(path)
    told = erase(path, rehearse=True)
    assert dump(path) == before
    assert told.taken_out.settled == erase(path).taken_out.settled


def test_a_name_that_is_left_is_no_success(small, tmp_path, monkeypatch):
    """Where any text or byte still has it the file is as it was, and the user is told."""
    path = copy_of(small, tmp_path)
    before = dump(path)
    monkeypatch.setattr("evaltrack.store.erasing.taking_out.strike_out", lambda *_: None)
    with (
        open_season(path) as season,
        pytest.raises(SeasonFileError, match="would still be in the season file"),
    ):
        season.erase(ZORA.id)
    assert dump(path) == before
    assert [one.name for one in tmp_path.iterdir()] == ["lanterns.db"]
    monkeypatch.setattr(erasing, "texts_of", lambda _: [])
    with open_season(path) as season, pytest.raises(SeasonFileError, match="Quillembrück"):
        season.erase(ZORA.id)


def test_nobody_is_erased_while_another_program_has_the_file(small, tmp_path):
    """It would go on with the file that has the name."""
    path = copy_of(small, tmp_path)
    with closing(sqlite3.connect(path)) as other, open_season(path) as season:
        other.execute("BEGIN")
        other.execute("SELECT count(*) FROM player").fetchone()
        with pytest.raises(SeasonFileError, match="another program"):
            season.erase(ZORA.id)
    with open_season(path) as season:
        assert ZORA in season.people.everyone()


def test_an_observer_in_two_spellings_goes_in_both(small, tmp_path):
    """Both become the same struck-out name, and the file stays whole."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        for name in (ZORA.name, ZORA.name.upper()):
            season.people.add_observer(name)
    erase(path)
    assert where_named(tmp_path, *NAMES) == []
    with open_season(path) as season:
        assert season.checks.findings() == []
        assert season.people.observers().count(STRUCK) == 1


@pytest.mark.parametrize(
    "called", ["Tuva Key", "Ada Field", "Pim Block", "Wren Table", "Text", "Name", "Player", "Sqlite Format"]
)
def test_who_is_called_by_a_word_of_the_file_can_be_erased_and_lent(small, tmp_path, called):
    """Tables and columns are called so too, and the first bytes of every file; the file stays whole."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        season.people.change([replace(ZORA, name=called)], DAY, "bench")
        lend(season, tmp_path / "loan.db", LentNames.FIRST, DAY, NOON)
    closed = Path(shutil.copy(path, tmp_path / "closed.db"))
    erase(path)
    with open_season(closed) as season:
        season.forget(DAY, "bench")
    for file in (path, closed, tmp_path / "loan.db"):
        with open_season(file) as season:
            assert season.checks.findings() == []
    with open_season(path) as season:
        assert called not in [one.name for one in season.people.everyone()]


def test_what_else_fails_is_not_called_another_program(small, tmp_path):
    """Whoever is told to close a program that there is not looks for it in vain."""
    path = copy_of(small, tmp_path)
    with open_season(path) as season:
        rows = season._connection
        with pytest.raises(SeasonFileError, match="nobody was erased") as caught:
            erasing.put_without(rows, path, lambda: rows.execute("SELECT 1 FROM photo"), rehearse=True)
    assert "another program" not in str(caught.value)
    assert [one.name for one in tmp_path.iterdir()] == ["lanterns.db"]
