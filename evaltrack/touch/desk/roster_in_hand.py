"""The roster of the season in hand, and what a change of it means for the practice that runs."""

from collections.abc import Iterable
from datetime import date, timedelta

from evaltrack.rink.days import season_span
from evaltrack.rink.player import Player, Status
from evaltrack.rink.practice import Attendance, local_day
from evaltrack.touch.desk.planned_practice import PlannedPractice


class RosterInHand(PlannedPractice):
    """Who is on the team: ``players`` are, ``everyone`` has those who have left too."""

    def change_roster(self, players: Iterable[Player]) -> bool:
        """Put players in place of those with their ids, and add new ones; all or none.

        A practice that runs has them at once: who joins is here, and who leaves is not any more.
        """
        players = list(players)

        def write() -> None:
            with self.season.together():
                self.season.people.change(players, self._roster_day(), self.tablet.id)
                if self.practice:
                    self.season.practices.mark(self.practice.key, self._moved_by(players), self.tablet.id)

        return self.save(write) and self.told(self._take_up_roster)

    def _roster_day(self) -> date:
        """Return from which day a change holds: today, and no day before the last practice.

        On a tablet whose clock was reset old practices would show the new numbers otherwise, and on one whose
        clock runs ahead, or has run ahead once, the practices to come would show the old ones.
        """
        today = local_day(self.now()) or date.today()
        span = season_span(practice.held_on for practice in self.season.practices.all())
        if span is None:
            return today
        if span.takes(today):
            return max(today, span.last)
        return span.last if self.practice or today < span.first else span.last + timedelta(1)

    def _moved_by(self, players: list[Player]) -> list[Attendance]:
        left = {player.id for player in players if player.status is Status.LEFT}
        joined = [p for p in players if p.id not in self._by_id and not p.is_away(self.practice.held_on)]
        here = self.here()
        stay = [player for player in here if player.id not in left]
        return self._places(self.practice.key, [*stay, *joined], {player.id for player in here})

    def _take_up_roster(self) -> None:
        self._learn_players(tuple(self.season.people.everyone()))
        if self.practice:
            self._read_attendance(self.practice.key)
            self.property("practice").dispatch(self)
