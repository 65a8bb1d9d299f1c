"""What a coach must look at before a family's page is printed or sent."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evaltrack.device.added_fonts import fonts_folder
from evaltrack.language import tr
from evaltrack.paper.note.other_children.mentions import full_names_in, parts_of_names_in
from evaltrack.paper.note.placed import COACH, Placed, placed_texts
from evaltrack.rink.plain_text import folded, is_hidden
from evaltrack.rink.player import Player
from evaltrack.words.family.sheet import FamilySheet

_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


@dataclass(frozen=True, slots=True)
class Concern:
    """One sentence for the coach.

    ``stops`` says that the page must not be printed as it is, ``is_letter`` that it tells of a letter that
    no font has.
    """

    sentence: str
    stops: bool = False
    is_letter: bool = False


def concerns(
    page: FamilySheet, player: Player, others: Iterable[Player], on_paper: bool = True
) -> list[Concern]:
    """Return what is to be told before a page is printed, what stops it first.

    Parameters
    ----------
    page : as it was drafted, before anything in it was made printable.
    others : everyone of the roster, also who has left; the player may be among them.
    on_paper : whether it is set in our fonts, as a PDF is.
    """
    others = [other for other in others if other.id != player.id]
    placed = list(placed_texts(page))
    return [
        *_whole_names(placed, player, others),
        *_maybe_names(placed, player, others),
        *_hidden(placed),
        *(_no_letters(placed) if on_paper else ()),
    ]


def _whole_names(placed: Sequence[Placed], player: Player, others: Sequence[Player]) -> Iterable[Concern]:
    for where, text in _by_place(placed):
        if named := full_names_in(text, player, others):
            names = ", ".join(one.name for one in named)
            if where == tr(COACH):  # who may have a child's name
                yield Concern(_question(where, names))
            else:
                yield Concern(
                    tr("no page: {where} names another child ({names})", where=where, names=names), stops=True
                )


def _maybe_names(placed: Sequence[Placed], player: Player, others: Sequence[Player]) -> Iterable[Concern]:
    known = {
        word for one in placed if not one.own for word in re.findall(r"\w+", folded(one.text).casefold())
    }
    for where, text in _by_place([one for one in placed if one.own]):
        if parts := parts_of_names_in(text, player, others, known):
            yield Concern(_question(where, ", ".join(parts)))


def _question(where: str, names: str) -> str:
    return tr("does {where} name another child? ({names})", where=where, names=names)


def _hidden(placed: Sequence[Placed]) -> Iterable[Concern]:
    for where, text in _by_place(placed):
        found = [one for one in dict.fromkeys(text) if is_hidden(one) and one not in "\n\t\r"]
        if found:
            codes = ", ".join(f"U+{ord(one):04X}" for one in found)
            yield Concern(
                tr(
                    "{where} has a character that shows nothing ({codes}); � stands in its place",
                    where=where,
                    codes=codes,
                )
            )
        elif _REPLACEMENT in text:  # it was typed or pasted, and is kept so
            yield Concern(
                tr("{where} has � where a character stood that shows nothing; type it again", where=where)
            )


def _no_letters(placed: Sequence[Placed]) -> Iterable[Concern]:
    from evaltrack.paper.note.letters import missing_letters

    for where, text in _by_place(placed):
        if text.isascii():
            continue
        missing = missing_letters("".join(one for one in dict.fromkeys(text) if not is_hidden(one)))
        if missing:
            letters = ", ".join(missing)
            yield Concern(
                tr(
                    "no font has the letter {letters} in {where}, so it is an empty box on paper; spell it "
                    "another way, or put a font that has it into {folder}",
                    letters=letters,
                    where=where,
                    folder=fonts_folder(),
                ),
                is_letter=True,
            )


def _by_place(placed: Sequence[Placed]) -> Iterable[tuple[str, str]]:
    """Return all that stands in one place as one text, so that each place is told of once."""
    places = dict.fromkeys(one.where for one in placed)
    for where in places:
        yield where, "\n".join(one.text for one in placed if one.where == where)
