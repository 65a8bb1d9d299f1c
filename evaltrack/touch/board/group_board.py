"""The whole-group board: one skill, a tile for every player of the practice."""

from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.board_grid import Rect, places_for
from evaltrack.rink.player import Status
from evaltrack.rink.short_names import short_names, shorter_names
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Placement, stacked, tile_rows


class GroupBoard:
    """The players who are here, all in the skill that is watched."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._players: list[UUID] = []
        self._names: dict[UUID, str] = {}
        self._brief: dict[UUID, str] = {}

    def take_up(self) -> bool:
        """Read again who is here."""
        present = sorted(self._desk.attendance.values(), key=lambda a: a.place)
        self._players = [a.player for a in present]
        self._names = short_names(self._desk.known_here())
        self._brief = shorter_names(self._names)
        return True

    @property
    def words(self) -> tuple[str, str]:
        """Return what is watched, and its definition in a few words."""
        skill = self._desk.skills[self._desk.station.skill]
        return skill.name, skill.caption

    def name(self, player: UUID) -> str:
        """Return a player's name as it stands on the board."""
        return self._names.get(player, "")

    def lay_out(self, area: Rect) -> Placement:
        """Place a tile for each player, and leave room at the end for those who may come late."""
        return stacked(area, tile_rows(places_for(len(self._players), len(self._desk.players)), area))

    def faces(self) -> list[Face | None]:
        """Return what each tile shows."""
        return [self.face(place) for place in range(len(self._players))]

    def face(self, place: int) -> Face | None:
        """Return what one tile shows; the place of one who has left the team stays empty."""
        ident, desk = self._players[place], self._desk
        player, here = desk.player(ident), desk.attendance[ident].here
        if player.status is Status.LEFT:
            return None
        return Face(
            player.number,
            self._names[ident],
            *(desk.count(ident, outcome) for outcome in Outcome),
            caption="" if here else tr("not here now"),
            watched=desk.skills[desk.station.skill].suits(*player.positions),
            here=here,
            brief=self._brief.get(ident, ""),
            limit=desk.limit_of(player),
            first=ident in desk.look_first(desk.station.skill),
        )

    def buttons(self) -> list[ButtonFace]:
        """Return what each button shows; this board has none."""
        return []

    def place_of(self, tally: Tally) -> int | None:
        """Return the tile on which a tally counts, or None when it is on another board."""
        same = tally.skill == self._desk.station.skill and tally.player in self._players
        return self._players.index(tally.player) if same else None

    def tally(self, place: int, outcome: Outcome) -> tuple[Tally | None, bool]:
        """Commit a tap, and say whether more than its tile is to be shown again."""
        return self._desk.tally(self._players[place], outcome), False

    def undone(self, tally: Tally) -> bool:
        """Say whether more than a tile is to be shown again when this tally was taken back."""
        return False

    def press(self, index: int) -> None:
        """Do nothing: this board has no buttons."""
