"""The command that puts a practice or its tallies right; every correction can be taken back."""

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

import click

from evaltrack.cli.asking import command, dry_run, option, season_file
from evaltrack.cli.kinds import Clock, Day
from evaltrack.cli.practice_corrections import practice_correction, refuse_unfit, said_of_practice
from evaltrack.cli.tally_corrections import (
    Chosen,
    Wanted,
    correction_numbered,
    correction_wanted,
    said_of,
    said_of_force,
)
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, practice_asked_for
from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.paper.tables.practices import Held
from evaltrack.rink.practice import Amendment
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_correction import Change

_CORRECT = """\b
Example:  evaltrack correct lanterns.db --practice 2010-01-01 --to-date 2026-01-13 --dry-run
          evaltrack correct lanterns.db --practice 2026-01-20.2 --set-aside
          evaltrack correct lanterns.db --practice 2026-01-20 --player 7 --from 18:05 --to-player 11
          evaltrack correct lanterns.db --practice 2026-01-20 --take-back 1
"""
_OUTCOMES = click.Choice([outcome.value for outcome in Outcome])
_CHANGES = {
    "to_player": Change.PLAYER,
    "to_skill": Change.SKILL,
    "to_outcome": Change.OUTCOME,
    "to_step": Change.STEP,
    "to_pressure": Change.PRESSURE,
    "to_practice": Change.PRACTICE,
}
_AT_ONCE = {
    # what is done, only rehearsed
    ("delete", False): mark("practice {key}: it is deleted"),
    ("delete", True): mark("practice {key}: it would be deleted"),
    ("comment", False): mark("practice {key}: the comment is noted"),
    ("comment", True): mark("practice {key}: the comment would be noted"),
    ("", False): mark("practice {key}: the comment is taken away"),
    ("", True): mark("practice {key}: the comment would be taken away"),
}
_WHOLE = ("to_date", "take_back", "count_again", "comment", "delete")  # of these no tallies are chosen


@command(epilog=_CORRECT)
@season_file
@option("--practice", "key", required=True, metavar="KEY", help="As `practices` lists it.")
@option("--player", metavar="NUMBER", help="Only tallies of this player.")
@option("--skill", metavar="KEY", help="Only tallies of this skill.")
@option("--drill", metavar="KEY", help="Only tallies of this drill.")
@option("--outcome", type=_OUTCOMES, help="Only tallies of this outcome.")
@option("--from", "first", type=Clock(), metavar="HH:MM", help="Only tallies from this time of day on.")
@option("--until", type=Clock(), metavar="HH:MM", help="Only tallies until the end of this minute.")
@option("--to-player", metavar="NUMBER", help="They were this player's.")
@option("--to-skill", metavar="KEY", help="They were tries of this skill.")
@option("--to-outcome", type=_OUTCOMES, help="This came of them.")
@option("--to-step", metavar="DRILL/STEP", help="They were made in this step.")
@option("--to-pressure", type=click.Choice(["yes", "no", "unknown"]), help="Pressure or not.")
@option("--to-practice", metavar="KEY", help="They were made in this practice of the same day.")
@option("--to-date", type=Day(), metavar="DATE", help="The practice was held on this day.")
@option("--set-aside", is_flag=True, help="Nothing of it counts any more; of chosen tallies, these.")
@option("--bring-back", is_flag=True, help="It counts again; of chosen tallies, these.")
@option("--take-back", type=click.IntRange(1), metavar="NTH", help="Correction NTH counts no more.")
@option("--count-again", type=click.IntRange(1), metavar="NTH", help="Correction NTH counts again.")
@option("--comment", metavar="TEXT", help="What the staff wants to keep of it; '' takes it away.")
@option("--delete", is_flag=True, help="Delete a practice in which nothing was noted.")
@dry_run
def correct(season_file: Path, key: str, dry_run: bool, **words) -> None:
    """Put a practice right, or tallies of it: whose they were, what was tried, what came of it.

    Nothing is deleted: a correction is noted beside what was noted before, is listed by `practices`, and can
    be taken back.
    """
    chosen = _chosen(words)
    wish = _wish(words, chosen)
    with opened(season_file) as season:
        held = practice_asked_for(season, key)
        write, said = _worked_out(season, held, chosen, wish, words[wish], dry_run)
        _put_right(season, held, write, dry_run)
        text = said()
    tell(text)


def _chosen(words: dict) -> Chosen:
    return Chosen(*(words[name] for name in ("player", "skill", "drill", "outcome", "first", "until")))


def _wish(words: dict, chosen: Chosen) -> str:
    """Return what is asked for; refuse none and several, and a choice of tallies where none is to be made."""
    names = (*_CHANGES, *_WHOLE, "set_aside", "bring_back")
    asked = [name for name in names if words[name] not in (None, False)]
    if len(asked) != 1:
        options = ", ".join(f"--{name.replace('_', '-')}" for name in names)
        raise click.UsageError(tr("name one of {options}", options=options))
    (wish,) = asked
    option = f"--{wish.replace('_', '-')}"
    if chosen.said and wish in _WHOLE:
        raise click.UsageError(
            tr(
                "{option} is of no single tallies: leave out {options}",
                option=option,
                options=", ".join(chosen.said),
            )
        )
    if not chosen.said and wish in _CHANGES and wish != "to_practice":
        raise click.UsageError(
            tr(
                "{option} needs to know of which tallies: name --player, --skill, --drill, --outcome, "
                "--from or --until",
                option=option,
            )
        )
    return wish


def _worked_out(
    season, held: Held, chosen: Chosen, wish: str, value: object, dry_run: bool
) -> tuple[Callable[[], object], Callable[[], str]]:
    """Return what writes the correction, and what says in words what it did or would do."""
    if wish in ("take_back", "count_again"):
        return _force(season, held, int(value), wish == "count_again", dry_run)
    if wish in ("comment", "delete"):
        return _at_once(season, held.practice.key, wish, value, dry_run)
    if wish == "to_date" or not (chosen.said or wish in _CHANGES):
        return _of_practice(season, held, wish, value, dry_run)
    wanted = Wanted(_CHANGES[wish], value) if wish in _CHANGES else Wanted(Change.ASIDE, wish == "set_aside")
    correction, stands = correction_wanted(season, held, chosen, wanted)
    write = partial(season.tally_corrections.add, correction)
    return write, partial(said_of, season, held, correction, stands, dry_run)


def _at_once(season, key: str, wish: str, value: object, dry_run: bool):
    said = tr(_AT_ONCE["delete" if wish == "delete" else "comment" if value else "", dry_run], key=key)
    if wish == "delete":
        season.corrections.refuse_to_delete(key)
        return partial(season.corrections.delete, key), lambda: said
    write = partial(season.comments.write, key, str(value), load_tablet().id)
    return write, lambda: said


def _of_practice(season, held: Held, wish: str, value: object, dry_run: bool):
    change, day = Amendment(wish), value if isinstance(value, date) else None
    refuse_unfit(season, held, change, day)
    correction = practice_correction(held, change, day)
    text = said_of_practice(season, held, correction, dry_run)
    return partial(season.corrections.add, correction), lambda: text


def _force(season, held: Held, number: int, in_force: bool, dry_run: bool):
    correction = correction_numbered(season, held, number, in_force)
    write = partial(season.tally_corrections.put_in_force, correction, in_force, load_tablet().id)
    return write, partial(said_of_force, season, held, correction, number, in_force, dry_run)


def _put_right(season, held: Held, write: Callable[[], object], dry_run: bool) -> None:
    """Note the correction; while an app window has the season file, not of a practice that runs there."""
    from evaltrack.device.season_claim import SeasonClaim

    claim = SeasonClaim()
    try:
        if not claim.take(season.path) and held.runs:
            raise EvaltrackError(
                tr(
                    "the practice {key} runs in an open window of the app; end it there or close that "
                    "window, and correct it then",
                    key=held.practice.key,
                )
            )
        if not dry_run:
            write()
    finally:
        claim.leave()
