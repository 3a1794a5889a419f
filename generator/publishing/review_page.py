"""A review as one HTML file that needs nothing else: no script, no request, and a policy that lets none
through."""

from __future__ import annotations

from ..hearing import words
from ..hearing.page import page
from ..hearing.review import Review
from ..reading.catalogue import Catalogue
from ..reading.shipped import THEME
from ..telling.tongues import marking, ours
from .assets import style
from .templates import Templates, hashed

_STYLE = "css/review.css"
_POLICY = "default-src 'none'; style-src {style}; base-uri 'none'; form-action 'none'"


def review_page(review: Review, catalogue: Catalogue) -> str:
    """The whole page."""
    css = style(THEME, _STYLE)
    whole = Templates(root="", ours=ours(catalogue), asset={}, site=None).text(
        "review.html",
        "",
        page=page(review, catalogue),
        words=words,
        css=css,
        policy=_POLICY.format(style=hashed(css)),
    )
    whole = marking(catalogue)(whole)
    # It may go to standard output, which a forge that runs the command keeps and looks through for `##[`.
    return whole.replace("##", "#&#35;")
