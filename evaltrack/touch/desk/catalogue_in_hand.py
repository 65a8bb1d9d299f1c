"""The skills and drills of the season in hand, and what a change of them means for the practice that runs."""

from collections.abc import Collection, Sequence

from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill
from evaltrack.touch.desk.roster_in_hand import RosterInHand


class CatalogueInHand(RosterInHand):
    """What is watched and trained: ``skills`` and ``drills`` are those in use."""

    def skill(self, key: str) -> Skill:
        """Return a skill, also one that is retired: a tally may be of it."""
        if key in self.skills:
            return self.skills[key]
        return next(skill for skill in self.retired_skills() if skill.key == key)

    def retired_skills(self) -> list[Skill]:
        """Return the skills that are not in use any more."""
        return [s for s in self.season.catalogue.skills(retired=True) if s.key not in self.skills]

    def change_catalogue(
        self,
        skills: Sequence[Skill] | None = None,
        drills: Sequence[Drill] | None = None,
        same: Collection[str] = (),
    ) -> bool:
        """Let the season have just these skills and drills, in their order; all or nothing.

        A practice that runs has them at once; while one does, nothing can be taken from it.

        Parameters
        ----------
        skills, drills : None leaves them as they are.
        same : the skills of which another definition says the same in better words.
        """

        def write() -> None:
            self.season.catalogue_changes.set_to(skills, drills, same, self.tablet.id)

        return self.save(write) and self.told(self._take_up_catalogue)

    def _take_up_catalogue(self) -> None:
        self._learn_again()
        if self.practice:
            self.property("practice").dispatch(self)
