"""Tables of plain values with a description of every column, as CSV and as the Table Schema standard has it.

https://specs.frictionlessdata.io/table-schema/
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from math import isfinite

from evaltrack.intake.csv_text import csv_text

GUARD = (
    "A text that begins with = + - or @, which a spreadsheet would take for a formula, has an apostrophe in"
    " front; times are in UTC."
)
_DIGITS = 6


@dataclass(frozen=True)
class Column:
    """A column: its name, its type in the words of the standard, what it means, and what may stand in it."""

    name: str
    kind: str
    means: str
    constraints: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Refers:
    """Columns that name rows of another table."""

    columns: tuple[str, ...]
    table: str
    there: tuple[str, ...]


@dataclass(frozen=True)
class TidyTable:
    """A table: one row for each thing, columns in order, and the columns by which a row is known."""

    name: str
    title: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    rows: tuple[tuple, ...]
    refers: tuple[Refers, ...] = ()

    def as_csv(self) -> str:
        """Return the table as CSV."""
        return csv_text([one.name for one in self.columns], ([cell(v) for v in row] for row in self.rows))

    def as_objects(self) -> list[dict]:
        """Return the rows as JSON has them."""
        names = [one.name for one in self.columns]
        return [dict(zip(names, map(plain, row), strict=True)) for row in self.rows]


def needed(name: str, kind: str, means: str, **constraints) -> Column:
    """Return a column in which something always stands."""
    return Column(name, kind, means, {"required": True, **constraints})


def plain(value: object) -> object:
    """Return a value as JSON has it: days and moments as ISO 8601, numbers with six decimals at most."""
    if isinstance(value, float):
        return round(value, _DIGITS) if isfinite(value) else None
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, str) else value


def cell(value: object) -> object:
    """Return a value as CSV has it."""
    known = plain(value)
    return {True: "true", False: "false"}[known] if isinstance(known, bool) else known


_MEDIA = {"csv": "text/csv", "parquet": "application/vnd.apache.parquet"}


def data_package(name: str, title: str, tables: Iterable[TidyTable], form: str = "csv") -> dict:
    """Return the description of all tables, as `datapackage.json` has it."""
    return {
        "profile": "tabular-data-package",
        "name": name,
        "title": title,
        "description": GUARD if form == "csv" else "Times are in UTC.",
        "resources": [_resource(table, form) for table in tables],
    }


def json_text(content: object) -> str:
    """Return a value as the text of a JSON file that people may read too."""
    return json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _resource(table: TidyTable, form: str) -> dict:
    schema = {
        "fields": [_field(one) for one in table.columns],
        **({"missingValues": [""]} if form == "csv" else {}),
        "primaryKey": list(table.key),
    }
    if table.refers:
        schema["foreignKeys"] = [_foreign_key(one) for one in table.refers]
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "title": table.title,
        "path": f"{table.name}.{form}",
        "format": form,
        "mediatype": _MEDIA[form],
        **({"encoding": "utf-8"} if form == "csv" else {}),
        "schema": schema,
    }


def _field(column: Column) -> dict:
    found = {"name": column.name, "type": column.kind, "description": column.means}
    return found | ({"constraints": column.constraints} if column.constraints else {})


def _foreign_key(one: Refers) -> dict:
    return {"fields": list(one.columns), "reference": {"resource": one.table, "fields": list(one.there)}}


def moment(at: int | None) -> datetime | None:
    """Return a moment that the season file has in milliseconds."""
    return None if at is None else datetime.fromtimestamp(at / 1000, UTC)


def only(table: TidyTable, column: str, value: object, without: Sequence[str] = ()) -> TidyTable:
    """Return the rows of a table with a value in a column, without some columns."""
    names = [one.name for one in table.columns]
    at, kept = names.index(column), [n for n, name in enumerate(names) if name not in without]
    rows = tuple(tuple(row[n] for n in kept) for row in table.rows if row[at] == value)
    key = tuple(name for name in table.key if name not in without)
    return TidyTable(table.name, table.title, tuple(table.columns[n] for n in kept), key, rows)
