"""The one object that screens talk to. It has no widgets and needs no window."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.rink.practice import Practice, Rep
from evaltrack.rink.tally import Outcome, Tally, Withdrawal
from evaltrack.touch.desk.joined_in_hand import JoinedInHand
from evaltrack.touch.desk.tally_book import TallyBook
from evaltrack.touch.desk.undone import Act, UndoneActs
from evaltrack.touch.widgets.events import EventSource


class Desk(EventSource, JoinedInHand):
    """The season in hand, the practice that runs, and the tallies that are made in it.

    Writes return what they wrote, or None after a failure, which ``message`` then tells. ``on_tallied`` comes
    after each tally that is on disk, ``on_counted`` when other tablets' came. ``undone`` is what was undone
    and can be done again.
    """

    __events__ = ("on_tallied", "on_counted")

    def __init__(self, clock: Callable[[], int] = now_ms, **kwargs):
        super().__init__(clock, **kwargs)
        self._book, self.undone = TallyBook(), UndoneActs()

    def _read_tallies(self, practice: Practice) -> None:
        self.undone = UndoneActs()
        self._book = TallyBook(self.season.log.tallies(practice=practice.key), self.tablet.id)

    def read_again(self) -> None:
        """Take up what was put right in the tallies of the practice that runs."""
        if self.practice:
            self._read_tallies(self.practice)
            self.property("practice").dispatch(self)

    def _count_again(self) -> None:
        self._book = TallyBook(self.season.log.tallies(practice=self.practice.key), self.tablet.id)
        self.dispatch("on_counted")

    def noted(self, practice: Practice) -> str:
        """Return in words how much is noted in a practice: ``142 tallies of 16 players``."""
        if practice is self.practice:
            return self._book.noted
        return TallyBook(self.season.log.tallies(practice=practice.key)).noted

    def _put_away(self) -> None:
        super()._put_away()
        self._book, self.undone = TallyBook(), UndoneActs()

    def tally(
        self,
        player: UUID,
        outcome: Outcome,
        skill: str | None = None,
        rep: Rep | None = None,
        moment: int | None = None,
        slot: str | None = None,
        along: Callable[[], None] | None = None,
    ) -> Tally | None:
        """Commit one tally and only then count it; of the skill that is watched, and now, unless told.

        ``along`` is a write that goes to disk before it, both or neither of them.
        """
        at = self.station
        skill = skill or at.skill
        tally = Tally(
            practice=at.practice,
            player=player,
            skill=skill,
            outcome=outcome,
            drill=at.drill,
            step=at.step,
            observer=at.observer,
            pressure=at.pressure,
            skill_version=self.skills[skill].version,
            rep=rep and rep.id,
            tablet=self.tablet.id,
            at=self.now() if moment is None else moment,
            slot=slot,
        )
        if not self._commit(tally, along):
            return None
        self.undone.forget()
        return tally

    def tally_again(self, tally: Tally, along: Callable[[], None] | None = None) -> Tally | None:
        """Commit a try once more that was withdrawn: the same one, of the same moment, under a new id.

        ``along`` is a write that goes to disk before it, both or neither of them.
        """
        again = replace(tally, id=new_id(), rep=self.undone.rep_now(tally.rep))
        return again if self._commit(again, along) else None

    def _commit(self, tally: Tally, along: Callable[[], None] | None) -> bool:
        write = (lambda: self._add(tally, along)) if along else lambda: self.season.log.add(tally)
        if not self.save(write, tr("; this tap does not count")):
            return False
        self._book.add(tally)
        self.dispatch("on_tallied")
        return True

    def _add(self, tally: Tally, along: Callable[[], None]) -> None:
        with self.season.together():
            along()
            self.season.log.add(tally)

    def undo(self) -> Tally | None:
        """Withdraw this tablet's last tally of the practice and return it."""
        # and again: the file that came back may have none of this tablet's tallies
        if not (self.total and self.in_place() and self.total):
            return None
        (tally,) = self.last(1)
        fact = Withdrawal(tally.id, self.tablet.id, self.now())
        if not self.save(lambda: self.season.log.withdraw(fact)):
            return None
        self._book.take_back()
        self.undone.note(Act(tally))
        return tally

    def last(self, count: int) -> list[Tally]:
        """Return this tablet's last tallies of the practice, the newest first."""
        return self._book.last(count)

    def tallies_of(self, rep: Rep) -> list[Tally]:
        """Return this tablet's tallies of a rep, in order."""
        return self._book.of(rep.id)

    def give(
        self, owners: Iterable[tuple[Tally, UUID]], along: Callable[[list[tuple[UUID, UUID]]], None]
    ) -> bool:
        """Correct whose tallies are: withdraw each, and note the same try of the player whose it was.

        ``along`` is a write that goes to disk with them, or not at all. It is given the ids of each tally
        that is withdrawn, and of the one that stands for it.
        """
        # an id beside the other, so that the tallies stay in the order in which they were made
        pairs = [(tally, replace(tally, player=player, id=new_id(tally.id))) for tally, player in owners]

        def write() -> None:
            with self.season.together():
                along([(tally.id, other.id) for tally, other in pairs])
                for tally, other in pairs:
                    self.season.log.withdraw(Withdrawal(tally.id, self.tablet.id, self.now()))
                    self.season.log.add(other)

        saved = self.save(write)
        for tally, other in pairs if saved else ():
            self._book.give(tally, other)
        return saved

    @property
    def total(self) -> int:
        """Return how many tallies this tablet made in the practice."""
        return self._book.total

    @property
    def others(self) -> int:
        """Return how many tallies other tablets had made in the practice when it was taken up here."""
        return self._book.others

    def count(self, player: UUID, outcome: Outcome, skill: str | None = None) -> int:
        """Return a player's tallies of an outcome today, in the skill that is watched or another."""
        return self._book.count(player, skill or self.station.skill, outcome)
