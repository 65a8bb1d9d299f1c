"""The drills in hand while they are changed: begun with those of the season, and saved as a whole."""

from evaltrack.rink.catalogue_change import CatalogueChange
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.words.catalogue import drill_lines


class Drafting:
    """Holds one draft of all drills until it is saved or thrown away; it outlives the screens' visits.

    ``saved`` has in words what the last saving changed, until somebody forgets it.
    """

    def __init__(self, desk: Desk):
        self._desk = desk
        self._season = None
        self.draft: DrillsDraft | None = None
        self.saved: list[str] = []

    def take_up(self) -> DrillsDraft:
        """Return the draft; a new one where nothing was changed in it, or another season is in hand."""
        if self.draft is None or self._season is not self._desk.season or not self.draft.is_changed:
            self.throw_away()
        elif self.draft.skills is not self._desk.skills:
            self.draft.watch(self._desk.skills)
        return self.draft

    def throw_away(self) -> None:
        """Begin again with the drills as the season has them."""
        desk = self._desk
        self._season = desk.season
        self.draft = DrillsDraft(desk.drills, desk.every_drill, desk.skills)

    def waits_for(self) -> list[str]:
        """Return which practices must end before drills can be saved."""
        found: list[str] = []
        desk = self._desk
        desk.told(lambda: found.extend([one.key] if (one := desk.season.practices.running()) else []))
        return found

    def would_change(self) -> list[str]:
        """Return in words what saving would change; the desk says so when nothing can be changed now."""
        if not self.draft.is_changed or self.draft.reading.faults:
            return []
        found: list[CatalogueChange] = []
        desk, drills = self._desk, self.draft.reading.drills
        changes = desk.season.catalogue_changes
        desk.told(lambda: found.extend(changes.set_to(None, drills, (), desk.tablet.id, rehearse=True)))
        return drill_lines(found, [*desk.every_drill, *drills])

    def save(self) -> bool:
        """Save all drills, or none of them and say why."""
        would = self.would_change()
        if self.draft.reading.faults or not self._desk.change_catalogue(drills=self.draft.reading.drills):
            return False
        self.throw_away()
        self.saved = would
        return True
