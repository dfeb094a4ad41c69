"""Writes the sheets that tests hold drawings against: ``python tests/tools/golden_sheets.py``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers_sheets import golden, sheets_of

from parametric_wall.job.read import load
from parametric_wall.setting_out.set_out import set_out

FOLDER = Path(__file__).parent.parent / "drawings" / "golden"

if __name__ == "__main__":
    for path in sorted(FOLDER.glob("*.txt")):
        spec = load(Path("examples") / f"{path.stem}.toml")
        text = golden(sheets_of(spec, set_out(spec), path.stem))
        path.write_text(text, encoding="utf-8")
