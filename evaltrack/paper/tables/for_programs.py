"""What all tables share that go to other programs, as CSV and JSON: short numbers, and None for no value."""

import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from datetime import date

from evaltrack.intake.csv_text import csv_text

_DIGITS = 6


def plain(value: object) -> object:
    """Return a number with six decimals at most, None where there is none, a day or a choice as text."""
    if isinstance(value, float):
        return round(float(value), _DIGITS) if math.isfinite(value) else None
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, str) else value


def plain_row(row) -> dict[str, object]:
    """Return the fields of a dataclass, each as other programs take it."""
    return {name: plain(value) for name, value in asdict(row).items()}


def plain_rows(rows: Iterable) -> list[dict[str, object]]:
    """Return dataclasses, each with its fields as other programs take them."""
    return [plain_row(row) for row in rows]


def rows_csv(columns: Sequence[str], rows: Iterable) -> str:
    """Return dataclasses as CSV with these of their fields as columns; empty where there is no value."""
    return csv_text(columns, ([plain(getattr(row, column)) for column in columns] for row in rows))


def json_text(content: object) -> str:
    """Return what other programs read as JSON, and a line end."""
    return json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
