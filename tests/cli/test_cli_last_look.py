"""The standings that a command shows are kept for whoever opens the file with another program."""

import sqlite3
from contextlib import closing


def looked(path) -> list[tuple]:
    with closing(sqlite3.connect(path)) as file:
        return file.execute("SELECT player_name, skill_key, done, tries FROM readable_standings").fetchall()


def test_what_was_printed_last_is_kept(command, season):
    """All of it, also when one player was asked for; nothing of one skill, or of an earlier day, alone."""
    assert looked(season) == []
    for words in (["--skill", "stop"], ["--as-of", "2025-10-14"]):
        assert command("standings", season, *words).exit_code == 0
        assert looked(season) == []
    printed = command("standings", season, "--format", "csv").stdout.splitlines()[1:]
    rows = [tuple(line.split(",")[1:6]) for line in printed]
    assert sorted((name, skill, int(done), int(tries)) for name, _, skill, tries, done in rows) == sorted(
        looked(season)
    )
    before = looked(season)
    command("standings", season, "--player", "2")
    assert looked(season) == before != []
