"""The command line. Exit 0: done; 1: you can put it right, and stderr says how; 2: wrong usage."""

from evaltrack.cli.comparing import agreement
from evaltrack.cli.correcting import correct, practices
from evaltrack.cli.front import commands
from evaltrack.cli.making import demo, load, new
from evaltrack.cli.printing import sheet
from evaltrack.cli.reviewing import coverage, notes, standings

for _command in (demo, new, sheet, load, practices, correct, standings, coverage, notes, agreement):
    commands.add_command(_command)

__all__ = ["commands"]
