"""Print families' pages of every kind as PNG: usual, unusual, and as hard to set as they come."""

import sys
from dataclasses import replace
from pathlib import Path

from family_pages import EDITS, OWN, family_page, standings_of_many
from sample_sheets import SAMPLES

from evaltrack.paper.note.as_pdf import pictures_of
from evaltrack.rink.family_note import NoteEdits
from evaltrack.rink.player import Player, Position

STEM = sys.argv[1]
_LONG = "\n".join(
    f"{day}: we talked about what goes well, what is hard, and what Zoë would like to try next in a game."
    for day in range(1, 31)
)
_ARABIC = "محمد العلي asks good questions.\nشكرا جزيلا، نراكم في مارس."
_LONGEST = "Wolfeschlegelstein-Hausenbergerdorff Maximiliana Konstantina-Alexandra von und zu Kettlebay"


def _named(name: str, words: str = ""):
    player = Player(OWN.number, name, Position.DEFENCE)
    edits = replace(EDITS, coach_words=words or EDITS.coach_words)
    return family_page(player, standings_of_many(player), edits, is_draft=True)


def main() -> None:
    """Print them all, each with a name that tells what it is."""
    sheets = {name: (make(), {}) for name, make in SAMPLES.items()}
    sheets |= {
        "nine_skills": (family_page(is_draft=True), {}),
        "to_write_on": (family_page(edits=None, is_draft=True), {}),
        "long_comment": (family_page(edits=NoteEdits(coach_words=_LONG)), {}),
        "large_print": (family_page(), {"large_print": True}),
        "a4": (family_page(), {"paper": "a4"}),
        "longest_name": (_named(_LONGEST), {}),
        "arabic_name": (_named("محمد العلي", _ARABIC), {}),
        "hebrew_name": (_named("דוד בן־לוי"), {}),
    }
    for name, (sheet, how) in sheets.items():
        for place, picture in enumerate(pictures_of([sheet], **how), 1):
            Path(f"{STEM}-{name.replace('_', '-')}-{place}.png").write_bytes(picture)


if __name__ == "__main__":
    main()
