"""The kinds of values that commands take."""

from datetime import date, datetime, time
from pathlib import Path

import click

from evaltrack.errors import EvaltrackError
from evaltrack.intake.text import folded, name_fault
from evaltrack.language import Language, language_of, mark, tr

FILE = click.Path(path_type=Path)


class Words(click.ParamType):
    """A name: at least one word, each gap one blank, checked as the names in a file are.

    Parameters
    ----------
    what : names it in a sentence: ``the team``.
    longest : the characters that it may have.
    """

    name = "words"

    def __init__(self, what: str, longest: int):
        self._what, self._longest = what, longest

    def convert(self, value: str, param, ctx) -> str:
        """Return the name without superfluous blanks; EvaltrackError when it holds what no name may."""
        name = folded(value) or self.fail(tr("write at least one word"), param, ctx)
        if fault := name_fault(name, tr(self._what), self._longest):
            raise EvaltrackError(fault)
        return name


class NumberAsWorn(click.ParamType):
    """A jersey number."""

    name = "number"

    def convert(self, value: str, param, ctx) -> str:
        """Return the number as it is worn; EvaltrackError when it is none."""
        from evaltrack.intake.roster import jersey_number, number_fault

        number = jersey_number(value)
        if number is None:
            raise EvaltrackError(number_fault(value))
        return number


class Numbers(click.ParamType):
    """Jersey numbers with commas or blanks between."""

    name = "numbers"

    def convert(self, value: str | tuple, param, ctx) -> tuple[str, ...]:
        """Return the numbers, each once; EvaltrackError when one is none."""
        if isinstance(value, tuple):
            return value
        numbers = value.replace(",", " ").split() or self.fail(tr("name at least one number"), param, ctx)
        return tuple(dict.fromkeys(NumberAsWorn().convert(one, param, ctx) for one in numbers))


class Band(click.ParamType):
    """How many tries in ten are to come off, as 6-8."""

    name = "band"

    def convert(self, value: str | tuple, param, ctx) -> tuple[float, float]:
        """Return both ends as shares."""
        if isinstance(value, tuple):
            return value
        try:
            low, high = (float(end) / 10 for end in value.split("-"))
        except ValueError:
            return self.fail(tr("{value!r} is no band; write it as 6-8", value=value), param, ctx)
        if not 0 < low < high < 1:
            self.fail(
                tr(
                    "{value!r} is no band; the first number is the smaller, both are between 0 and 10",
                    value=value,
                ),
                param,
                ctx,
            )
        return low, high


class SameAs(click.ParamType):
    """Two jersey numbers of one player, as 12=3: in a file, and until now."""

    name = "same"

    def convert(self, value: str | tuple, param, ctx) -> tuple[str, str]:
        """Return both numbers; EvaltrackError when one is none."""
        if isinstance(value, tuple):
            return value
        new, sign, now = value.partition("=")
        if not sign:
            self.fail(tr("{value!r} is not two numbers; write it as 12=3", value=value), param, ctx)
        return NumberAsWorn().convert(new, param, ctx), NumberAsWorn().convert(now, param, ctx)


class LanguageTag(click.ParamType):
    """A language that evaltrack speaks, as a tag of the standard or the name of a locale."""

    name = "language"

    def convert(self, value: str | Language, param, ctx) -> Language:
        """Return the language; French without a country is that of Canada."""
        if isinstance(value, Language):
            return value
        found = language_of(value)
        if found is None or value.strip().lower() in (
            "c",
            "posix",
        ):  # names of no language, for the system only
            words = mark("{value} is no language that evaltrack speaks; these are: {known}")
            self.fail(tr(words, value=repr(value), known=", ".join(Language)), param, ctx)
        return found


class Day(click.ParamType):
    """A date as 2026-01-31."""

    name = "date"

    def convert(self, value: str | date, param, ctx) -> date:
        """Return the date."""
        try:
            return value if isinstance(value, date) else date.fromisoformat(value)
        except ValueError:
            return self.fail(tr("{value!r} is not a day; write it as 2026-01-31", value=value), param, ctx)


class Clock(click.ParamType):
    """A time of day, written as 18:04 or 18:04:30."""

    name = "time"

    def convert(self, value: str | time, param, ctx) -> time:
        """Return the time of day."""
        try:
            read = value if isinstance(value, time) else time.fromisoformat(value)
        except ValueError:
            read = None
        if read is None or read.tzinfo is not None:  # the clock of the rink is the only one
            self.fail(tr("{value!r} is no time of day; write it as 18:04", value=value), param, ctx)
        return read


class Moment(click.ParamType):
    """A day with a time of day, written as 2026-01-20 18:00."""

    name = "moment"

    def convert(self, value: str | datetime, param, ctx) -> datetime:
        """Return the moment by the clock on the wall."""
        try:
            read = (
                value if isinstance(value, datetime) else datetime.strptime(value.strip(), "%Y-%m-%d %H:%M")
            )
        except ValueError:
            self.fail(
                tr("{value!r} is no day with a time; write it as '2026-01-20 18:00'", value=value), param, ctx
            )
        return read


class Breaks(click.ParamType):
    """Spans of a day with commas between, as 19:00-19:10,20:00-20:15."""

    name = "breaks"

    def convert(self, value: str | tuple, param, ctx) -> tuple:
        """Return the breaks, in order of time."""
        from evaltrack.rink.meeting_evening import MOST_BREAKS, Break

        if isinstance(value, tuple):
            return value
        try:
            spans = [part.partition("-") for part in value.replace(",", " ").split()]
            found = sorted(Break(_minute(start), _minute(end)) for start, _, end in spans)
        except ValueError:
            return self.fail(tr("{value!r} is no break; write it as 19:00-19:10", value=value), param, ctx)
        if not all(one.start < one.end for one in found):
            self.fail(tr("{value!r} is no break; it must begin before it ends", value=value), param, ctx)
        if len(found) > MOST_BREAKS:
            self.fail(tr("there may be {most_breaks} breaks at most", most_breaks=MOST_BREAKS), param, ctx)
        return tuple(found)


def _minute(text: str) -> time:
    return datetime.strptime(text, "%H:%M").time()
