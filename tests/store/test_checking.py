"""A whole file has no findings, and each thing that is wrong in another one is a sentence of its own."""

import sqlite3
from contextlib import closing

import pytest
from season_to_damage import season_to_damage

from evaltrack.store.opening import open_season

DAY = "2025-10-04"


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    return season_to_damage(tmp_path_factory.mktemp("whole") / "whole.db").read_bytes()


@pytest.fixture
def path(whole, tmp_path):
    """Return a file of the test's own."""
    place = tmp_path / "season.db"
    place.write_bytes(whole)
    return place


def changed(path, *statements: str) -> list[str]:
    """Change a file behind our back, and return what is found."""
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        for statement in statements:
            file.execute(statement)
        file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    with open_season(path) as season:
        return season.checks.findings()


def test_a_whole_file_has_no_findings(path):
    assert changed(path) == []


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("DELETE FROM observer WHERE name = 'Ines'", "table tally has"),
        ("UPDATE season SET id = x'00'", "the id of the season"),
        (
            "UPDATE player SET name = char(1, 2) || printf('%.300c', 'x') WHERE number = '2'",
            "name of a player",
        ),
        ("UPDATE withdrawal SET at = 999999999999999999", "moment of a withdrawal"),
        ("UPDATE tally SET at = 999999999999999999 WHERE id = x'000000000000000000000000000003e9'", "moment"),
        ("UPDATE skill SET version = 2 WHERE key = 'outlet_pass'", "1 skill has no definition"),
        ("UPDATE slot SET next = 'nowhere' WHERE key = 'breakout_d'", "nowhere|slot"),
        ("UPDATE practice_comment SET words = printf('%.3000c', 'x')", "comment"),
        ("UPDATE practice SET held_on = '2025-10-4'", "day of a practice"),
        (
            "INSERT INTO note_fact SELECT 1, 'b', id, '2026-99-01', 'wish', '', 'x', 1 FROM player LIMIT 1",
            "family's page",
        ),
    ],
)
def test_each_wrong_value_is_found(path, statement, words):
    """A row that names what is gone, a value out of bounds, a slot that leads nowhere."""
    found = changed(path, "PRAGMA foreign_keys = OFF", statement)
    assert found
    assert any(word in sentence for sentence in found for word in words.split("|")), found
    assert not [sentence for sentence in found if "Traceback" in sentence or "\n" in sentence]


def test_an_index_that_says_otherwise_is_found(path):
    """The screens count by the index: where it lacks tallies, what they show is wrong, and it is said."""
    rename = "UPDATE sqlite_schema SET sql = sql || ' {}' WHERE name = 'tally_cell'"
    back = "UPDATE sqlite_schema SET sql = replace(sql, ' {}', '') WHERE name = 'tally_cell'"
    some = "WHERE outcome = ''done''"
    for statement in (rename.format(some), None, back.format(some)):  # an index of some tallies only
        with closing(sqlite3.connect(path, isolation_level=None)) as file:
            file.execute("PRAGMA writable_schema = ON")
            file.execute(statement or "REINDEX tally_cell")
    with open_season(path) as season:
        found = season.checks.findings()
    assert any("an index is damaged" in sentence for sentence in found), found
    assert any("pages of the file are not sound" in sentence for sentence in found), found


def test_a_rotation_with_a_gap_is_found(path):
    insert = (
        "INSERT INTO line_fact VALUES ('2025-10-04', 'bench', {}, 'next', 'breakout_attack', 'two_on_one', "
        "x'000000000000000000000000000000aa', NULL, NULL, NULL, 5)"
    )
    rep = (
        "INSERT INTO rep VALUES (x'000000000000000000000000000000aa', '2025-10-04', 'breakout_attack', "
        "'two_on_one', 5, 'bench')"
    )
    found = changed(path, rep, insert.format(1), insert.format(3))
    assert "of 1 rotation a change is missing" in found
