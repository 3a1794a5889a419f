"""The same tree gives the same bytes: on any day, in any zone, on any machine, in any folder."""

import hashlib
import os
import re
import subprocess
import sys
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from phasepress.publishing.pages import PAGES

from tests.samples import every

from . import trees
from .conftest import DEMO, GOOD, ROOT
from .pages import Site, contents


def built_apart(tree, to, **environment):
    """The tree's site, built by a process of its own with these variables."""
    command = [sys.executable, "-m", "phasepress", "build", "--programmes", str(tree), "--to", str(to)]
    env = os.environ | environment
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return contents(to)


def differing(one, other):
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


ENVIRONMENTS = {
    "again": {},
    "seed, zone and date": {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "SOURCE_DATE_EPOCH": "86400"},
    "seed, zone and locale": {
        "PYTHONHASHSEED": "2",
        "TZ": "Etc/GMT+12",
        "LC_ALL": "C",
        "LANG": "C",
        "COLUMNS": "20",
    },
}


@pytest.mark.parametrize(
    "environment", every(ENVIRONMENTS, few=["seed, zone and date", "seed, zone and locale"])
)
@pytest.mark.parametrize("which", every(["good", "demo"], few=["good"]))
def test_another_build_gives_the_same_bytes(which, request, tmp_path, environment):
    """That of the demo, built by `mkdocs`, gives the same bytes in test_mkdocs too."""
    site, tree = request.getfixturevalue(which), {"good": GOOD, "demo": DEMO}[which]
    again = built_apart(tree, tmp_path / "elsewhere" / "again", **ENVIRONMENTS[environment])
    assert differing(contents(site.folder), again) == []


def test_the_small_site_has_pages_of_every_kind(good):
    """Else what a kind of page does with a zone or a seed would be seen with the demo alone."""
    kinds = {kind.name for kind in PAGES}
    assert kinds - {page.kind for page in good.pages.values()} == set()


def test_no_file_tells_the_day_of_the_build(build, tmp_path):
    """All days of this tree lie in 2031, or in 2043 while it is 2030 to 2032, so that none of its own can be today."""
    tree = trees.small()
    now = datetime.now(UTC)
    if abs(now.year - 2031) <= 1:
        # A Monday too.
        tree["plan/1.0.yaml"]["starts"] = "2043-01-05"
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    today, stamp = date.today(), str(int(now.timestamp()))[:6]
    told = {
        f"{today:%Y-%m-%d}",
        f"{now:%Y-%m-%d}",
        f"{now.day} {now:%B %Y}",
        f"{now:%B} {now.day}, {now.year}",
    }
    for name, path in site.files.items():
        text = path.read_text(encoding="utf-8", errors="replace")
        assert not any(form in text for form in told), name
        assert not re.search(rf"\b{stamp}\d{{4}}\b", text), name


def test_no_file_tells_where_it_was_built(demo, good):
    here = {str(path) for path in (ROOT, Path.home(), Path(sys.prefix).resolve(), demo.folder, good.folder)}
    for site in (demo, good):
        for name, path in site.files.items():
            text = path.read_text(encoding="utf-8", errors="replace")
            assert not any(place in text for place in here), name


def test_no_file_is_named_by_chance(demo, good):
    """A script has the same name in the site of any tree. The name of every style, script and picture comes from
    what is in it; a club's colour and crest change styles and icons, so that these differ from club to club.

    A figure is of an exercise of its tree, in a tempo or as a strip, and named by what is in it too.
    """

    def assets(site):
        return {name for name in site.files if name.startswith("assets/") and "/figures/" not in name}

    def scripts(site):
        return {name for name in assets(site) if name.endswith(".js")}

    assert scripts(demo) == scripts(good) != set()
    for site in (demo, good):
        for name in assets(site):
            digest = hashlib.sha256(site.files[name].read_bytes()).hexdigest()
            assert name.split(".")[-2] == digest[:8], name
    for site in (demo, good):
        for name, path in site.files.items():
            if "/figures/" in name and name != "exercises/figures/index.html":
                found = re.fullmatch(
                    r"assets/figures/([a-z0-9-]+?)(?:-strip|-right-and-not-so|-(?:[\d.X]+-){3}[\d.X]+)?"
                    r"(?:-mirrored)?\.[0-9a-f]{8}\.svg",
                    name,
                )
                assert found, name
                assert f"exercises/{found[1]}/index.html" in site.files
                assert hashlib.sha256(path.read_bytes()).hexdigest()[:8] == name.split(".")[-2]


def test_contents_see_a_changed_byte_and_an_empty_folder(tmp_path):
    (tmp_path / "a").mkdir()
    before = contents(tmp_path)
    (tmp_path / "a" / "b").write_bytes(b"1")
    assert differing(before, contents(tmp_path)) == ["a/b"]
    (tmp_path / "a" / "b").unlink()
    (tmp_path / "a").rmdir()
    assert differing(before, contents(tmp_path)) == ["a"]
    assert Site(tmp_path).files == {}
