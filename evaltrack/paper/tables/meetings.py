"""An evening of meetings as text for the coach, and as JSON for other programs."""

from collections.abc import Collection, Mapping
from uuid import UUID

from evaltrack.language import Language, speaking, tr
from evaltrack.paper.tables.for_programs import json_text
from evaltrack.rink.meeting_evening import MeetingWish
from evaltrack.rink.placed_evening import PlacedEvening
from evaltrack.rink.player import Player
from evaltrack.words.meetings import clock_words, evening_words, remarks_of, summary_words, wish_words


def as_table(found: PlacedEvening, players: Mapping[UUID, Player], came: Collection[UUID] = ()) -> str:
    """Return the evening to read: in order of time, then what must be said of it."""
    evening = found.evening
    lines = [tr("{name}: {what}", name=evening_words(evening), what=summary_words(evening)), ""]
    for player, slot in evening.in_order():
        table = "  " + tr("table {number}", number=slot.table) if evening.tables > 1 else ""
        marks = ", ".join(
            word for word, is_so in ((tr("locked"), slot.locked), (tr("came"), player in came)) if is_so
        )
        who = f"{players[player].number:>3}  {players[player].name}"
        lines.append(f"{clock_words(slot.start)}{table}  {who}{f'  ({marks})' if marks else ''}")
    remarks = remarks_of(found, _numbers(players))
    return "\n".join([*lines, *([""] if remarks else []), *remarks]) + "\n"


@speaking(Language.ENGLISH)
def as_json(found: PlacedEvening, players: Mapping[UUID, Player], came: Collection[UUID] = ()) -> str:
    """Return the evening as one object; numbers of players are text, because ``0`` and ``00`` differ."""
    evening, numbers = found.evening, _numbers(players)
    content = {
        "day": evening.day.isoformat(),
        "start": f"{evening.start:%H:%M}",
        "minutes": evening.minutes,
        "tables": evening.tables,
        "meetings": [
            {
                "start": f"{slot.start:%H:%M}",
                "end": f"{evening.end_of(slot.start):%H:%M}",
                "table": slot.table,
                "player": numbers[player],
                "locked": slot.locked,
                "came": player in came,
            }
            for player, slot in evening.in_order()
        ],
        "unmet": [
            {
                **_wish(one.wish, numbers),
                "against": [_wish(other, numbers) for other in one.against],
                "locked": [numbers[player] for player in one.locked],
            }
            for one in found.unmet
        ],
        "remarks": remarks_of(found, numbers),
        "optimal": found.proven,
        "gap": round(found.gap, 3),
    }
    return json_text(content)


def _wish(wish: MeetingWish, numbers: Mapping[UUID, str]) -> dict:
    value = f"{wish.at:%H:%M}" if wish.at else wish.table or numbers.get(wish.other)
    return {
        "player": numbers[wish.player],
        "wish": str(wish.kind),
        "value": str(value) if value else None,
        "words": wish_words(wish, numbers),
    }


def _numbers(players: Mapping[UUID, Player]) -> dict[UUID, str]:
    return {ident: player.number for ident, player in players.items()}
