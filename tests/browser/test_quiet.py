"""No page complains, fails to load something or asks anything of another site; and the watch would notice."""

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.conftest import DESKTOP, PHONE, OpenContext, Visit, public_address
from tests.browser.demo import kinds
from tests.browser.watch import Watch
from tests.conftest import SUB_PATH, Serve
from tests.samples import every
from tests.site.pages import kind_of


def test_every_kind_of_page_is_looked_at(built_site: Path) -> None:
    """A page that is not in the registry of pages would be seen by no test of this folder."""
    files = [file.relative_to(built_site).as_posix() for file in built_site.rglob("*.html")]
    built = {kind_of(name.removesuffix("index.html")) for name in files}
    assert {kind_of(address) for address in kinds().values()} == built


SCREENS = {"phone": PHONE, "desktop": DESKTOP}
DEVICES = [
    (screen, scheme, script)
    for screen in SCREENS
    for scheme in ("light", "dark")
    for script in ("with script", "without script")
]


@pytest.mark.parametrize(("screen", "scheme", "script"), every(DEVICES, few=3))
def test_every_kind_of_page_is_quiet(
    open_context: OpenContext,
    visit: Visit,
    site_url: str,
    screen: str,
    scheme: str,
    script: str,
) -> None:
    runs = script == "with script"
    context = open_context(**SCREENS[screen], color_scheme=scheme, java_script_enabled=runs)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    violations = "window.broken = []; addEventListener('securitypolicyviolation', (e) => broken.push(e.violatedDirective))"
    page.add_init_script(violations)
    for kind in kinds():
        visit(page, kind)
        if runs:
            assert page.evaluate("broken") == []
    # The 404 page is shown at any depth, so it names its files from the top of the host.
    host = site_url.removesuffix(SUB_PATH)
    allowed = (site_url, host + urlsplit(public_address()).path)
    assert [url for url in asked if not url.startswith(allowed)] == []
    assert context.cookies() == []


@pytest.mark.parametrize("kind", kinds())
def test_every_kind_of_page_has_the_policy(kept_page: Page, visit: Visit, kind: str) -> None:
    visit(kept_page, kind)
    policy = kept_page.locator("meta[http-equiv='Content-Security-Policy']").get_attribute("content")
    assert policy
    rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split(";")}
    assert rules["default-src"] == ["'none'"]
    # The page for a wrong address has a script in it, which finds where the site stands.
    inline = [rule for rule in rules["script-src"] if rule.startswith("'sha256-")]
    assert rules["script-src"] == ["'self'", *inline]
    assert len(inline) == (kind == "missing")
    assert rules["style-src"] == ["'self'"]
    assert not re.search(r"https?:|\*|unsafe", policy)


BAD_PAGES = {
    "console.log('left over')": "console log: left over",
    "nothing.at.all": "script error: .*nothing is not defined",
    "fetch('missing.json')": "answer 404: .*missing.json",
    "document.body.innerHTML = '<p style=\"color:red\">'": "console error: .*style",
    "new Image().src = 'http://192.0.2.1/counter.gif'": "request to elsewhere: http://192.0.2.1/counter.gif",
    "fetch('http://127.0.0.1:9/')": "failed: http://127.0.0.1:9/: .*",
}


@pytest.fixture
def watched(browser: Browser) -> Iterator[tuple[BrowserContext, Watch]]:
    context = browser.new_context()
    yield context, Watch(context)
    context.close()


@pytest.mark.parametrize(("script", "problem"), BAD_PAGES.items(), ids=list(BAD_PAGES.values()))
def test_the_watch_notices(
    watched: tuple[BrowserContext, Watch], tmp_path: Path, serve: Serve, script: str, problem: str
) -> None:
    context, watch = watched
    rule = "default-src 'none'; script-src 'self'; style-src 'self'; img-src *; connect-src *"
    head = f'<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{rule}">'
    (tmp_path / "index.html").write_text(f'{head}<body><script src="bad.js"></script>', encoding="utf-8")
    (tmp_path / "bad.js").write_text(script, encoding="utf-8")
    noticed: list[str] = []
    with serve(tmp_path) as url:
        page = context.new_page()
        page.goto(url, wait_until="commit")
        for _ in range(100):
            noticed += watch.problems()
            if any(re.match(problem, found) for found in noticed):
                return
            page.wait_for_timeout(50)
    pytest.fail(f"not noticed; noticed: {noticed}")
