"""Where the slots of a step stand on the ice, and how a surface is painted: arithmetic, in metres."""
