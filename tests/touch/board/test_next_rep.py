"""The key that begins the next rep names everyone who will be in it."""

from on_boards import both_ways_up, in_slots, screen_of
from pressing import press


def shown(driver):
    """Return the small line of the key."""
    return screen_of(driver)._controls._made["rep"].words


@both_ways_up
def test_the_key_names_all_who_will_be_in_the_next_rep(bench):
    """Number and name of each slot's player, those who stay in the rep too; then they are in."""
    press(bench, "By rep")
    desk = bench.app.desk
    for _ in range(4):
        said = shown(bench).split(", ")
        press(bench, "Next rep")
        now = [number for number in in_slots(bench).values() if number]
        assert [words.split(" ")[0] for words in said] == now
        names = {player.number: player.name for player in desk.players}
        assert all(
            names[n].startswith(w.split(" ", 1)[1].rstrip(".")) for n, w in zip(now, said, strict=True)
        )


@both_ways_up
def test_where_the_names_are_too_long_the_numbers_stand_alone(bench):
    """Larger words have no room for the names: no number is lost by that, and none is cut."""
    press(bench, "By rep")
    controls = screen_of(bench)._controls._made["rep"]
    named = shown(bench)
    controls.names_size *= 2.2
    controls.width -= 1
    controls._fit()
    assert shown(bench) == "  ".join(words.split(" ")[0] for words in named.split(", "))
