"""What every page has to be: markup that parses without an error, named, ordered, and without inline code.

Parse errors are those of the HTML standard's own parser (WHATWG HTML, section 13.2), as html5lib reports
them. The rules of headings, names and landmarks are those of WCAG 2.2 (1.3.1, 2.4.1, 2.4.2, 2.4.6, 3.1.1,
4.1.2) as far as a page shows them without a browser.
"""

import base64
import hashlib
import re
from collections import Counter
from collections.abc import Callable, Iterator
from xml.etree.ElementTree import Element

from .pages import Page, words

# Toggles of the theme's drawer and search, which no page of ours shows or uses.
THEME_TOGGLES = {"__drawer", "__search"}
POLICY = {
    "default-src": "'none'",
    "style-src": "'self'",
    "script-src": "'self'",
    "connect-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
}
Rule = Callable[[Page], Iterator[str]]


def faults(page: Page) -> list[str]:
    """Every rule that the page breaks, one line each."""
    return [f"{page.address or '/'}: {what}" for rule in RULES for what in rule(page)]


def parses(page: Page) -> Iterator[str]:
    assert page.root is not None
    yield from page.errors


def has_unique_ids(page: Page) -> Iterator[str]:
    ids = Counter(one.attrib["id"] for one in page.all(mark="[id]"))
    yield from (f"the id {id_!r} stands {many} times" for id_, many in ids.items() if many > 1)


def is_named(page: Page) -> Iterator[str]:
    if not page.root.get("lang"):
        yield "no language"
    if [words(one) for one in page.all("title", within=page.one("head"))] in ([], [""]):
        yield "no title"
    descriptions = [one.get("content") for one in page.all("meta") if one.get("name") == "description"]
    if len(descriptions) != 1 or not (descriptions[0] or "").strip():
        yield f"{len(descriptions)} descriptions, or an empty one"


def has_one_main_part(page: Page) -> Iterator[str]:
    if (many := len(page.all("main"))) != 1:
        yield f"{many} main landmarks"
    if (many := len(page.all("h1"))) != 1:
        yield f"{many} headings of the first level"


def has_headings_in_order(page: Page) -> Iterator[str]:
    before = 0
    for heading in page.all():
        if re.fullmatch("h[1-6]", heading.tag):
            level = int(heading.tag[1])
            if level > before + 1:
                yield f"the heading {words(heading)!r} skips from level {before} to {level}"
            if not words(heading):
                yield f"an empty heading of level {level}"
            before = level


def has_a_strict_policy(page: Page) -> Iterator[str]:
    metas = [
        one for one in page.all("meta") if one.get("http-equiv", "").lower() == "content-security-policy"
    ]
    if len(metas) != 1:
        yield f"{len(metas)} content security policies"
        return
    parts = (part.split(None, 1) for part in metas[0].get("content", "").split(";"))
    given = {part[0]: part[1] if len(part) > 1 else "" for part in parts}
    # The page for a wrong address has one script in it, and lets that one run (CSP 3, 6.7.2.3: the hash of its text).
    inline = [one.text or "" for one in page.all("script") if "src" not in one.attrib]
    hashes = [base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in inline]
    policy = POLICY | {"script-src": " ".join([POLICY["script-src"], *(f"'sha256-{one}'" for one in hashes)])}
    wrong = sorted(name for name, value in policy.items() if given.get(name) != value)
    if wrong:
        yield f"a content security policy that is loose in {', '.join(wrong)}"
    if re.search(r"unsafe|https?:|\*", metas[0].get("content", "")):
        yield "a content security policy that lets more in than the site's own"
    loading = [one for one in page.all() if one.tag in ("script", "link", "style")]
    order = [one for one in page.all() if one is metas[0] or one in loading]
    if order[0] is not metas[0]:
        yield "something is loaded before the content security policy"


def has_no_inline_code(page: Page) -> Iterator[str]:
    for element in page.all():
        name = element.tag.rpartition("}")[2]
        inline = name == "script" and ("src" not in element.attrib or element.text)
        if name == "style" or (inline and page.kind != "missing"):
            yield f"a {name} in the page"
        for attribute, value in element.attrib.items():
            if attribute == "style" or attribute.startswith("on") or value.strip().startswith("javascript:"):
                yield f"{attribute} on a {name}"


def has_named_controls(page: Page) -> Iterator[str]:
    labelled = {one.get("for") for one in page.all("label") if words(one)}
    within = {inner for label in page.all("label") if words(label) for inner in label.iter()}
    for control in page.all():
        if control.tag not in ("input", "select", "textarea", "button", "a", "summary"):
            continue
        own = control.tag in ("button", "a", "summary") and words(control)
        named = own or control.get("aria-label") or control in within or control.get("id", "") in labelled
        if not named and control.get("id") not in THEME_TOGGLES:
            yield f"a nameless {control.tag}"


def has_named_pictures(page: Page) -> Iterator[str]:
    for picture in page.all():
        name = picture.tag.rpartition("}")[2]
        hidden = picture.get("aria-hidden") == "true"
        if name == "img" and "alt" not in picture.attrib:
            yield "a picture without its words"
        if name == "svg" and not hidden and not (picture.get("role") == "img" and picture.get("aria-label")):
            yield "a drawing without its words"


def has_readable_tables(page: Page) -> Iterator[str]:
    for table in page.all("table"):
        if any("scope" not in head.attrib for head in page.all("th", within=table)):
            yield "a table heading without its scope"
        widths = {_width(row) for row in page.all("tr", within=table)}
        if len(widths) > 1:
            yield f"a table whose rows have {', '.join(map(str, sorted(widths)))} cells"


def _width(row: Element) -> int:
    return sum(int(cell.get("colspan", "1")) for cell in row)


RULES: tuple[Rule, ...] = (
    parses,
    has_unique_ids,
    is_named,
    has_one_main_part,
    has_headings_in_order,
    has_a_strict_policy,
    has_no_inline_code,
    has_named_controls,
    has_named_pictures,
    has_readable_tables,
)
