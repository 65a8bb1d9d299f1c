"""What is wished of two players, by name, and why a wish is not kept."""

from collections.abc import Mapping
from dataclasses import replace
from uuid import UUID

from evaltrack.analysis.planning.group_rules import in_force
from evaltrack.language import mark, tr
from evaltrack.rink.plan import Plan, Unmet, Wish, WishKind
from evaltrack.rink.plan_card import CardWish, PlanCard
from evaltrack.rink.player import Player
from evaltrack.words.plan_remarks import unmet_words, wish_words

_MOVED = {
    WishKind.TOGETHER: mark("{player} and {other} are in two groups now, and are wished together."),
    WishKind.APART: mark("{player} and {other} are in one group now, and are wished apart."),
    WishKind.NOT_AGAIN: mark("{player} and {other} are in one group now, as they were in the plan before."),
}


def card_wishes(plan: Plan, players: Mapping[str, Player]) -> tuple[CardWish, ...]:
    """Return the wishes of a plan that was worked out as they are kept. ``players`` are by number."""
    unmet = {one.wish: one for one in plan.unmet}
    here = {number for group in plan.groups for number in group.players}
    return tuple(
        CardWish(
            wish.kind,
            players[wish.player].id,
            players[wish.other].id,
            bool({wish.player, wish.other} <= here and in_force(wish, plan.asked.before)),
            unmet_words(_named(unmet[wish], players)) if wish in unmet else "",
        )
        for wish in plan.asked.wishes
    )


def _named(unmet: Unmet, players: Mapping[str, Player]) -> Unmet:
    """Return a wish that is not met with the players told by number and first name."""

    def shirt(number: str) -> str:
        return f"{number} {players[number].name.split(' ')[0]}"

    def named(wish: Wish) -> Wish:
        return replace(wish, player=shirt(wish.player), other=shirt(wish.other))

    return Unmet(named(unmet.wish), tuple(map(named, unmet.against)), tuple(map(shirt, unmet.contact)))


def wish_of(wish: CardWish, names: Mapping[UUID, str]) -> str:
    """Return ``2 Tuva and 7 Bo together``. ``names`` are numbers with first names."""
    return wish_words(Wish(wish.kind, names[wish.player], names[wish.other]))


def not_kept_words(card: PlanCard, names: Mapping[UUID, str]) -> list[str]:
    """Return a sentence for each wish that the groups do not keep: why that cannot be, or how it is now."""
    return [
        wish.why or tr(_MOVED[wish.kind], player=names[wish.player], other=names[wish.other])
        for wish in card.not_kept()
    ]
