"""The review's page: one file that asks for nothing, in which what an athlete wrote is never markup."""

import base64
import hashlib
import re
from pathlib import Path

import html5lib
import pytest
from phasepress.publishing.review_page import review_page
from phasepress.reading.catalogue import load

from tests.hearing import squads
from tests.hearing.squads import record, report, tree

EVIL = '<img src=x onerror="alert(1)">&"\'</script><script>alert(2)</script>'


@pytest.fixture
def page(tmp_path: Path) -> str:
    programmes = tree(tmp_path)
    stations = squads.bouts("A1", 3, EVIL)
    one = record(note=EVIL, stations=stations, reports=[report(where=EVIL, note=EVIL, station=EVIL)])
    logs = {"kim.json": [one, record(2, 7)], "<b>lou<b>.json": [record(3, effort=None)]}
    return review_page(squads.found(programmes, squads.write(tmp_path, logs)), load(programmes).catalogue)


def test_it_is_valid_html_without_a_script_or_anything_from_elsewhere(page: str) -> None:
    found = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    names = {one.tag for one in found.iter() if isinstance(one.tag, str)}
    assert (
        names & {"script", "img", "link", "iframe", "object", "embed", "form", "input", "base", "b<b"}
        == set()
    )
    attributes = {name for one in found.iter() for name in one.attrib}
    assert not [
        name for name in attributes if name.startswith("on") or name in ("src", "style", "srcset", "action")
    ]
    assert {one.attrib["href"][0] for one in found.iter("a")} == {"#"}


def test_its_policy_lets_nothing_through_but_its_own_style(page: str) -> None:
    [policy] = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]+)"', page)
    [css] = re.findall("<style>(.*?)</style>", page, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(css.encode()).digest()).decode()
    rules = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    assert policy.replace("&#39;", "'") == rules
    assert "url(" not in css.replace("url(#hold)", "")
    assert "@import" not in css


def test_reports_come_first_then_the_squad_the_plan_and_the_questions(page: str) -> None:
    titles = re.findall(r"<h2 id=\"(\w+)\"", page)
    assert titles[:4] == ["reports", "squad", "plan", "questions"]
    assert titles[4:6] == ["a1", "a2"]


def test_every_bar_has_its_number_and_every_plot_its_table_and_its_words(page: str) -> None:
    assert page.count('class="bar"') > 4
    for cell in re.findall(r"<td>(<svg class=\"bar\".*?)</td>", page, re.DOTALL):
        assert re.search(r"\d", re.sub("<svg.*?</svg>", "", cell, flags=re.DOTALL)), cell
    plots = re.findall(r'<svg class="plot".*?aria-label="(.*?)"', page)
    assert plots
    assert all(words.startswith("Load by week: ") for words in plots)
    assert page.count('<svg class="plot"') <= page.count('aria-label="Weeks of ')


def test_what_hangs_on_a_name_that_is_markup_stays_text(page: str) -> None:
    assert "&lt;b&gt;lou&lt;b&gt;" in page
    assert "alert(1)" in page, "it is there, as text"
