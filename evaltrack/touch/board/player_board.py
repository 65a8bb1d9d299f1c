"""The board of one player: a tile for each skill of their positions, and a button for each player."""

from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.board_grid import Rect, places_for
from evaltrack.rink.short_names import short_names, shorter_names
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Placement, stacked, tile_rows
from evaltrack.touch.tiles.rep_layout import buttons_under


class PlayerBoard:
    """One player and their skills, those of the step first."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._players: list[UUID] = []
        self._names: dict[UUID, str] = {}
        self._brief: dict[UUID, str] = {}
        self._player: UUID | None = None
        self._skills: list[Skill] = []

    def take_up(self) -> bool:
        """Read again who is here, and which skills come first."""
        desk = self._desk
        present = sorted(desk.attendance.values(), key=lambda a: a.place)
        team = {player.id for player in desk.players}
        self._players = [a.player for a in present if a.player in team] or [a.player for a in present]
        self._names = short_names(desk.known_here())
        self._brief = shorter_names(self._names)
        self._choose(self._player if self._player in self._players else self._likely())
        return True

    def _choose(self, player: UUID) -> None:
        """Watch a player, in the skills of their own positions: never in those of the one before."""
        positions = self._desk.player(player).positions
        self._player = player
        self._skills = [skill for skill in self._desk.watched_skills() if skill.suits(*positions)]

    def _likely(self) -> UUID:
        """Return the player that this tablet watched last, or tallied last, or the first one."""
        kept = [ident for ident in self._players if ident.hex == self._desk.tablet.player]
        last = [tally.player for tally in self._desk.last(1) if tally.player in self._players]
        return (kept + last + self._players)[0]

    @property
    def words(self) -> tuple[str, str]:
        """Return who is watched."""
        player = self._desk.player(self._player)
        about = player.position_words, self._desk.limit_of(player), tr("the skills of this step first")
        return f"{player.number}  {player.name}", ", ".join(filter(None, about))

    def name(self, player: UUID) -> str:
        """Return a player's name as it stands on the board."""
        return self._names.get(player, "")

    def lay_out(self, area: Rect) -> Placement:
        """Place a tile for each skill, and under them a button for each player and room for late ones."""
        buttons = buttons_under(places_for(len(self._players), len(self._desk.players)), 0, area)
        high = sum(share for share, _ in buttons)
        above = Rect(area.x, area.y, area.width, area.height * (1 - high))
        tiles = [(share * (1 - high), parts) for share, parts in tile_rows(len(self._skills), above)]
        return stacked(area, [*tiles, *buttons])

    def faces(self) -> list[Face | None]:
        """Return what each tile shows."""
        return [self.face(place) for place in range(len(self._skills))]

    def face(self, place: int) -> Face | None:
        """Return what one tile shows."""
        skill, here = self._skills[place], self._desk.attendance[self._player].here
        counts = [self._desk.count(self._player, outcome, skill.key) for outcome in Outcome]
        return Face("", skill.name, *counts, caption=skill.caption if here else tr("not here now"), here=here)

    def buttons(self) -> list[ButtonFace]:
        """Return a button for each player, in the order of their places on the group's board."""
        return [self._button(ident) for ident in self._players]

    def _button(self, ident: UUID) -> ButtonFace:
        player, here = self._desk.player(ident), self._desk.attendance[ident].here
        small = self._desk.limit_of(player) if here else tr("not here")
        chosen = ident == self._player
        return ButtonFace(self._names[ident], player.number, small, chosen, brief=self._brief.get(ident, ""))

    def place_of(self, tally: Tally) -> int | None:
        """Return the tile on which a tally counts, or None when it is of another player."""
        keys = [skill.key for skill in self._skills]
        return keys.index(tally.skill) if tally.player == self._player and tally.skill in keys else None

    def tally(self, place: int, outcome: Outcome) -> tuple[Tally | None, bool]:
        """Commit a tap, and say whether more than its tile is to be shown again."""
        return self._desk.tally(self._player, outcome, self._skills[place].key), False

    def undone(self, tally: Tally) -> bool:
        """Say whether more than a tile is to be shown again when this tally was taken back."""
        return False

    def press(self, index: int) -> None:
        """Watch another player."""
        self._choose(self._players[index])
        self._desk.remember(player=self._player.hex)
