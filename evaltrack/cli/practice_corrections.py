"""What `correct` does with a whole practice: another day, set aside, brought back."""

from datetime import date

from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables.practices import Held, contents
from evaltrack.rink.days import in_full, nth
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.words.dating import why_not_held_on


def refuse_unfit(season, held: Held, change: Amendment, day: date | None) -> None:
    """Refuse a change that changes nothing, and a day on which the practice cannot have been held."""
    one = held.practice
    nothing = {
        Amendment.TO_DATE: one.held_on == day and f"was held on {in_full(one.held_on)} already",
        Amendment.SET_ASIDE: one.aside and "is set aside already",
        Amendment.BRING_BACK: not one.aside and "is not set aside",
    }
    if nothing[change]:
        raise EvaltrackError(f"the practice {one.key} {nothing[change]}; nothing is to be changed")
    if day and (why := why_not_held_on(season, one, day)):
        raise EvaltrackError(why)


def practice_correction(held: Held, change: Amendment, day: date | None) -> Correction:
    """Return the correction of a practice, to be noted."""
    was = held.practice.held_on
    return Correction(held.practice.key, change, was, day or was, load_tablet().id)


def said_of_practice(season, held: Held, correction: Correction, dry_run: bool) -> str:
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
