"""The season after: what comes along, and that nothing else of the season before is in its bytes.

Cases: roster, skills with targets and words, drills, observers; who is left out, has left, is away or may
have no contact; comments that count; a name that is taken; a season without a practice.
"""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from erasable_season import WORDS, ZORA, noted
from lanterns_season import PLAYERS
from name_search import where_named

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.founding.catalogue_files import catalogue_files
from evaltrack.rink.player import Status
from evaltrack.store.opening import open_season

DAY = date(2025, 10, 30)


@pytest.fixture
def old(tmp_path) -> Path:
    """Return a season in which much was noted, of which one player is away and one has no contact."""
    path = noted(tmp_path / "lanterns.db", tallies=900, practices=6)
    with open_season(path) as season:
        changed = [
            replace(PLAYERS[0], status=Status.AWAY, away_until=date(2026, 1, 1)),
            replace(PLAYERS[1], status=Status.LIMITED),
            replace(PLAYERS[2], status=Status.LEFT),
        ]
        season.people.change(changed, DAY, "bench")
        skills = season.catalogue.skills()
        skills[0] = replace(skills[0], target=0.55)
        season.catalogue_changes.set_to(skills[:-1], None, (), "bench")
    return path


def slots(season) -> list:
    """Return the slots of all drills in use."""
    return [slot for drill in season.catalogue.drills() for step in drill.steps for slot in step.slots]


def begun(command, old, *words):
    new = old.with_name("next.db")
    told = command("next-season", old, new, *words)
    assert told.exit_code == 0, told.stderr
    return new, told.stdout


def test_what_is_prepared_comes_along(command, old):
    """Roster, skills with words and targets, drills, comments of files, observers; under new ids."""
    new, told = begun(command, old, "--age-class", "14U")
    with open_season(old) as before, open_season(new) as after:
        left, there = before.people.players(), after.people.players()
        assert [(p.number, p.name, p.positions, p.birth_year) for p in there] == [
            (p.number, p.name, p.positions, p.birth_year) for p in left
        ]
        assert f"{len(left)} of {len(left)} players come along, 0 comments" in told
        assert not {p.id for p in there} & {p.id for p in before.people.everyone()}
        assert (after.team.name, after.team.age_class) == (before.team.name, "14U")
        assert after.ident != before.ident
        assert [replace(one, version=1) for one in before.catalogue.skills()] == after.catalogue.skills()
        assert after.catalogue.skills()[0].target == 0.55
        assert [one.key for one in after.catalogue.drills()] == [one.key for one in before.catalogue.drills()]
        in_use = {skill.key for skill in after.catalogue.skills()}
        for one, other in zip(slots(before), slots(after), strict=True):
            assert other == replace(one, skills=tuple(key for key in one.skills if key in in_use))
        assert catalogue_files(after)["skills.toml"] == catalogue_files(before)["skills.toml"]
        assert after.people.observers() == before.people.observers() != []
        assert after.checks.findings() == []


def test_nothing_else_is_in_its_bytes(command, old):
    """No tally, practice, note, plan or correction, no id, no earlier name, and nobody who has left."""
    new, _ = begun(command, old)
    with closing(sqlite3.connect(new)) as file:
        names = [n for (n,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        full = {n for n in names if file.execute(f"SELECT EXISTS (SELECT 1 FROM {n})").fetchone()[0]}
    ours = "season epoch player observer skill definition drill step slot catalogue_text _sqlite_migrations"
    assert full == set(ours.split())
    content = new.read_bytes()
    with closing(sqlite3.connect(old)) as file:
        # those of the invented players are numbers, which stand in any file
        ids = [raw for (raw,) in file.execute("SELECT id FROM tally UNION SELECT id FROM player")]
        ids += [raw for (raw,) in file.execute("SELECT id FROM season")]
        keys = [key.encode() for (key,) in file.execute("SELECT key FROM practice")]
    ids = [one for one in ids if one[:8] != bytes(8)]
    assert ids
    assert [one for one in (*ids, *keys, *(text.encode() for text in WORDS)) if one in content] == []
    assert where_named(new.parent / "next.db", PLAYERS[2].name) == []
    assert PLAYERS[2].name.encode() not in content
    assert b"Vandersloot" not in content


def test_who_does_not_come_is_left_out(command, old):
    """By number; and who is unknown is refused before anything is made."""
    new, told = begun(command, old, "--leave-out", ZORA.number)
    assert "players come along" in told
    assert ZORA.name.encode() not in new.read_bytes()
    with open_season(new) as season:
        status = {player.name: player.status for player in season.people.players()}
    assert status[PLAYERS[0].name] is Status.FULL
    assert status[PLAYERS[1].name] is Status.LIMITED
    other = old.with_name("other.db")
    told = command("next-season", old, other, "--leave-out", "77")
    assert told.exit_code == 1
    assert "there is no player" in told.stderr
    assert not other.exists()


def test_last_standings_come_along_as_comments(command, old):
    """Dated, with the counts that the season has of each skill that could be judged, and the call."""
    new, told = begun(command, old, "--standings-as-comments")
    with open_season(old) as before, open_season(new) as after:
        standings = [one for one in read_standings(before) if one.judged]
        names = {one.key: one.name for one in before.catalogue.skills()}
        comments = after.player_comments.all()
        by_number = {player.number: comments.get(player.id, "") for player in after.people.players()}
        last = max(one.held_on for one in before.practices.all())
    assert len(comments) == len({one.player for one in standings}) > 0
    assert f"{len(comments)} comments" in told
    for one in standings:
        words = by_number[one.player]
        assert f"{names[one.skill]} {one.done} of {one.tries}, {one.call}" in words
        assert words.startswith(f"Last season, up to {last.day} {last:%B} {last.year}: ")


def test_a_name_that_is_taken_is_left_alone(command, old):
    """Nothing is made, and nothing lies beside it."""
    taken = old.with_name("next.db")
    taken.write_text("mine")
    told = command("next-season", old, taken)
    assert (told.exit_code, taken.read_text()) == (1, "mine")
    assert "is there already" in told.stderr
    assert sorted(one.name for one in old.parent.iterdir()) == ["lanterns.db", "next.db"]


def test_a_season_that_never_began_has_no_comments(command, empty_season):
    """Nothing was counted, so nothing is said."""
    told = command("next-season", empty_season, empty_season.with_name("n.db"), "--standings-as-comments")
    assert told.exit_code == 0, told.stderr
    assert "0 comments" in told.stdout


def test_a_comment_is_told_and_is_the_players_own(command, old, tmp_path):
    """Below the player's standings, in what is kept for the parents, and gone with the player."""
    new, _ = begun(command, old, "--standings-as-comments")
    with open_season(new) as season:
        comments = season.player_comments.all()
        player = next(one for one in season.people.players() if one.id in comments)
    words = comments[player.id]
    assert words in command("standings", new, "--player", player.number).stdout
    assert command("export", new, "--out", tmp_path / "own", "--player", player.number).exit_code == 0
    assert words in (tmp_path / "own" / "written.csv").read_text(encoding="utf-8")
    assert "comment on the player" in (tmp_path / "own" / "read-me-first.html").read_text(encoding="utf-8")
    assert command("erase", new, "--player", player.number, "--yes").exit_code == 0
    with open_season(new) as season:
        assert words not in season.player_comments.all().values()
