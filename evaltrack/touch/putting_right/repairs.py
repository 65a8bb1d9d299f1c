"""What is put right in the season in hand; the practice that runs is read again when it is concerned."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.rink.practice import Amendment, Correction, Practice
from evaltrack.rink.tally_correction import Change, Stood, TallyCorrection, Value, correction_of
from evaltrack.touch.desk.desk import Desk

CHANGED = mark("these tallies were put right meanwhile, and stand here as they are now: choose again")
_OPPOSITE = {Amendment.SET_ASIDE: Amendment.BRING_BACK, Amendment.BRING_BACK: Amendment.SET_ASIDE}


class Repairs:
    """Each write says whether it is on disk; why not, the desk's ``message`` tells."""

    def __init__(self, desk: Desk):
        self._desk = desk

    def wanted(
        self, stands: Iterable[Stood], change: Change, value: Value, practice: str
    ) -> TallyCorrection | None:
        """Return what would put tallies right that were made in a practice; None, and told, when nothing."""
        correction = correction_of(stands, change, value, practice, self._desk.tablet.id)
        if correction is None:
            self._desk.message = tr("the chosen tallies are so already: nothing was changed")
        return correction

    def correct(self, correction: TallyCorrection, shown: Iterable[Stood]) -> bool:
        """Put tallies right that were ``shown`` as they stand; nothing, where they stand otherwise by now."""
        desk, meant = self._desk, [one for one in shown if one.tally.id in correction.was]
        correction = replace(correction, at=desk.now())

        def write() -> None:
            with desk.season.together():
                now = {one.tally.id: one for one in desk.season.log.stands(correction.practice)}
                if any(now.get(one.tally.id) != one for one in meant):
                    raise EvaltrackError(tr(CHANGED))
                desk.season.tally_corrections.add(correction)

        return self._save(write)

    def put_in_force(self, correction: TallyCorrection, in_force: bool) -> bool:
        """Take a correction of tallies back, or let it count again."""
        desk = self._desk
        made = desk.season.tally_corrections
        return self._save(lambda: made.put_in_force(correction, in_force, desk.tablet.id, desk.now()))

    def amend(self, practice: Practice, change: Amendment, day: date | None = None) -> bool:
        """Put a whole practice right."""
        desk, was = self._desk, practice.held_on
        correction = Correction(practice.key, change, was, day or was, desk.tablet.id, desk.now())
        return self._save(lambda: desk.season.corrections.add(correction))

    def take_back(self, practice: Practice, correction: Correction) -> bool:
        """Do the opposite of a correction of a practice."""
        if correction.change is Amendment.TO_DATE:
            return self.amend(practice, Amendment.TO_DATE, correction.was)
        return self.amend(practice, _OPPOSITE[correction.change])

    def comment(self, practice: Practice, words: str) -> bool:
        """Note a comment on a practice, in the place of the one before."""
        desk = self._desk
        comments = desk.season.comments
        return desk.save(lambda: comments.write(practice.key, words, desk.tablet.id, desk.now()))

    def delete(self, practice: Practice) -> bool:
        """Delete a practice in which nothing was noted."""
        return self._save(lambda: self._desk.season.corrections.delete(practice.key))

    def _save(self, write: Callable[[], object]) -> bool:
        return self._desk.save(write) and self._desk.told(self._desk.read_again)


def is_in_force(practice: Practice, correction: Correction) -> bool:
    """Say whether a practice is still as a correction left it."""
    if correction.change is Amendment.TO_DATE:
        return practice.held_on == correction.becomes
    return practice.aside == (correction.change is Amendment.SET_ASIDE)
