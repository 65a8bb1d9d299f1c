"""Tidy tables as Parquet files, for analysts: the same columns and types, with the words that describe them.

What writes them is large and is installed only where somebody wants it.
"""

import io
from math import isfinite

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.paper.export.tidy_table import TidyTable


def as_parquet(table: TidyTable) -> bytes:
    """Return a table as a Parquet file; times are in UTC, to the millisecond.

    Raises
    ------
    EvaltrackError : what writes Parquet is not installed.
    """
    arrow, parquet = _arrow()
    kinds = {
        "string": arrow.string(),
        "integer": arrow.int64(),
        "number": arrow.float64(),
        "boolean": arrow.bool_(),
        "date": arrow.date32(),
        "datetime": arrow.timestamp("ms", tz="UTC"),
    }
    fields = [
        arrow.field(
            one.name, kinds[one.kind], not one.constraints.get("required"), {"description": one.means}
        )
        for one in table.columns
    ]
    schema = arrow.schema(fields, {"title": table.title})
    columns = [
        arrow.array([_plain(row[nth]) for row in table.rows], field.type) for nth, field in enumerate(fields)
    ]
    written = io.BytesIO()
    parquet.write_table(arrow.table(columns, schema=schema), written)
    return written.getvalue()


def _plain(value: object) -> object:
    if isinstance(value, float) and not isfinite(value):
        return None
    return str(value) if isinstance(value, str) else value  # of an enumeration its word


def _arrow():
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError as error:
        raise EvaltrackError(
            tr(
                "Parquet files need a library that is not installed here. Install it with"
                " “pip install 'evaltrack[parquet]'”, or leave out --format to get CSV files."
            )
        ) from error
    return pyarrow, pyarrow.parquet
