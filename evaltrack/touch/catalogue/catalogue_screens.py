"""How home leads to the skills, and these to the form for one of them; each comes when it is asked for."""

from functools import partial

from evaltrack.rink.skill import Skill

_LIST, _FORM = "skills", "skill_form"


class CatalogueScreens:
    """A part of the app."""

    def _make_skills(self):
        from evaltrack.touch.catalogue.skills_screen import SkillsScreen

        screen = SkillsScreen(name=_LIST, desk=self.desk, worker=self.worker)
        screen.bind(on_back=partial(self.go, "home"), on_skill=self._to_skill_form)
        return screen

    def _make_skill_form(self):
        from evaltrack.touch.catalogue.skill_form import SkillForm

        screen = SkillForm(self.review, self.worker, name=_FORM, desk=self.desk)
        screen.bind(on_done=partial(self.go, _LIST))
        return screen

    def _to_skill_form(self, _, skill: Skill | None) -> None:
        if self.screen(_FORM).open(skill):
            self.go(_FORM)
