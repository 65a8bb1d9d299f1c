"""The views that any SQLite browser shows: read with the plain module, and held against the app's numbers.

Cases: tallies with names, cells, attendance, practices, standings as of the last look; much put right,
withdrawn and set aside; nothing tallied; a player erased, a season closed; a view that is not ours; packs,
copies, an older file.
"""

import shutil
import sqlite3
from collections import Counter
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from erasable_season import ZORA, noted
from lanterns_season import PLAYERS
from older_files import make_older

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.errors import SeasonFileError
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_correction import Change, correction_of
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import read_pack
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.store.schema_of_views import VIEWS

NAMES = [line.split()[2] for line in VIEWS.splitlines() if line.startswith("CREATE VIEW")]
DAY = date(2025, 10, 18)


@pytest.fixture(scope="module")
def season(tmp_path_factory) -> Path:
    """Keep a season of which much was put right, one practice set aside, and the standings looked at."""
    path = noted(tmp_path_factory.mktemp("readable") / "lanterns.db", tallies=600, practices=5)
    with open_season(path) as season:
        keys = [practice.key for practice in season.practices.all()]
        stands = season.log.stands(keys[1])

        def put_right(chosen, change, becomes):
            season.tally_corrections.add(correction_of(chosen, change, becomes, keys[1], "bench"))

        put_right(stands[:3], Change.SKILL, ("wall_puck_feet", 1))
        put_right(stands[3:5], Change.STEP, ("stops_starts", "on_lines"))
        put_right(stands[5:8], Change.PRESSURE, True)
        put_right(stands[8:9], Change.PRACTICE, keys[2])
        put_right(stands[9:12], Change.OUTCOME, Outcome.UNSEEN)
        put_right(stands[12:13], Change.ASIDE, True)
        given = [one for one in season.log.stands(keys[1]) if one.tally.player == PLAYERS[3].id]
        put_right(given, Change.PLAYER, PLAYERS[4].id)
        last = season.practices.every()[4]
        season.corrections.add(Correction(last.key, Amendment.SET_ASIDE, last.held_on, last.held_on))
        season.last_look.keep(read_standings(season), DAY, at=0)
    return path


@pytest.fixture
def path(season, tmp_path) -> Path:
    """Return a copy of it."""
    return Path(shutil.copy(season, tmp_path / "lanterns.db"))


def read(path: Path, view: str) -> list[dict]:
    """Read a view as another program would: with nothing of ours."""
    with closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as file:
        file.row_factory = sqlite3.Row
        return [dict(row) for row in file.execute(f"SELECT * FROM {view}")]


def yes(value: bool) -> str:
    return "yes" if value else "no"


def test_tallies_have_names_and_stand_as_they_were_put_right(season):
    """Each that counts, with all that the app shows of it."""
    with open_season(season) as opened:
        players = {player.id: player for player in opened.people.everyone()}
        skills = {one.key: one.name for one in opened.catalogue.skills(retired=True)}
        days = {one.key: one.held_on.isoformat() for one in opened.practices.every()}
        expected = {
            t.id.hex: (
                *(days[t.practice], t.practice, players[t.player].number, players[t.player].name),
                *(skills[t.skill], t.outcome, None if t.pressure is None else yes(t.pressure), t.observer),
            )
            for t in opened.log.tallies()
        }
    columns = "date practice player_number player_name skill outcome pressure observer".split()
    rows = read(season, "readable_tallies")
    assert {row["tally_id"]: tuple(row[name] for name in columns) for row in rows} == expected
    assert len(rows) == len(expected) > 400


def test_cells_are_the_counts_of_the_app(season):
    """Tries and what came off of each player in each skill, and at how many practices."""
    with open_season(season) as opened:
        tries, done, practices = Counter(), Counter(), {}
        for row in opened.log.cells():
            key = (row[0].hex(), row[1])
            tries[key] += row[-2]
            done[key] += row[-1]
            practices.setdefault(key, set()).add(row[2])
    rows = {
        (row["player_id"], row["skill_key"]): row for row in read(season, "readable_cells") if row["tries"]
    }
    assert {key: row["tries"] for key, row in rows.items()} == tries
    assert {key: row["done"] for key, row in rows.items()} == dict.fromkeys(tries, 0) | dict(done)
    assert all(row["practices"] >= len(practices[key]) for key, row in rows.items())


def test_attendance_is_that_of_the_app(season):
    """Who was there, noted or seen, also after tallies changed hands."""
    with open_season(season) as opened:
        there = {(key, player.hex) for key, players in opened.turnout.there().items() for player in players}
    rows = read(season, "readable_attendance")
    assert {(row["practice"], row["player_id"]) for row in rows if row["was_there"] == "yes"} == there
    assert len({(row["practice"], row["player_id"]) for row in rows}) == len(rows)


def test_practices_are_counted_as_in_the_app(season):
    """Tallies, who noted, the comment, and whether it was set aside."""
    rows = {row["practice"]: row for row in read(season, "readable_practices")}
    with open_season(season) as opened:
        practices, counts = opened.practices.every(), opened.log.counts()
        observers, comments = opened.log.observers(), opened.comments.all()
        there = opened.turnout.there()
    assert rows.keys() == {one.key for one in practices}
    for one in practices:
        row = rows[one.key]
        assert (row["date"], row["surface"]) == (one.held_on.isoformat(), one.surface)
        assert (row["tallies"], row["set_aside"]) == (counts.get(one.key, 0), yes(one.aside))
        assert sorted(row["observers"].split(",")) == sorted(observers[one.key])
        assert (row["comment"], row["players"]) == (comments.get(one.key), len(there[one.key]))


def test_standings_are_those_of_the_last_look(season):
    """With the share where the model could tell, and the day up to which was counted."""
    with open_season(season) as opened:
        standings = read_standings(opened)
        names = {one.key: one.name for one in opened.catalogue.skills()}
    rows = {(row["player_name"], row["skill"]): row for row in read(season, "readable_standings")}
    assert len(rows) == len(standings) > 5
    for one in standings:
        row = rows[one.name, names[one.skill]]
        assert (row["done"], row["tries"], row["practices"]) == (one.done, one.tries, one.practices)
        assert (row["share"], row["low"], row["high"]) == (one.share, one.low, one.high)
        assert (row["call"], row["trend"], row["counted_up_to"]) == (one.call, one.trend, "2025-10-18")
        assert row["looked_at_utc"] == "1970-01-01 00:00:00"


@pytest.mark.parametrize("view", NAMES)
def test_an_empty_season_has_empty_views(season_path, view):
    """And each can be read; practices are there, without a tally."""
    rows = read(season_path, view)
    assert rows == [] or view == "readable_practices"
    assert all((row["tallies"], row["observers"]) == (0, None) for row in rows)


def test_nothing_is_left_of_a_player_who_was_erased(path):
    """Neither in the last look nor in any view; others stand as before."""
    with open_season(path) as opened:
        before = len(opened.last_look.all())
        assert ZORA.id in {one.player for one in opened.last_look.all()}
        opened.erase(ZORA.id, keep_counts=True)
    for view in NAMES:
        assert not any(ZORA.name in map(str, row.values()) for row in read(path, view))
        assert not any(ZORA.id.hex in map(str, row.values()) for row in read(path, view))
    with open_season(path) as opened:
        assert 0 < len(opened.last_look.all()) < before
        assert len(read(path, "readable_tallies")) == opened.log.count()


def test_a_closed_season_shows_nobody(path):
    """Tallies without names, as many as count; no attendance and no standing."""
    with open_season(path) as opened:
        opened.forget(DAY, "bench")
    with open_season(path) as opened:
        rows = read(path, "readable_tallies")
        assert len(rows) == opened.log.count()
    assert {row["player_name"] for row in rows} == {""}
    assert read(path, "readable_attendance") == read(path, "readable_standings") == []


def test_a_view_of_somebody_else_is_refused(path):
    """Another one, one of ours that says something else, and one of ours that is missing."""
    for statement in (
        "CREATE VIEW handy AS SELECT * FROM player",
        "DROP VIEW readable_cells; CREATE VIEW readable_cells AS SELECT load_extension('x') FROM player",
        "DROP VIEW readable_cells",
        "DROP VIEW readable_cells; CREATE TABLE readable_cells (skill TEXT)",
    ):
        copy = Path(shutil.copy(path, path.with_name("other.db")))
        with closing(sqlite3.connect(copy)) as file:
            file.executescript(statement)
        with pytest.raises(SeasonFileError, match=r"changed by another program: (handy|readable_cells)"):
            open_season(copy)


def test_packs_carry_no_look_and_copies_do(path):
    """It is worked out on each tablet; a copy is the file."""
    copy = path.with_name("copy.db")
    with open_season(path) as opened:
        pack = read_pack("pack", opened.packs.pack("bench"))
        opened.copies.write(copy)
    assert "last_look" not in pack.facts
    for view in NAMES:
        assert read(copy, view) == read(path, view)


def test_an_older_file_gets_them(path):
    """Brought up to date, it shows all but the last look, which nobody has had."""
    before = {view: read(path, view) for view in NAMES}
    with open_season(path) as opened:
        opened.write_back(empty=True)
    make_older(path, SCHEMA_VERSION - 1)
    open_season(path).close()
    assert {view: read(path, view) for view in NAMES} == before | {"readable_standings": []}
