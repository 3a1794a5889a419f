"""Every page of the demo is sound markup, and the checker that says so finds what it is for."""

import pytest

from . import html_rules
from .pages import Page

POLICY = "; ".join(f"{name} {value}" for name, value in html_rules.POLICY.items())
SOUND = f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<title>A page</title><meta name="description" content="About it."><script src="a.js"></script></head>
<body><main><h1>A page</h1><h2 id="part">A part</h2><p>Words.</p>
<label>Name <input></label><label for="age">Age</label><input id="age"><button>Go</button>
<svg role="img" aria-label="A line"><path d="M0 0h1"/></svg>
<table><tr><th scope="col">a</th><th scope="col">b</th></tr><tr><td colspan="2">c</td></tr></table>
</main></body></html>"""


@pytest.mark.parametrize("rule", html_rules.RULES, ids=lambda rule: rule.__name__)
def test_every_page_of_the_demo(demo, rule):
    assert [f"{page.address}: {what}" for page in demo.read.values() for what in rule(page)] == []


def test_a_sound_page_has_no_faults():
    assert html_rules.faults(Page("", SOUND)) == []


@pytest.mark.parametrize(
    ("sound", "faulty", "said"),
    [
        ("<!doctype html>", "", "Expected DOCTYPE."),
        ("<p>Words.</p>", "<p>Words.</div>", "line 5, column 67: End tag (div) seen too early."),
        ("<p>Words.</p>", "<p a=1 a=2>Words.</p>", "Dropped duplicate attribute on tag."),
        ("<p>Words.</p>", '<p id="part">Words.</p>', "the id 'part' stands 2 times"),
        (' lang="en"', "", "no language"),
        ("<title>A page</title>", "<title> </title>", "no title"),
        ('content="About it."', 'content=" "', "1 descriptions, or an empty one"),
        ("main>", "div>", "0 main landmarks"),
        ("<p>Words.</p>", "<h1>Again</h1>", "2 headings of the first level"),
        ("<p>Words.</p>", "<h4>Deep</h4>", "the heading 'Deep' skips from level 2 to 4"),
        ("<p>Words.</p>", "<h2><b> </b></h2>", "an empty heading of level 2"),
        ("script-src 'self'", "script-src 'self' 'unsafe-inline'", "loose in script-src"),
        ("default-src 'none'; ", "", "loose in default-src"),
        ("script-src 'self'", "script-src 'self'; img-src https://a.example", "lets more in"),
        ("http-equiv", "name", "0 content security policies"),
        ('<meta charset="utf-8">', '<link rel="icon" href="i.svg">', "something is loaded before"),
        ("<p>Words.</p>", "<script>1</script>", "a script in the page"),
        ("<p>Words.</p>", "<style>p{}</style>", "a style in the page"),
        ("<p>Words.</p>", '<p style="color:red">Words.</p>', "style on a p"),
        ("<p>Words.</p>", '<p onclick="go()">Words.</p>', "onclick on a p"),
        ("<p>Words.</p>", '<a href="javascript:go()">Words.</a>', "href on a a"),
        ("Name <input>", "<input>", "a nameless input"),
        ("<button>Go</button>", "<button></button>", "a nameless button"),
        (' aria-label="A line"', "", "a drawing without its words"),
        ("<p>Words.</p>", '<img src="a.png">', "a picture without its words"),
        (' scope="col"', "", "a table heading without its scope"),
        (' colspan="2"', "", "a table whose rows have 1, 2 cells"),
    ],
)
def test_a_faulty_page_is_told(sound, faulty, said):
    assert sound in SOUND
    page = Page("", SOUND.replace(sound, faulty))
    assert any(said in fault for fault in html_rules.faults(page)), html_rules.faults(page)


def test_the_themes_toggles_are_forgiven_by_name_only():
    toggles = "".join(f'<input id="{name}">' for name in html_rules.THEME_TOGGLES)
    assert html_rules.faults(Page("", SOUND.replace("<p>Words.</p>", toggles))) == []


def test_what_is_forgiven_of_the_theme_is_still_there(demo):
    """When the theme mends its toggles, the list of what is forgiven becomes shorter."""
    ids = {one.get("id") for one in demo[""].all("input")}
    assert ids >= html_rules.THEME_TOGGLES
