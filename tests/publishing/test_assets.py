"""Files of the theme folder under names that change with their content, and with what they import."""

import re
from pathlib import Path

import pytest
from phasepress.publishing.assets import AssetError, assets, worker
from phasepress.reading.shipped import THEME


def folder(tmp_path: Path, **files: str) -> Path:
    for name, text in files.items():
        kind = name.rpartition("_")[2]
        path = tmp_path / kind / f"{name.removesuffix(f'_{kind}').replace('__', '/')}.{kind}"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


COMMENTED = """\
// why
/** one line */
/**
 * several
 */
let a = `
  // a text
/** in a text */`;

  // why
  call(a /* within a line */); // and this
/** @type {HTMLElement} */ (b).hidden = /** @type {Map<string, {a: 1}>} */ (c).has(a);
"""
UNCOMMENTED = "let a=`\n  // a text\n/** in a text */`;call(a);(b).hidden=(c).has(a);"


def test_a_name_holds_a_digest_of_the_content(tmp_path: Path) -> None:
    first = assets(folder(tmp_path, a_css="p{color:red}"), {}).addresses["css/a.css"]
    assert re.fullmatch(r"assets/css/a\.[0-9a-f]{8}\.css", first)
    assert assets(folder(tmp_path, a_css="p{color:blue}"), {}).addresses["css/a.css"] != first


def test_comments_are_left_behind(tmp_path: Path) -> None:
    files = assets(folder(tmp_path, a_css="/* why */p{}", b_js=COMMENTED), {}).files
    assert files["css/a.css"][1] == b"p{}"
    assert files["js/b.js"][1].decode() == UNCOMMENTED


def test_an_imported_script_is_found_by_the_name_it_has_on_the_site(tmp_path: Path) -> None:
    tree = folder(
        tmp_path,
        page_js='import { a } from "./go/a.js";\nimport("./go/b.js");',
        go__a_js='export {b as a} from "./b.js";',
        go__b_js='import "../c.js";export const b = "./c.js";',
        c_js="export const c = 1;",
    )
    found = assets(tree, {})
    names = {name: address.rpartition("/")[2] for name, address in found.addresses.items()}
    text = {name: content.decode() for name, (_, content) in found.files.items()}
    assert f'from"./go/{names["js/go/a.js"]}"' in text["js/page.js"]
    assert f'import("./go/{names["js/go/b.js"]}")' in text["js/page.js"]
    assert f'from"./{names["js/go/b.js"]}"' in text["js/go/a.js"]
    assert f'import"../{names["js/c.js"]}"' in text["js/go/b.js"]
    assert '"./c.js"' in text["js/go/b.js"], "a text that is no import stays"


def test_a_change_in_what_is_imported_changes_the_name_of_what_imports_it(tmp_path: Path) -> None:
    before = assets(folder(tmp_path, page_js='import "./a.js"', a_js="1"), {}).addresses
    after = assets(folder(tmp_path, a_js="2"), {}).addresses
    assert before["js/a.js"] != after["js/a.js"]
    assert before["js/page.js"] != after["js/page.js"]


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ({"a_js": 'import "./b.js"'}, "js/a.js imports js/b.js, which is not there"),
        (
            {"a_js": 'import "./b.js"', "b_js": 'import "./a.js"'},
            "scripts import each other: js/a.js → js/b.js → js/a.js",
        ),
    ],
)
def test_a_script_that_cannot_work_is_refused(tmp_path: Path, files: dict[str, str], message: str) -> None:
    with pytest.raises(AssetError, match=re.escape(message)):
        assets(folder(tmp_path, **files), {})


def test_a_style_holds_what_it_imports(tmp_path: Path) -> None:
    tree = folder(
        tmp_path, a_css='/* why */\n@import "tokens.css";\np{}', tokens_css="/* why */\n:root{--a:1}\n"
    )
    files = assets(tree, {}).files
    assert files["css/a.css"][1] == b":root{--a:1}p{}"
    assert list(files) == ["css/a.css"], "no page asks for what is in other styles already"


def test_a_style_that_imports_what_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(AssetError, match=r"css/a\.css imports css/b\.css, which is not there"):
        assets(folder(tmp_path, a_css='@import "b.css";\n'), {})


def test_a_script_may_import_what_the_build_writes(tmp_path: Path) -> None:
    tree = folder(tmp_path, go__a_js='import { b } from "../b.js";', b_css="p{}")
    (tree / "js/b.d.ts").write_text("export const b: number;", encoding="utf-8")
    files = assets(tree, {"js/b.js": "export const b = 1;"}).files
    assert sorted(files) == ["css/b.css", "js/b.js", "js/go/a.js"]
    address, content = files["js/b.js"]
    assert content == b"export const b=1;"
    assert files["js/go/a.js"][1].decode() == f'import{{b}}from"../{address.rpartition("/")[2]}";'


def test_a_worker_is_one_file(tmp_path: Path) -> None:
    tree = folder(tmp_path, days_js="// why\nexport const DAY = 1;\nexport function day() {}\n")
    (tree / "worker").mkdir()
    text = 'import { DAY, day } from "../js/days.js";\n\n  day(DAY, "export const");\n'
    (tree / "worker/sw.js").write_text(text, encoding="utf-8")
    assert worker("worker/sw.js", tree) == 'const DAY=1;function day(){}\nday(DAY,"export const");'


@pytest.mark.parametrize(
    ("days", "message"),
    [
        (None, "worker/sw.js imports js/days.js, which is not there"),
        ('import { a } from "./a.js";', "worker/sw.js imports js/days.js, which imports another"),
    ],
)
def test_a_worker_that_would_not_be_whole_is_refused(tmp_path: Path, days: str | None, message: str) -> None:
    tree = folder(tmp_path, **({"days_js": days} if days else {}))
    (tree / "worker").mkdir()
    (tree / "worker/sw.js").write_text('import { DAY } from "../js/days.js";\n', encoding="utf-8")
    with pytest.raises(AssetError, match=re.escape(message)):
        worker("worker/sw.js", tree)


def test_a_text_reaches_the_browser_as_it_was_written() -> None:
    """Layout goes from the code alone, never from what a page says."""
    texts = 0
    loose = assets(loose=True).files
    for name in (name for name in loose if name.startswith("js/") and (THEME / name).exists()):
        written = re.sub(
            r"^ *//[^\n]*|/\*\*.*?\*/ ?", "", (THEME / name).read_text(encoding="utf-8"), flags=re.M | re.S
        )
        found = loose[name][1].decode()
        for text in re.findall(r'`[^`]*`|"[^"\n]*"', written):
            if not text.startswith('"./') and not text.startswith('"../'):
                assert text in found, name
                texts += 1
    assert texts > 1000


def test_no_word_for_developers_reaches_a_browser() -> None:
    files = [*assets().files.items(), *assets(loose=True).files.items()]
    scripts = [content.decode() for name, (_, content) in files if name.endswith(".js")]
    for text in [*scripts, worker("worker/sw.js"), worker("worker/uninstall.js")]:
        assert re.findall(r"/\*\*|@param|@type|@import|^ *//", text, re.MULTILINE) == []
    assert len(scripts) > 30
