"""What a complaint proposes is as printable as what it quotes, since both may come from the same file."""

import pytest

from evaltrack.intake.text import meant
from evaltrack.rink.plain_text import first_hidden


@pytest.mark.parametrize("given", ["white_d", "nothing like it"])
def test_a_proposed_word_holds_nothing_hidden(given):
    """A slot's key with a control character is proposed, or listed, without it."""
    said = meant(given, ["whit\x85_d", "dark_f"])
    assert "whit?_d" in said
    assert first_hidden(said) is None
