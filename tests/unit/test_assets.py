"""Files of the theme folder under names that change with their content, and with what they import."""

import re
from pathlib import Path

import pytest

from generator.assets import AssetError, assets


def folder(tmp_path: Path, **files: str) -> Path:
    for name, text in files.items():
        path = tmp_path / name.replace("__", "/").replace("_js", ".js").replace("_css", ".css")
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
call(a /* kept: not a line of its own */); // and this
"""
UNCOMMENTED = """\
let a = `
// a text
/** in a text */`;
call(a /* kept: not a line of its own */); // and this
"""


def test_a_name_holds_a_digest_of_the_content(tmp_path: Path) -> None:
    first = assets(folder(tmp_path, a_css="p{color:red}")).addresses["a.css"]
    assert re.fullmatch(r"assets/a\.[0-9a-f]{8}\.css", first)
    assert assets(folder(tmp_path, a_css="p{color:blue}")).addresses["a.css"] != first


def test_comments_are_left_behind(tmp_path: Path) -> None:
    files = assets(folder(tmp_path, a_css="/* why */p{}", b_js=COMMENTED)).files
    assert files["a.css"][1] == b"p{}"
    assert files["b.js"][1].decode() == UNCOMMENTED


def test_an_imported_script_is_found_by_the_name_it_has_on_the_site(tmp_path: Path) -> None:
    tree = folder(
        tmp_path,
        page_js='import {a} from "./go/a.js";\nimport("./go/b.js");',
        go__a_js='export {b as a} from "./b.js";',
        go__b_js='import "../c.js";export const b = "./c.js";',
        c_js="export const c = 1;",
    )
    found = assets(tree)
    names = {name: address.rpartition("/")[2] for name, address in found.addresses.items()}
    text = {name: content.decode() for name, (_, content) in found.files.items()}
    assert f'from "./go/{names["go/a.js"]}"' in text["page.js"]
    assert f'import("./go/{names["go/b.js"]}")' in text["page.js"]
    assert f'from "./{names["go/b.js"]}"' in text["go/a.js"]
    assert f'import "../{names["c.js"]}"' in text["go/b.js"]
    assert '"./c.js"' in text["go/b.js"], "a text that is no import stays"


def test_a_change_in_what_is_imported_changes_the_name_of_what_imports_it(tmp_path: Path) -> None:
    before = assets(folder(tmp_path, page_js='import "./a.js"', a_js="1")).addresses
    after = assets(folder(tmp_path, a_js="2")).addresses
    assert before["a.js"] != after["a.js"]
    assert before["page.js"] != after["page.js"]


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ({"a_js": 'import "./b.js"'}, "a.js imports b.js, which is not there"),
        (
            {"a_js": 'import "./b.js"', "b_js": 'import "./a.js"'},
            "scripts import each other: a.js → b.js → a.js",
        ),
    ],
)
def test_a_script_that_cannot_work_is_refused(tmp_path: Path, files: dict[str, str], message: str) -> None:
    with pytest.raises(AssetError, match=re.escape(message)):
        assets(folder(tmp_path, **files))
