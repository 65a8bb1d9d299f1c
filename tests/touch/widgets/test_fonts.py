"""Which font a name is drawn in: ours, the wide one, or one that the club added."""

import pytest
from added_font import added_font

from evaltrack.device.added_fonts import fonts_folder
from evaltrack.touch.widgets import fonts


@pytest.mark.parametrize(
    ("text", "font"),
    [
        ("Zoë Łukasik", fonts.PLAIN),
        ("Дмитро", fonts.FALLBACK),
        ("محمد", fonts.FALLBACK),
        ("김", fonts.FALLBACK),
    ],
)
def test_a_name_has_a_font_without_any_added(text, font):
    """What no font has is drawn in the wide one, as boxes, and never fails."""
    assert fonts.font_for(text) == font


def test_a_font_that_was_added_draws_what_ours_lack(tmp_path, monkeypatch):
    """By the letters that it has; one that is broken is never asked to draw."""
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path))
    fonts.font_for.cache_clear()
    fonts_folder().mkdir()
    (fonts_folder() / "broken.ttf").write_text("no font")
    added_font(fonts_folder() / "good.ttf", "王")
    assert fonts.font_for("王 7") == str(fonts_folder() / "good.ttf")
    assert fonts.font_for("김") == fonts.FALLBACK
    assert fonts.font_for("Zoë") == fonts.PLAIN
    fonts.font_for.cache_clear()
