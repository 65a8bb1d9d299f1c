"""How the screens after the bench lead to one another; each comes when it is asked for."""

from functools import cached_property, partial

_TEAM, _PLAYER, _SKILL, _COVERAGE, _AGREEMENT = "team", "player", "skill", "coverage", "agreement"


class ReviewScreens:
    """A part of the app."""

    @cached_property
    def review(self):
        """Return the standings that the screens share, made when somebody first asks for them."""
        from evaltrack.touch.review.review import Review

        return Review(self.desk, self.worker)

    def _make_team(self):
        from evaltrack.touch.review.team_screen import TeamScreen

        screen = TeamScreen(name=_TEAM, desk=self.desk, review=self.review)
        screen.bind(
            on_back=partial(self.go, "home"),
            on_player=self._to_player,
            on_skill=self._to_skill,
            on_coverage=partial(self.go, _COVERAGE),
            on_agreement=partial(self.go, _AGREEMENT),
        )
        return screen

    def _make_skill(self):
        from evaltrack.touch.review.skill_screen import SkillScreen

        screen = SkillScreen(name=_SKILL, desk=self.desk, review=self.review, worker=self.worker)
        screen.bind(on_back=partial(self.go, _TEAM), on_player=self._to_player)
        return screen

    def _make_coverage(self):
        from evaltrack.touch.review.coverage_screen import CoverageScreen

        screen = CoverageScreen(name=_COVERAGE, desk=self.desk, worker=self.worker)
        screen.bind(on_back=partial(self.go, _TEAM), on_player=self._to_player)
        return screen

    def _make_agreement(self):
        from evaltrack.touch.review.agreement_screen import AgreementScreen

        screen = AgreementScreen(name=_AGREEMENT, desk=self.desk, review=self.review, worker=self.worker)
        screen.bind(on_back=partial(self.go, _TEAM))
        return screen

    def _to_skill(self, _, key: str) -> None:
        self.screen(_SKILL).skill = key
        self.go(_SKILL)

    def _make_player(self):
        from evaltrack.touch.review.player_screen import PlayerScreen

        screen = PlayerScreen(name=_PLAYER, desk=self.desk, review=self.review, worker=self.worker)
        screen.bind(on_back=self._from_player, on_note=self._to_note)
        return screen

    def _to_player(self, screen, number: str) -> None:
        self._player_from = screen.name if screen else _TEAM
        self.go(_PLAYER)
        self.screens.get_screen(_PLAYER).number = number

    def _from_player(self, *_) -> None:
        self.go(self._player_from)
