"""A review as one HTML file that needs nothing else: no script, no request, and a policy that lets none
through."""

from __future__ import annotations

import base64
import hashlib

from ..hearing import words
from ..hearing.page import page
from ..hearing.review import Review
from ..reading.catalogue import Catalogue
from ..reading.shipped import THEME
from ..telling.tongues import marking, ours
from .assets import style
from .templates import Templates

_STYLE = "css/review.css"
_POLICY = "default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"


def review_page(review: Review, catalogue: Catalogue) -> str:
    """The whole page."""
    css = style(THEME, _STYLE)
    digest = base64.b64encode(hashlib.sha256(css.encode()).digest()).decode()
    whole = Templates(root="", ours=ours(catalogue), asset={}, site=None).text(
        "review.html",
        "",
        page=page(review, catalogue),
        words=words,
        css=css,
        policy=_POLICY.format(digest=digest),
    )
    whole = marking(catalogue)(whole)
    # It may go to standard output, which a forge that runs the command keeps and looks through for `##[`.
    return whole.replace("##", "#&#35;")
