"""Packs of another tablet taken in while the app has the season in hand: between two taps."""

from kivy.properties import BooleanProperty

from evaltrack.errors import NotSavedError
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.merge_rules import PLAIN
from evaltrack.store.packs.pack_file import Pack
from evaltrack.touch.desk.catalogue_in_hand import CatalogueInHand


class JoinedInHand(CatalogueInHand):
    """What comes of packs for all that was read of the season before.

    ``apart`` says that another tablet that was together with this one is so no more, until the practice ends:
    the counts of the board are this tablet's alone from then on.
    """

    apart = BooleanProperty(False)

    def on_practice(self, _, practice) -> None:
        """Let go with a practice who was together in it."""
        if practice is None:
            self.apart = False

    def take_in(self, name: str, pack: Pack) -> Joined:
        """Join a pack, and take up what it changed; EvaltrackError says why it was refused.

        It is written through the connection that taps go through, so no tap meets another one's lock.
        """
        if not self.in_place():
            raise NotSavedError(self.message)
        joined = self.season.packs.join([(name, pack)])
        if not joined.new.keys() <= {*PLAIN} or joined.renamed:
            self._take_up_joined()
        elif joined.new.total() and self.practice:
            self._count_again()
        if joined.new.total():
            self.changed += 1
        return joined

    def _take_up_joined(self) -> None:
        self._learn_again()
        if self.practice is None:
            return
        before = self.practice, self.station
        found = self.season.practices.running_at(self.tablet.id)
        self.practice = self.station = None  # so that the screens follow, even when they come back the same
        if found:
            self._take_up(*found)
        elif before[0].key in {one.key for one in self.season.practices.every()}:
            self._take_up(*before)  # ended on the other tablet: whoever still taps here goes on

    def _count_again(self) -> None:
        """Count what others tallied; whoever keeps tallies says how."""
