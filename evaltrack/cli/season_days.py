"""Which days belong to the season of a file, and to which practice the tallies of a loaded day go."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from evaltrack.cli.telling import warn
from evaltrack.errors import EvaltrackError
from evaltrack.intake.tally_columns import Fault, practice_of
from evaltrack.language import tr, tr_many
from evaltrack.rink.days import in_full, season_span
from evaltrack.rink.practice import Practice, key_for
from evaltrack.rink.tally import Tally

STRAYS = 2  # practice days that a tablet with a wrong clock may well have filed; more are another season


def fresh_of(season, tallies: Iterable[Tally]) -> list[Tally]:
    """Return the tallies that the season does not have, wherever it has filed the others by now."""
    tallies = list(tallies)
    known = season.log.known(tally.id for tally in tallies)
    return [tally for tally in tallies if tally.id not in known]


def filed(
    season, practices: Sequence[Practice], tallies: Iterable[Tally]
) -> tuple[list[Practice], list[Tally]]:
    """Return practices and tallies of a file as the season has them: by the day they were held, not by key.

    A day whose key belongs to a practice that was held on another day, or was set aside, gets another key.
    """
    tallies = list(tallies)
    every = season.practices.every()
    held = {one.held_on: one for one in reversed(every) if not one.aside}  # of one day, the first by key
    taken, wanted = {one.key for one in every}, {tally.practice for tally in tallies}
    places = {}
    for practice in practices:
        if practice.key in wanted:
            new = Practice(key_for(practice.held_on, taken), practice.held_on)
            places[practice.key] = held.get(practice.held_on, new)
    return list(places.values()), [replace(t, practice=places[t.practice].key) for t in tallies]


def refuse_strange_days(path: Path, days: Sequence[date], held: Sequence[date]) -> None:
    """Refuse a file with days to come, or of another season: one mistyped year would bend every trend.

    Practices of the season that are strays themselves keep no file out.
    """
    if not days:
        return
    if max(days) > date.today():
        raise EvaltrackError(
            tr("{name}: {day} has not come yet; mend the date", name=path.name, day=max(days))
        )
    span = season_span([*days, *held])
    strange = sorted(day for day in days if not span.takes(day))
    apart = {day for day in held if not span.takes(day)}
    if strange or (len(apart) > STRAYS and 2 * len(apart) > len(set(held))):
        raise EvaltrackError(_too_far(path.name, sorted({*days, *held}), strange))


def _too_far(name: str, whole: Sequence[date], strange: Sequence[date]) -> str:
    span = {"name": name, "first": whole[0], "last": whole[-1]}
    if strange:
        return tr(
            "{name}: the practices would reach from {first} to {last}, more than one season; mend the year "
            "of {day}, or make a new season file",
            day=strange[0],
            **span,
        )
    return tr(
        "{name}: the practices would reach from {first} to {last}, more than one season; mend the year, or "
        "make a new season file",
        **span,
    )


def refuse_another_season(season, day: date) -> None:
    """Refuse a form that `load` would not take: its day is too far from the practices of this file."""
    if isinstance(fault := practice_of(day.isoformat()), Fault):
        raise EvaltrackError(str(fault))
    held = [practice.held_on for practice in season.practices.all()]
    if not season_span([day, *held]).takes(day):
        raise EvaltrackError(
            tr(
                "the form would be for {day}, more than a season away from the practices of this file "
                "({span}); name the day of the practice with --date",
                day=day,
                span=season_span(held),
            )
        )


def tell_strays(season) -> None:
    """Say on stderr which practices lie far from the season, and how to put their dates right."""
    practices = season.practices.all()
    span = season_span(practice.held_on for practice in practices)
    for one in practices:
        if not span.takes(one.held_on):
            warn(
                tr(
                    "the practice {key} ({in_full}) lies more than a season away from the others ({span}); "
                    "if the clock was wrong, put it right by:\n  evaltrack correct {path} --practice {key} "
                    "--to-date YYYY-MM-DD\nor leave it out by:\n  evaltrack correct {path} --practice {key} "
                    "--set-aside",
                    key=one.key,
                    in_full=in_full(one.held_on),
                    span=span,
                    path=season.path,
                )
            )


def tell_what_counts_otherwise(season, tallies: Iterable[Tally], filled: Iterable[Practice]) -> None:
    """Say on stderr which lines of a file count for nothing, and where some may count twice.

    Lines that the season has already stay where they are filed, also when that practice was set aside. A file
    whose date was mended has other lines than before: they come to those of a practice that was moved.
    """
    ids = [tally.id for tally in tallies]
    for key, count in season.log.set_aside(ids).items():
        warn(
            tr(
                "{count} of them stand in the practice {key}, which was set aside, and count for "
                "nothing; bring it back by:\n  evaltrack correct {path} --practice {key} --bring-back",
                count=count,
                key=key,
                path=season.path,
            )
        )
    for key, count in season.tally_corrections.set_aside(ids).items():
        warn(
            tr_many(
                "{number} of them was set aside by itself and counts for nothing; what was put right in "
                "that practice is listed by:\n  evaltrack practices {path} --practice {key}\nand taken back "
                "by its number NTH:\n  evaltrack correct {path} --practice {key} --take-back NTH",
                "{number} of them were set aside one by one and count for nothing; what was put right in "
                "that practice is listed by:\n  evaltrack practices {path} --practice {key}\nand taken back "
                "by its number NTH:\n  evaltrack correct {path} --practice {key} --take-back NTH",
                count,
                path=season.path,
                key=key,
            )
        )
    for one in filled:
        if not one.key.startswith(one.held_on.isoformat()):
            warn(
                tr(
                    "the practice of {in_full} was filed under another day before; if this is the file that "
                    "was loaded then, with its date mended, its tries count twice now",
                    in_full=in_full(one.held_on),
                )
            )
