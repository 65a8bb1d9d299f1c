"""The kinds of values that commands take."""

from datetime import date
from pathlib import Path

import click

FILE = click.Path(path_type=Path)


class Words(click.ParamType):
    """A name: at least one word, each gap one blank."""

    name = "words"

    def convert(self, value: str, param, ctx) -> str:
        """Return the name without superfluous blanks."""
        return " ".join(value.split()) or self.fail("write at least one word", param, ctx)


class Day(click.ParamType):
    """A date as 2026-01-31."""

    name = "date"

    def convert(self, value: str | date, param, ctx) -> date:
        """Return the date."""
        try:
            return value if isinstance(value, date) else date.fromisoformat(value)
        except ValueError:
            return self.fail(f"{value!r} is not a day; write it as 2026-01-31", param, ctx)
