"""What `correct` does with a whole practice: another day, set aside, brought back."""

from datetime import date

from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.paper.tables.practices import Held, contents
from evaltrack.rink.days import in_full, nth
from evaltrack.rink.practice import Amendment, Correction
from evaltrack.words.dating import why_not_held_on

_SO_ALREADY = {
    Amendment.TO_DATE: mark("the practice {key} was held on {day} already; nothing is to be changed"),
    Amendment.SET_ASIDE: mark("the practice {key} is set aside already; nothing is to be changed"),
    Amendment.BRING_BACK: mark("the practice {key} is not set aside; nothing is to be changed"),
}
_WOULD = {
    Amendment.TO_DATE: mark("would move from {was} to {becomes}"),
    Amendment.SET_ASIDE: mark("would be set aside, nothing of it counts"),
    Amendment.BRING_BACK: mark("would be brought back, it counts again"),
}
_DID = {
    Amendment.TO_DATE: mark("moved from {was} to {becomes}"),
    Amendment.SET_ASIDE: mark("is set aside, nothing of it counts"),
    Amendment.BRING_BACK: mark("is brought back, it counts again"),
}


def refuse_unfit(season, held: Held, change: Amendment, day: date | None) -> None:
    """Refuse a change that changes nothing, and a day on which the practice cannot have been held."""
    one = held.practice
    so_already = {
        Amendment.TO_DATE: one.held_on == day,
        Amendment.SET_ASIDE: one.aside,
        Amendment.BRING_BACK: not one.aside,
    }
    if so_already[change]:
        raise EvaltrackError(tr(_SO_ALREADY[change], key=one.key, day=in_full(one.held_on)))
    if day and (why := why_not_held_on(season, one, day)):
        raise EvaltrackError(why)


def practice_correction(held: Held, change: Amendment, day: date | None) -> Correction:
    """Return the correction of a practice, to be noted."""
    was = held.practice.held_on
    return Correction(held.practice.key, change, was, day or was, load_tablet().id)


def said_of_practice(season, held: Held, correction: Correction, dry_run: bool) -> str:
    """Return what changes, and how to take it back."""
    key, was, becomes = correction.practice, in_full(correction.was), in_full(correction.becomes)
    said = tr((_WOULD if dry_run else _DID)[correction.change], was=was, becomes=becomes)
    back = {
        Amendment.TO_DATE: f"--to-date {correction.was}",
        Amendment.SET_ASIDE: "--bring-back",
        Amendment.BRING_BACK: "--set-aside",
    }
    named = {"key": key, "contents": contents(held), "said": said + _beside(season, correction)}
    if correction.change is Amendment.TO_DATE:
        lines = [tr("practice {key} ({contents}): {said}", **named)]
    else:
        lines = [tr("practice {key} of {day} ({contents}): {said}", day=was, **named)]
    if dry_run:
        return "\n".join([*lines, tr("Nothing was changed.")])
    return "\n".join(
        [
            *lines,
            tr("To take it back:"),
            f"  evaltrack correct {season.path} --practice {key} {back[correction.change]}",
        ]
    )


def _beside(season, correction: Correction) -> str:
    """Return a word on the practices that the day has already."""
    if correction.change is not Amendment.TO_DATE:
        return ""
    others = season.practices.held_on(correction.becomes)
    return tr(", the {nth} practice of that day", nth=nth(len(others) + 1)) if others else ""
