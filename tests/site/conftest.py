"""Sites for the tests to read: the demo, the small good tree, and any tree a test makes up."""

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from phasepress.cli import order as order_command
from phasepress.cli import trees as trees_of_commands

from tests.samples import every

from . import html_rules, links, trees
from .pages import Page, Site
from .sheets import address, sessions

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "programmes"
GOOD = ROOT / "tests" / "data" / "good"
SESSIONS_OF_A_DAY = 2

Run = Callable[..., Result]
Build = Callable[[Path, Path], Site]


class Compared(NamedTuple):
    """A session page, the session in the JSON of `report`, and its running order in that of `order`."""

    page: Page
    session: dict[str, Any]
    order: dict[str, Any]


@pytest.fixture(scope="session")
def run() -> Run:
    """`run("check", "--programmes", folder)`: the command's status and what it printed."""

    def call(*arguments: object) -> Result:
        return CliRunner().invoke(main, [str(argument) for argument in arguments])

    return call


@pytest.fixture(scope="session")
def build(run: Run) -> Build:
    """`build(tree, to)`: the site of a tree that has to build."""

    def call(tree: Path, to: Path) -> Site:
        done = run("build", "--programmes", tree, "--to", to)
        assert done.exit_code == 0, done.output + repr(done.exception)
        return Site(to)

    return call


@pytest.fixture(scope="session")
def demo(built_site: Path) -> Site:
    """The demo club; of its session pages, `make test` reads some of each day, level and week."""
    return Site(built_site, sessions=SESSIONS_OF_A_DAY)


@pytest.fixture(scope="session")
def good(build: Build, tmp_path_factory: pytest.TempPathFactory) -> Site:
    """The small tree without faults: two phases, one of them in two editions, two levels."""
    return build(GOOD, tmp_path_factory.mktemp("good") / "site")


def _report(run: Run, tree: Path) -> list[dict[str, Any]]:
    return json.loads(run("report", "--programmes", tree, "--format", "json").stdout)["versions"]


@pytest.fixture(scope="session")
def demo_report(run: Run) -> list[dict[str, Any]]:
    """The versions of `report --format json` for the demo club."""
    return _report(run, DEMO)


@pytest.fixture(scope="session")
def compared(run: Run, demo: Site, good: Site, demo_report: list[dict[str, Any]]) -> list[Compared]:
    """Every session of the good tree, and of the demo some of the second week, of which `make test` takes few."""

    # Each tree is read once for all its sessions, and not by each call of the command anew.
    read_once = cache(trees_of_commands.sound_tree)

    def order(tree: Path, top: str, session: dict[str, Any]) -> dict[str, Any]:
        programme, version, _ = top.split("/")
        place = (programme, version, session["day"], "--level", session["level"], "--week", session["week"])
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(order_command, "sound_tree", read_once)
            return json.loads(run("order", "--programmes", tree, *place, "--format", "json").stdout)

    all_of_good = [(good, GOOD, top, one) for top, one in sessions(_report(run, GOOD))]
    of_demo = [(demo, DEMO, top, one) for top, one in sessions(demo_report) if one["week"] == 2][::2]
    return [
        Compared(site[address(top, one)], one, order(tree, top, one))
        for site, tree, top, one in (*all_of_good, *every(of_demo, few=13))
    ]


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """The folder of a small tree of the test's own."""
    return trees.write(trees.small(), tmp_path / "tree")


@pytest.fixture
def old(build: Build, tree: Path, tmp_path: Path) -> Path:
    """The site of that tree, in a folder that holds nothing else."""
    return build(tree, tmp_path / "public" / "site").folder


@pytest.fixture
def grown(build: Build, tmp_path: Path) -> Callable[[trees.Tree], Site]:
    """`grown(tree)`: its site, every page sound, every link whole, every page found from the first one."""

    def call(tree: trees.Tree) -> Site:
        site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
        assert links.faults(site) == []
        assert links.unreachable(site) == []
        assert [fault for page in site.pages.values() for fault in html_rules.faults(page)] == []
        return site

    return call
