"""Parquet files for analysts: the season's tables read back, equal in values and types; or what is missing.

The library that writes them is large and no part of the test extra. Where it is not installed, only the
sentence is tested; the whole check installs it and sets EVALTRACK_PARQUET, which lets nothing be left out.
"""

import json
import os
import sys
from datetime import UTC, date, datetime
from importlib.util import find_spec

import pytest

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.paper.export import as_parquet
from evaltrack.paper.export.team_tables import team_tables
from evaltrack.store.opening import open_season

needs_library = pytest.mark.skipif(
    find_spec("pyarrow") is None and "EVALTRACK_PARQUET" not in os.environ,
    reason="no pyarrow here: pip install 'evaltrack[parquet]', or the whole check does",
)
KINDS = {"string": "string", "integer": "int64", "number": "double", "boolean": "bool", "date": "date32[day]",
         "datetime": "timestamp[ms, tz=UTC]"}  # fmt: skip


def as_read(value: object) -> object:
    """Return a value of ours as a reader of Parquet gives it: words plain, moments to the millisecond."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).replace(microsecond=value.microsecond // 1000 * 1000)
    return str(value) if isinstance(value, str) else value


@needs_library
def test_each_table_reads_back_as_it_is(command, season, tmp_path):
    """Same tables, columns, order, values and types as the CSV files have, with what each column means."""
    from pyarrow import parquet

    folder = tmp_path / "out"
    told = command("export", season, "--out", folder, "--format", "parquet")
    assert told.exit_code == 0, told.stderr
    with open_season(season) as opened:
        tables = team_tables(opened, read_standings(opened, left=True))
    files = {f"{table.name}.parquet" for table in tables} | {"datapackage.json"}
    assert {one.name for one in folder.iterdir()} == files
    for table in tables:
        found = parquet.read_table(folder / f"{table.name}.parquet")
        assert found.column_names == [one.name for one in table.columns]
        assert [str(field.type) for field in found.schema] == [KINDS[one.kind] for one in table.columns]
        assert [field.nullable for field in found.schema] == [
            not one.constraints.get("required") for one in table.columns
        ]
        assert [field.metadata[b"description"].decode() for field in found.schema] == [
            one.means for one in table.columns
        ]
        rows = [tuple(row.values()) for row in found.to_pylist()]
        assert rows == [tuple(map(as_read, row)) for row in table.rows]
        assert rows or table.name == "roster_changes"
    package = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    assert {one["path"] for one in package["resources"]} == files - {"datapackage.json"}
    assert {one["format"] for one in package["resources"]} == {"parquet"}


@needs_library
def test_days_and_odd_words_stay_what_they_are(tmp_path):
    """A day is a day; letters of all scripts, an empty cell and a formula are as they were written."""
    from pyarrow import parquet

    from evaltrack.paper.export.tidy_table import Column, TidyTable, needed

    columns = (
        needed("day", "date", "the day"),
        Column("words", "string", "words"),
        Column("share", "number", "s"),
    )
    rows = ((date(2026, 1, 20), "=SUM(Žofia 北)", 0.5), (date(1999, 12, 31), None, float("nan")))
    file = tmp_path / "odd.parquet"
    file.write_bytes(as_parquet.as_parquet(TidyTable("odd", "Odd", columns, ("day",), rows)))
    assert [tuple(row.values()) for row in parquet.read_table(file).to_pylist()] == [
        rows[0],
        (*rows[1][:2], None),
    ]


def test_without_the_library_it_says_what_to_install(command, season, tmp_path, monkeypatch):
    """In a sentence, and no folder is left."""
    monkeypatch.setitem(sys.modules, "pyarrow.parquet", None)
    told = command("export", season, "--out", tmp_path / "out", "--format", "parquet")
    assert (told.exit_code, told.stdout) == (1, "")
    assert "pip install 'evaltrack[parquet]'" in told.stderr
    assert not (tmp_path / "out").exists()


def test_it_is_of_the_whole_season(command, season, tmp_path):
    """One child's data are for parents, who read pages."""
    told = command("export", season, "--out", tmp_path / "out", "--format", "parquet", "--player", "2")
    assert told.exit_code == 2
    assert "leave out --player" in told.stderr
