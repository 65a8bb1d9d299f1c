"""The command that puts a practice right: another day, set aside, brought back."""

from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import command, dry_run, season_file
from evaltrack.cli.kinds import Day
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, practice_asked_for
from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables.practices import Held, contents
from evaltrack.rink.days import SEASON_DAYS, in_full, nth, season_span
from evaltrack.rink.practice import Amendment, Correction, local_day

_CORRECT = """\b
Example:  evaltrack correct lanterns.db --practice 2010-01-01 --to-date 2026-01-13 --dry-run
          evaltrack correct lanterns.db --practice 2010-01-01 --to-date 2026-01-13
          evaltrack correct lanterns.db --practice 2026-01-20.2 --set-aside
          evaltrack correct lanterns.db --practice 2026-01-20.2 --bring-back
"""


@command(epilog=_CORRECT)
@season_file
@click.option("--practice", "key", required=True, metavar="KEY", help="As `practices` lists it.")
@click.option("--to-date", "day", type=Day(), metavar="DATE", help="It was held on this day.")
@click.option("--set-aside", is_flag=True, help="Nothing of it counts any more.")
@click.option("--bring-back", is_flag=True, help="It counts again.")
@dry_run
def correct(
    season_file: Path, key: str, day: date | None, set_aside: bool, bring_back: bool, dry_run: bool
) -> None:
    """Put a practice right: the day on which it was held, or whether it counts.

    Nothing is deleted: a correction is noted beside the practice, and another one takes it back.
    """
    if (day is not None) + set_aside + bring_back != 1:
        raise click.UsageError("name one of --to-date, --set-aside and --bring-back")
    change = Amendment.TO_DATE if day else Amendment.SET_ASIDE if set_aside else Amendment.BRING_BACK
    with opened(season_file) as season:
        held = practice_asked_for(season, key)
        _refuse_unfit(season, held, change, day)
        correction = _correction(held, change, day)
        said = _said(season, held, correction, dry_run)
        _put_right(season, held, correction, dry_run)
    tell(said)


def _refuse_unfit(season, held: Held, change: Amendment, day: date | None) -> None:
    one = held.practice
    nothing = {
        Amendment.TO_DATE: one.held_on == day and f"was held on {in_full(one.held_on)} already",
        Amendment.SET_ASIDE: one.aside and "is set aside already",
        Amendment.BRING_BACK: not one.aside and "is not set aside",
    }
    if nothing[change]:
        raise EvaltrackError(f"the practice {one.key} {nothing[change]}; nothing is to be changed")
    if day and day > date.today():
        raise EvaltrackError(f"{day} has not come yet; name the day on which the practice was held")
    if day and not _in_season(season, held, day):
        raise EvaltrackError(
            f"{in_full(day)} is in no season of this file{_span_of_others(season, held)}; mend the date"
        )


def _in_season(season, held: Held, day: date) -> bool:
    """Say whether a day fits the other practices, or the file's first year, or was this practice's before."""
    if day in {correction.was for correction in held.corrections}:
        return True
    made = local_day(season.created_at)
    if made and abs((day - made).days) <= SEASON_DAYS:
        return True
    span = _others(season, held)
    return bool(span and span.takes(day))


def _others(season, held: Held):
    return season_span(one.held_on for one in season.practices.all() if one.key != held.practice.key)


def _span_of_others(season, held: Held) -> str:
    span = _others(season, held)
    return f" (practices: {span})" if span else ""


def _correction(held: Held, change: Amendment, day: date | None) -> Correction:
    from evaltrack.device.tablet import load_tablet

    was = held.practice.held_on
    return Correction(held.practice.key, change, was, day or was, load_tablet().id)


def _put_right(season, held: Held, correction: Correction, dry_run: bool) -> None:
    """Note the correction; while an app window has the season file, not of a practice that runs there."""
    from evaltrack.device.season_claim import SeasonClaim

    claim = SeasonClaim()
    try:
        if not claim.take(season.path) and held.runs:
            raise EvaltrackError(
                f"the practice {held.practice.key} runs in an open window of the app; "
                "end it there or close that window, and correct it then"
            )
        if not dry_run:
            season.corrections.add(correction)
    finally:
        claim.leave()


def _said(season, held: Held, correction: Correction, dry_run: bool) -> str:
    """Return what changes, and how to take it back."""
    key, was, becomes = correction.practice, in_full(correction.was), in_full(correction.becomes)
    said = {
        Amendment.TO_DATE: f"{'would move' if dry_run else 'moved'} from {was} to {becomes}",
        Amendment.SET_ASIDE: f"{'would be' if dry_run else 'is'} set aside, nothing of it counts",
        Amendment.BRING_BACK: f"{'would be' if dry_run else 'is'} brought back, it counts again",
    }
    back = {
        Amendment.TO_DATE: f"--to-date {correction.was}",
        Amendment.SET_ASIDE: "--bring-back",
        Amendment.BRING_BACK: "--set-aside",
    }
    day = "" if correction.change is Amendment.TO_DATE else f" of {was}"
    lines = [
        f"practice {key}{day} ({contents(held)}): {said[correction.change]}{_beside(season, correction)}"
    ]
    if dry_run:
        return "\n".join([*lines, "Nothing was changed."])
    return "\n".join(
        [
            *lines,
            "To take it back:",
            f"  evaltrack correct {season.path} --practice {key} {back[correction.change]}",
        ]
    )


def _beside(season, correction: Correction) -> str:
    """Return a word on the practices that the day has already."""
    if correction.change is not Amendment.TO_DATE:
        return ""
    others = season.practices.held_on(correction.becomes)
    return f", the {nth(len(others) + 1)} practice of that day" if others else ""
