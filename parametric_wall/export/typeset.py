"""Markup and the pictures in it, typeset as a tagged PDF: the same bytes every time.

The typesetter is typst. A document of any make goes through here, so that all of them
have the one font and nothing of the system's.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from parametric_wall.drawings.lettering import font_file

MAIN = "main"

COMPLAINED_OF = re.compile(rb"/Suspects false|/BorderColor\[[\d. ]+\]")
"""Entries that say what is so without them, or of no use to who listens, and that some readers
call an error. As many spaces stand in their place, so that nothing else moves.
"""

STYLE = """\
#set text(font: "DejaVu Sans", lang: "en", region: "GB", fallback: false)
"""


def typeset(title: str, markup: str, files: Mapping[str, bytes]) -> bytes:
    """A PDF, tagged as PDF/UA-1 (ISO 14289-1) asks.

    Where a letter of a script cannot be told with the mark that it bears, as that standard
    asks too, the document is tagged all the same, but does not claim to follow it.

    Args:
        title: of the document.
        markup: in typst's own language; nobody's words stand in it but as `quoted`.
        files: those that it names.

    Raises:
        typst.TypstError: the markup is wrong.
    """
    # Only here: it is large, and most commands need none of it.
    import typst

    head = f"#set document(title: {quoted(title)}, date: none)\n{STYLE}"
    source = {MAIN: (head + markup).encode("utf-8"), **files}
    try:
        pdf = _compiled(source, ["ua-1"])
    except typst.TypstError:
        pdf = _compiled(source, [])
    return COMPLAINED_OF.sub(lambda entry: b" " * len(entry.group()), pdf)


def _compiled(source: dict[str, bytes], standards: list[Any]) -> bytes:
    import typst

    compiler: Any = typst.compile  # It takes files by their names, which its types do not say.
    pdf = compiler(
        source,
        format="pdf",
        font_paths=[str(font_file().parent)],
        ignore_system_fonts=True,
        pdf_standards=standards,
        timestamp=0,
    )
    assert isinstance(pdf, bytes)
    return pdf


def quoted(text: str) -> str:
    """A text as a value in the markup, whatever it says."""
    escaped = "".join(
        f"\\{c}" if c in '"\\' else c if c.isprintable() else f"\\u{{{ord(c):x}}}" for c in text
    )
    return f'"{escaped}"'
