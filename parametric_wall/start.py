"""Where the program starts: so small that Ctrl-C finds something to be told by at once."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict

from parametric_wall.errors import INTERRUPTED, STOPPED_TEXT, Fault, is_interrupt


def main() -> None:
    """Run the command line, which takes a moment to load."""
    try:
        from parametric_wall.cli import run

        run()
    except (KeyboardInterrupt, ImportError) as error:
        if not is_interrupt(error):
            raise
        if "--json" in sys.argv and sys.stdout is not None:
            sys.stdout.write(json.dumps({"faults": [asdict(Fault("", "", STOPPED_TEXT))]}) + "\n")
        if sys.stderr is not None:
            sys.stderr.write(STOPPED_TEXT + "\n")
        sys.exit(INTERRUPTED)
