"""No page complains, fails to load something or asks anything of another site; and the watch would notice."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext

from tests.browser.demo import kinds
from tests.browser.looks import ON_A_DESK, ON_A_PHONE, WITHOUT_SCRIPT, Device, Looks, turns
from tests.browser.watch import Watch
from tests.conftest import Serve
from tests.samples import every
from tests.site.pages import kind_of


def test_every_kind_of_page_is_looked_at(built_site: Path) -> None:
    """A page that is not in the registry of pages would be seen by no test of this folder."""
    files = [file.relative_to(built_site).as_posix() for file in built_site.rglob("*.html")]
    built = {kind_of(name.removesuffix("index.html")) for name in files}
    assert {kind_of(address) for address in kinds().values()} == built


DEVICES = [
    Device(screen, scheme, script)
    for screen in ("phone", "desktop")
    for scheme in ("light", "dark")
    for script in (True, False)
]


@pytest.mark.parametrize("device", every(DEVICES, few=[ON_A_PHONE, WITHOUT_SCRIPT, ON_A_DESK]), ids=str)
def test_every_kind_of_page_is_quiet(look: Looks, device: Device) -> None:
    seen = [kind for kind in kinds() if device != ON_A_DESK or (kind, "desktop") in turns()]
    for kind in seen:
        found = look(kind, device)
        assert found["problems"] == [], kind
        assert found["elsewhere"] == [], kind
        assert found["cookies"] == [], kind
        if device.script:
            assert found["refused"] == [], kind


@pytest.mark.parametrize("kind", kinds())
def test_every_kind_of_page_has_the_policy(look: Looks, kind: str) -> None:
    policy = look(kind, ON_A_PHONE)["policy"]
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
