"""Help in the language of the user: looked up when it is shown, since commands are made before it is known.

The words of a command are its docstring, a paragraph a sentence to be looked up, and ``help`` and ``metavar``
of its options; ``assets/languages/collect.py`` finds them there. What click itself says it looks up by
gettext in the domain "messages".
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy
from gettext import bindtextdomain
from inspect import cleandoc

import click

from evaltrack.device.tablet_language import language_here
from evaltrack.language import Language, language, mark, speak, tr
from evaltrack.places import assets

_OURS = "EVALTRACK_LANGUAGE"
_CLICKS = "LANGUAGE"  # the variable in which gettext looks before all others
_PIECES = (mark("[OPTIONS]"), mark("COMMAND [ARGS]..."), mark("[COMMAND] [ARGS]..."))
_KINDS = (mark("TEXT"), mark("INTEGER RANGE"), mark("WORDS"), mark("BAND"))
_EXAMPLE = "Example:  "


@contextmanager
def in_language_here() -> Iterator[None]:
    """Run a command line in the language of this tablet, and leave that which was in force as it was."""
    before, environment = language(), {name: os.environ.get(name) for name in (_CLICKS, _OURS)}
    put_in_force(language_here())
    try:
        yield
    finally:
        speak(before)
        for name, value in environment.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value


def ask_for(wanted: Language) -> None:
    """Have this command line speak a language, and the app that it opens where no other was chosen in it."""
    put_in_force(wanted)
    os.environ[_OURS] = wanted.value


def put_in_force(wanted: Language) -> None:
    """Have evaltrack and click speak a language."""
    speak(wanted)
    bindtextdomain("messages", str(assets() / "languages"))
    os.environ[_CLICKS] = wanted.value.partition("-")[0]


class ShownHelp:
    """What a command and a group of them do to be read in the language in force."""

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the help into the formatter."""
        super(ShownHelp, _in_language(self)).format_help(ctx, formatter)

    def get_short_help_str(self, limit: int = 45) -> str:
        """Return the first sentence of the help, cut at the limit."""
        return super(ShownHelp, _in_language(self)).get_short_help_str(limit)

    def collect_usage_pieces(self, ctx: click.Context) -> list[str]:
        """Return the parts of the line that says how the command is used."""
        return [tr(piece) if piece in _PIECES else piece for piece in super().collect_usage_pieces(ctx)]

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        """Return ``--help``; click keeps it as it was made first, in whatever language."""
        option = super().get_help_option(ctx)
        if option:
            option.help = tr("Show this message and exit.")
        return option


class ShownOption(click.Option):
    """An option whose words are looked up when they are shown."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        """Return the option and what it is for."""
        shown = copy(self)
        shown.help = tr(self.help or "")
        return click.Option.get_help_record(shown, ctx)

    def make_metavar(self, *ctx: click.Context, **named: click.Context) -> str:
        """Return what stands for the value."""
        words = super().make_metavar(*ctx, **named)
        return tr(words) if self.metavar or words in _KINDS else words


class ShownArgument(click.Argument):
    """An argument whose word is looked up when it is shown."""

    def make_metavar(self, *ctx: click.Context, **named: click.Context) -> str:
        """Return what stands for the value."""
        return tr(super().make_metavar(*ctx, **named))


def paragraphs(docstring: str) -> list[str]:
    """Return the paragraphs of a docstring, each on a line: the keys under which they are looked up."""
    return [" ".join(part.split()) for part in cleandoc(docstring).split("\n\n")]


def _in_language(command: click.Command) -> click.Command:
    shown = copy(command)
    shown.help = "\n\n".join(tr(part) for part in paragraphs(command.help or ""))
    shown.epilog = _examples(command.epilog or "")
    return shown


def _examples(epilog: str) -> str:
    """Return the examples under the word for them; they are commands, which have one language."""
    word = tr("Example:") + "  "
    return epilog.replace(_EXAMPLE, word).replace("\n" + " " * len(_EXAMPLE), "\n" + " " * len(word))
