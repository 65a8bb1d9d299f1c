"""A player as the form has them: what is wrong with it, and whom it changes. No widgets."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from evaltrack.intake.roster import LONGEST_NAME, MOST_PLAYERS, birth_year_fault, jersey_number
from evaltrack.intake.text import folded, name_fault
from evaltrack.language import tr
from evaltrack.rink.player import Player, Position, Status

MOST_DIGITS = 3
_OTHER = {Position.DEFENCE: Position.FORWARD, Position.FORWARD: Position.DEFENCE}


@dataclass
class PlayerDraft:
    """What stands in the form.

    ``known`` are all players of the season; ``player`` is who is changed, None for a new one. ``position`` is
    None until it is chosen; ``both`` says that a skater plays in the other group too. ``swaps`` says that
    whoever wears the number takes this player's in return.
    ``birth_year`` is as it was typed, empty for none; ``away_until`` counts while the status is away.
    """

    known: tuple[Player, ...]
    player: Player | None = None
    number: str = ""
    name: str = ""
    position: Position | None = None
    status: Status = Status.FULL
    swaps: bool = False
    birth_year: str = ""
    away_until: date | None = None
    both: bool = False

    @classmethod
    def of(cls, player: Player | None, known: Iterable[Player]) -> "PlayerDraft":
        """Return the draft of a player as they are, or an empty one."""
        if player is None:
            return cls(tuple(known))
        made = cls(tuple(known), player, player.number, player.name, player.position, player.status)
        made.birth_year = str(player.birth_year or "")
        made.away_until, made.both = player.away_until, player.also is not None
        return made

    @property
    def other(self) -> Position | None:
        """Return the group in which the player could play too; None for a goalie, or before one is chosen."""
        return _OTHER.get(self.position)

    @property
    def wearer(self) -> Player | None:
        """Return the other player of the team who wears the number."""
        worn = jersey_number(self.number)
        if worn is None or self.status is Status.LEFT:
            return None
        others = (one for one in self.known if one != self.player and one.status is not Status.LEFT)
        return next((one for one in others if one.number == worn), None)

    @property
    def can_swap(self) -> bool:
        """Say whether the two can take each other's numbers: one who comes to the team has none to give."""
        on_team = self.player is not None and self.player.status is not Status.LEFT
        return on_team and self.wearer is not None

    def complaints(self) -> dict[str, str]:
        """Return what is wrong, by field: ``number``, ``name``, ``position``, ``birth_year``."""
        found = {
            "number": self._number_fault(),
            "name": self._name_fault(),
            "position": "" if self.position else tr("Choose a position."),
            "birth_year": birth_year_fault(self.birth_year),
        }
        return {field: text for field, text in found.items() if text}

    def _number_fault(self) -> str:
        if not self.number:
            return tr("Type the number on the jersey.")
        if self.wearer and not self.swaps:
            return tr("{name} wears {number}.", name=self.wearer.name, number=self.wearer.number)
        if self.player or self._team_size < MOST_PLAYERS:
            return ""
        return tr("A team has {most} at most.", most=MOST_PLAYERS)

    def _name_fault(self) -> str:
        name = folded(self.name)
        fault = name_fault(name, tr("the name"), LONGEST_NAME) if name else tr("write the name")
        return fault and f"{fault[0].upper()}{fault[1:]}."

    @property
    def _team_size(self) -> int:
        return sum(one.status is not Status.LEFT for one in self.known)

    def result(self) -> list[Player]:
        """Return the players who change, as they are afterwards; of a draft without complaints."""
        made = {"number": jersey_number(self.number), "name": folded(self.name)}
        made |= {"position": self.position, "status": self.status}
        made["also"] = self.other if self.both else None
        made["birth_year"] = int(self.birth_year) if self.birth_year else None
        made["away_until"] = self.away_until if self.status is Status.AWAY else None
        if self.player is None:
            return [Player(**made)]
        changed = replace(self.player, **made)
        other = [replace(self.wearer, number=self.player.number)] if self.swaps and self.can_swap else []
        return [changed, *other] if changed != self.player else []
