"""Against whom tries were, by the jersey numbers that the staff know."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import pandas as pd

from evaltrack.analysis.standings.standing import Cause, Met, Reason, Standing
from evaltrack.rink.player import Player


def with_opponents(
    standings: Sequence[tuple[Player, Standing]], cells: pd.DataFrame, roster: Iterable[Player]
) -> list[tuple[Player, Standing]]:
    """Return each player's standings with whom they met, and with reasons that name opponents by number.

    Nobody is named who is not in the roster.
    """
    numbers = {player.id.bytes: player.number for player in roster}
    met = _whom_met(cells, numbers)
    return [
        (
            player,
            replace(
                one,
                met=met.get((player.id.bytes, one.skill), ()),
                reasons=tuple(_by_number(reason, numbers) for reason in one.reasons),
            ),
        )
        for player, one in standings
    ]


def _whom_met(cells: pd.DataFrame, numbers: Mapping[bytes, str]) -> dict[tuple[bytes, str], tuple[Met, ...]]:
    """Return against whom each player's tries in each skill were, by player's id and skill key.

    Those who were met most come first.
    """
    # not `isin`: it takes zero bytes off the end of an id
    known = cells[cells[["opponent", "player"]].map(numbers.__contains__).all(axis=1)]
    sums = known.groupby(["player", "skill", "opponent"])[["tries", "done"]].sum()
    found: dict[tuple[bytes, str], list[Met]] = {}
    for (player, skill, opponent), counts in zip(sums.index, sums.to_numpy().tolist(), strict=True):
        found.setdefault((player, skill), []).append(Met(numbers[opponent], *counts))
    return {pair: tuple(sorted(met, key=_most_first)) for pair, met in found.items()}


def _most_first(met: Met) -> tuple[int, int, str]:
    return -met.tries, int(met.opponent), met.opponent


def _by_number(reason: Reason, numbers: Mapping[bytes, str]) -> Reason:
    if reason.gathered:
        return replace(reason, gathered=tuple(_by_number(one, numbers) for one in reason.gathered))
    if reason.cause is not Cause.OPPONENT or not reason.named:
        return reason
    return replace(reason, named=numbers.get(bytes.fromhex(reason.named), ""))
