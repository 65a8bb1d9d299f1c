"""Families' pages of the invented team, for the tests of every form in which they are given away."""

from dataclasses import replace
from datetime import date

from lantern_pages import DAYS, roster, skills, standing

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family.drafting import draft_sheet
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.presence import Presence
from evaltrack.words.family.sheet import FamilySheet

TEAM = "Kettle Bay Lanterns 12U"
OWN = Player("7", "Zoë Łukasik", Position.DEFENCE)
EDITS = NoteEdits(
    coach_words="A joy to coach, every day.\nAsk about the summer camp.",
    agreed=(Agreed("Ten wall passes a day", "an aunt", date(2026, 3, 1)), Agreed("Skates sharpened weekly")),
    meeting=date(2026, 1, 20),
    coach="Ottmar Rehn",
)
HOSTILE = (
    """#panic[x] *a* = - `b` $x^2$ <label> @ref \\ // /* "quotes" 'n' {{}} %s ../../etc/passwd""",
    "</p><script>alert(1)</script><!-- & &amp; &#0; ]]> <?xml?> <w:t>t</w:t>",
    "Łódź, Ελλάδα, Москва, שלום, مرحبا",
)


def standings_of_many(player: Player = OWN) -> list:
    """Return standings in every skill that suits a player, with every call and every trend."""
    calls = (Call.SOLID, Call.IN_BETWEEN, Call.WORK_ON)
    trends = (Trend.NO_CLEAR_CHANGE, Trend.UP, Trend.DOWN)
    made = []
    for place, skill in enumerate(one for one in skills() if one.suits(player.position)):
        seen = [(5, 4 - place % 3), (6, 5 - place % 4), (7, 6 - place % 3)]
        call, trend = calls[place % 3], trends[(place + 1) % 3] if place % 3 == 1 else trends[0]
        made.append(standing(skill.key, seen, player=player.number, call=call, trend=trend))
    return [*made[:-1], replace(made[-1], call=Call.TOO_FEW)]


def family_page(
    player: Player = OWN,
    standings=None,
    edits: NoteEdits | None = EDITS,
    is_draft: bool = False,
    presence: Presence | None = None,
    team: str = TEAM,
) -> FamilySheet:
    """Return a page; as it stands, one with every part that a page can have."""
    presence = presence or Presence(24, 24, DAYS[0], DAYS[-1])
    known = {skill.key: skill for skill in skills()}
    ground = Ground(team, DateAxis(DAYS[0], DAYS[-1]), known, {player.id: presence})
    told = standings_of_many(player) if standings is None else standings
    return draft_sheet(ground, player, told, edits, is_draft)


def others() -> list[Player]:
    """Return the rest of the roster."""
    return [player for player in roster() if player.name != OWN.name]
