"""A plot as a file: one SVG element for a page, or PNG data; the same figure gives the same bytes."""

from __future__ import annotations

import re
from hashlib import sha256
from html import escape
from io import BytesIO, StringIO
from threading import Lock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS = (".png", ".svg")
"""Of the files that a plot may be written into."""
DOTS_PER_INCH = 200
_SALT = "airframe"
_DRAWING = Lock()
"""The library keeps its settings in one place for all threads."""


def data(fig: Figure, words: str, ending: str) -> bytes:
    """What a file with this ending holds; `words` say what is shown to those who cannot see it."""
    return png(fig) if ending.lower() == ".png" else svg(fig, words).encode()


def svg(fig: Figure, words: str) -> str:
    """The figure as one SVG element that may stand in a page beside others; `words` say what it shows.

    Letters are outlines, so that they look alike everywhere.
    """
    import matplotlib

    written = StringIO()
    with _DRAWING, matplotlib.rc_context({"svg.hashsalt": _SALT, "svg.fonttype": "path"}):
        fig.savefig(written, format="svg", facecolor=fig.get_facecolor(), metadata={"Date": None, "Creator": None})
    return _for_pages(written.getvalue(), words)


def _for_pages(text: str, words: str) -> str:
    """Without prolog, metadata or a style for the whole page; names of things unlike those of any other figure."""
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>\s*", "", text, flags=re.DOTALL)
    text = re.sub(r"<style type=\"text/css\">.*?</style>", "", text, flags=re.DOTALL)
    key = sha256(text.encode()).hexdigest()[:8]
    text = re.sub(r'(\bid="|href="#|url\(#)', rf"\g<1>{key}-", text)
    head = f'<svg role="img" aria-label="{escape(words)}" style="stroke-linejoin: round; stroke-linecap: butt"'
    return head + text.removeprefix("<svg")


def png(fig: Figure, dots_per_inch: float = DOTS_PER_INCH) -> bytes:
    """The figure as PNG data."""
    written = BytesIO()
    with _DRAWING:
        fig.savefig(
            written, format="png", dpi=dots_per_inch, facecolor=fig.get_facecolor(), metadata={"Software": None}
        )
    return written.getvalue()
