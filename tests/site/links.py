"""Finds links that lead nowhere, requests that leave the site, and pages that nothing leads to."""

import posixpath
import re
from collections.abc import Iterator
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

from .pages import Page, Site

# Attributes that hold an address; a canonical link names the page itself and is asked by nobody.
_ATTRIBUTES = ("href", "src", "action", "poster", "data", "{http://www.w3.org/1999/xlink}href", "xlink:href")
_LOADED_RELATIONS = {"stylesheet", "icon", "manifest", "modulepreload", "preload", "apple-touch-icon"}
_LOADING_TAGS = {"script", "img", "iframe", "audio", "video", "source", "object", "embed", "image", "use"}
_CSS_ADDRESS = re.compile(r"url\(\s*['\"]?([^'\")]*)['\"]?\s*\)|@import\s+['\"]([^'\"]+)")
_JS_ADDRESS = re.compile(r"(?:\bfrom|\bimport)\s*(\(?)\s*['\"]([^'\"]+)['\"]")


class Use(NamedTuple):
    """An address that a file holds; `loads`: the browser asks for it by itself, `later` once it is wanted."""

    address: str
    loads: bool
    shown: bool = True
    later: bool = False


def uses(page: Page) -> Iterator[Use]:
    """Every address in a page but its own canonical one. `shown` is whether it is so without script."""
    hidden = {inner for element in page.all(mark="[hidden]") for inner in element.iter()}
    for element in page.all():
        tag = element.tag.rpartition("}")[2]
        relations = set(element.get("rel", "").split())
        if relations == {"canonical"}:
            continue
        loads = tag in _LOADING_TAGS or bool(relations & _LOADED_RELATIONS)
        for name in _ATTRIBUTES:
            if name in element.attrib:
                lazy = element.get("loading") == "lazy"
                yield Use(element.attrib[name], loads, element not in hidden, lazy)
        for part in element.get("srcset", "").split(","):
            if part.strip():
                yield Use(part.split()[0], True)
        if element.get("http-equiv", "").lower() == "refresh":
            yield Use(element.get("content", "").partition("=")[2], True)
        if tag == "style" or "style" in element.attrib:
            for address in _in_css((element.text or "") + element.get("style", "")):
                yield Use(address, True)


def _in_css(text: str) -> list[str]:
    """Addresses in a style; one that is a place alone means a place in whatever page has the style."""
    found = [one or other for one, other in _CSS_ADDRESS.findall(text)]
    return [address for address in found if not address.startswith("#")]


def uses_of_file(site: Site, name: str) -> Iterator[Use]:
    """Addresses in a style sheet or a script, which are those of further requests."""
    text = site.files[name].read_text(encoding="utf-8")
    if name.endswith(".css"):
        yield from (Use(address, True) for address in _in_css(text))
    else:
        yield from (Use(address, True, later=bool(call)) for call, address in _JS_ADDRESS.findall(text))


def faults(site: Site) -> list[str]:
    """Every address that does not lead to a file of the site or to a place in it, and why."""
    found = []
    for page in site.read.values():
        own = list(uses(page)) + [Use(f"#{id_}", False) for id_ in _referred_ids(page)]
        found += [f"{page.address or '/'}: {why}" for use in own if (why := _wrong(site, page.address, use))]
    for name in site.files:
        if name.endswith((".css", ".js")):
            own = list(uses_of_file(site, name))
            found += [f"{name}: {why}" for use in own if (why := _wrong(site, name, use))]
    return sorted(set(found))


def _referred_ids(page: Page) -> Iterator[str]:
    for element in page.all():
        for name in ("for", "aria-labelledby", "aria-describedby", "aria-controls", "list", "headers"):
            yield from element.get(name, "").split()


def _wrong(site: Site, at: str, use: Use) -> str:
    parts = urlsplit(use.address)
    if parts.scheme == "data" and use.loads:
        return ""
    if parts.scheme or parts.netloc:
        return f"{use.address} leaves the site"
    if parts.path.startswith("/") and at != "404.html":
        return f"{use.address} is not relative"
    target = destination(site, at, use.address)
    if target is None:
        return f"{use.address} leads out of the site"
    if target not in site.files:
        return f"{use.address} leads to {target}, which is not there"
    if parts.fragment and not _has_id(site, target, unquote(parts.fragment)):
        return f"{use.address} names a place that {target} has not"
    return ""


def destination(site: Site, at: str, address: str) -> str | None:
    """The file that an address in the page or file `at` leads to, or None for one above the site."""
    path = unquote(urlsplit(address).path)
    if at == "404.html" and path:
        # It is shown at any depth, so its addresses begin with the path of the public address.
        top = _public_path(site)
        if not path.startswith(top) or "//" in path:
            return None
        joined = path.removeprefix(top)
    else:
        joined = posixpath.join(posixpath.dirname(at), path) if path else at
    clean = posixpath.normpath(joined) if joined else "."
    if clean.startswith(".."):
        return None
    folder = not joined or joined.endswith(("/", "/.", "/..")) or joined in (".", "..")
    return posixpath.normpath(f"{clean}/index.html") if folder else clean


def _public_path(site: Site) -> str:
    canonical = [one for one in site[""].all("link") if one.get("rel") == "canonical"]
    return urlsplit(canonical[0].get("href", "")).path if canonical else "/"


def _has_id(site: Site, target: str, name: str) -> bool:
    if target.endswith(".svg"):
        return f' id="{name}"'.encode() in site.files[target].read_bytes()
    address = re.sub(r"(^|(?<=/))index\.html$", "", target)
    page = site.pages.get(address)
    return page is not None and any(one.get("id") == name for one in page.all(mark="[id]"))


def unreachable(site: Site) -> list[str]:
    """Pages to which no way leads from the first one over links that are shown without script."""
    files = {f"{address}index.html": page for address, page in site.pages.items() if address != "404.html"}
    seen, ahead = {"index.html"}, ["index.html"]
    # Most pages stand deepest and lead to no new ones: when all are seen before it comes to these, they are not read.
    while ahead and len(seen) < len(files):
        nearest = min(ahead, key=lambda name: name.count("/"))
        ahead.remove(nearest)
        page = files[nearest]
        for use in uses(page):
            target = None if use.loads or not use.shown else destination(site, page.address, use.address)
            if target in files and target not in seen:
                seen.add(target)
                ahead.append(target)
    return sorted(files.keys() - seen)


def requests(site: Site, page: Page, *, later: bool = False) -> dict[str, bytes]:
    """What a browser asks for to show a page: the page itself and every file that it loads, by name.

    With `later` also what comes when it is wanted: scripts that a script imports, lazy pictures near the screen.
    """
    own = f"{page.address}index.html"
    found: dict[str, bytes] = {own: site.files[own].read_bytes()}
    ahead = [(page.address, use.address) for use in uses(page) if use.loads and (later or not use.later)]
    while ahead:
        at, address = ahead.pop()
        name = destination(site, at, address)
        if urlsplit(address).scheme == "data" or name in found:
            continue
        assert name in site.files, f"{at} loads {address}, which is not there"
        found[name] = site.files[name].read_bytes()
        if name.endswith((".css", ".js")):
            ahead += [(name, use.address) for use in uses_of_file(site, name) if later or not use.later]
    return found
