"""A preview after one version was saved: each of its light pages is made when asked for, and is that of a whole build."""

import pytest
from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.kinds import SCOPES
from phasepress.publishing.on_demand import SavedVersion, only_version
from phasepress.publishing.pages import kind_of
from phasepress.publishing.preview import Preview
from phasepress.publishing.redrawing import changed, stamps
from phasepress.publishing.site import Renderer
from phasepress.reading.catalogue import load

from tests.fixtures.trees import copy_of_good
from tests.publishing.test_redrawing import saved

HOME = "home/2.0.yaml"
OF_A_VERSION = {"version", "day", "level", "session"}


@pytest.fixture
def tree(tmp_path):
    return copy_of_good(tmp_path)


def renderer(tree, own=None):
    checked = check(load(tree))
    assert not checked.count("error")
    return Renderer(checked.catalogue, own or assets(), "https://x.club/", True, checked.versions)


def of_the_version(page):
    return page.address.startswith("home/2.0/") and not page.themed


def test_one_version_that_is_saved_is_known_by_programme_and_name(tree):
    before = stamps([tree])
    saved(tree / HOME)
    assert only_version(tree, changed(before, stamps([tree]))) == ("home", "2.0")


@pytest.mark.parametrize("also", ["club.yaml", "home/1.0.yaml", "exercises/bag-row.yaml"])
def test_with_any_other_file_it_is_not_enough(tree, also):
    before = stamps([tree])
    saved(tree / HOME)
    saved(tree / also)
    assert only_version(tree, changed(before, stamps([tree]))) is None


@pytest.mark.parametrize("name", ["club.yaml", "home/programme.yaml"])
def test_a_file_that_is_no_version_is_of_none(tree, name):
    before = stamps([tree])
    saved(tree / name)
    assert only_version(tree, changed(before, stamps([tree]))) is None


@pytest.mark.parametrize("names", [("home", "9.0"), ("exercises", "2.0"), ("nobody", "2.0")])
def test_a_version_that_the_tree_does_not_have_is_not_found(tree, names):
    assert SavedVersion.found(renderer(tree), *names) is None


def test_each_page_and_file_that_is_made_alone_is_the_one_of_a_whole_build(tree, tmp_path):
    whole = [page for page in renderer(tree).pages() if of_the_version(page)]
    of_kinds = {kind_of(page.address).name for page in whole if page.file == "index.html"}
    assert of_kinds == {"kit", "day", "session"}
    assert {page.file for page in whole} == {"index.html", "plan.json", "guide.json", "stills.svg"}
    one = SavedVersion.found(renderer(tree), "home", "2.0")
    # The last first, so that none rests on what another one has worked out.
    for page in reversed(whole):
        address = page.address if page.file == "index.html" else page.address + page.file
        assert one.make(tmp_path / "site", address), address
        assert (tmp_path / "site" / page.address / page.file).read_text(encoding="utf-8") == page.text


def test_the_figures_that_a_page_asks_for_are_there(tree, tmp_path):
    one = SavedVersion.found(renderer(tree), "home", "2.0")
    day = next(
        page for page in renderer(tree).pages() if of_the_version(page) and "assets/figures/" in page.text
    )
    assert one.make(tmp_path, day.address)
    names = [part.split('"')[0] for part in day.text.split("assets/figures/")[1:]]
    assert names
    assert {name for name in names if not (tmp_path / "assets/figures" / name).is_file()} == set()


@pytest.mark.parametrize(
    "address", ["home/2.0/", "home/2.0/numbers/", "home/", "", "home/1.0/kit/", "home/2.0/gone/"]
)
def test_what_stands_in_the_frame_or_is_of_anything_else_is_left_to_a_whole_build(tree, tmp_path, address):
    one = SavedVersion.found(renderer(tree), "home", "2.0")
    assert not one.make(tmp_path, address)
    assert list(tmp_path.glob("home")) == []


def test_every_scope_is_of_the_version_or_known_not_to_be():
    """A new scope has to be thought of in `SavedVersion`."""
    assert set(SCOPES.values()) - OF_A_VERSION == {"site", "exercise", "programme"}


class Served:
    """A preview of a tree whose whole builds are counted, and made by the renderer alone. `while_read` has what is done,
    once, while a page with that word is read."""

    def __init__(self, tree, site):
        self.tree, self.site, self.builds = tree, site, 0
        self.own = assets()
        self.while_read = {}
        self.preview = Preview(tree, [tree])
        self.build()

    def build(self):
        self.preview.looks()
        checked = check(load(self.tree))
        self.preview.tells(checked, "/club/")
        if checked.count("error"):
            return False
        self.preview.begins(self.site, self.own, "")
        for page in Renderer(checked.catalogue, self.own, "", True, checked.versions).pages():
            self.preview.has(page)
            (self.site / page.address).mkdir(parents=True, exist_ok=True)
            (self.site / page.address / page.file).write_text(page.text, encoding="utf-8")
        self.builds += 1
        return True

    def save(self, name, before, after):
        assert before in (self.tree / name).read_text("utf-8")
        saved(self.tree / name, before, after)
        self.preview.saved(self.build)

    def ask(self, path):
        """What a browser gets for a path; nothing below the folder of findings is looked for here."""

        def app(environ, start):
            start("200 OK", [("Content-Type", "text/plain")])
            file = self.site / environ["PATH_INFO"].removeprefix("/club/")
            content = (file / "index.html" if file.is_dir() else file).read_bytes()
            for word in [word for word in self.while_read if word.encode() in content]:
                self.while_read.pop(word)()
            return [content]

        answer = self.preview.serves(app, self.build)
        return b"".join(answer({"PATH_INFO": path}, lambda *told: None)).decode()


@pytest.fixture
def served(tree, tmp_path):
    return Served(tree, tmp_path / "site")


DAY = "/club/home/2.0/whole-body/"
PHASE, NEW = "phase: Load", "phase: Grow"


def test_a_saved_version_is_shown_without_a_whole_build_until_something_else_is_asked_for(served):
    served.save(HOME, PHASE, NEW)
    assert served.builds == 1
    day = served.ask(DAY)
    assert "Grow" in day
    assert "Grow" in served.ask("/club/home/2.0/kit/index.html")
    assert served.builds == 1
    assert "Grow" in served.ask("/club/home/")
    assert served.builds == 2, "the programme's page needs all of it"
    assert served.ask(DAY) == day, "and made the same day"
    assert served.builds == 2


def test_what_is_saved_while_a_page_is_read_is_on_it(served):
    """A browser that gets the older page then would take it for the newest, and wait."""
    served.save(HOME, PHASE, NEW)
    served.while_read = {"Grow": lambda: served.save(HOME, NEW, "phase: Thrive")}
    assert "Thrive" in served.ask(DAY)
    assert "Thrive" in served.ask(DAY)
    assert served.builds == 1


def test_what_was_made_alone_is_made_again_when_the_version_is_saved_again(served):
    served.save(HOME, PHASE, NEW)
    assert "Grow" in served.ask(DAY)
    served.save(HOME, NEW, "phase: Thrive")
    assert "Thrive" in served.ask(DAY)
    assert served.builds == 1


def test_a_file_of_another_kind_that_is_saved_next_leaves_nothing_behind(served):
    served.save(HOME, PHASE, NEW)
    served.ask(DAY)
    served.save("club.yaml", "club: ", "club: New ")
    assert served.builds == 2
    assert "New " in served.ask(DAY)
    assert "Grow" in served.ask("/club/home/")
    assert served.builds == 2


def test_an_exercise_that_is_saved_next_is_in_the_pages_of_the_version_too(served):
    served.save(HOME, PHASE, NEW)
    served.ask(DAY)
    name = next(iter(check(load(served.tree)).catalogue.exercises))
    text = (served.tree / f"exercises/{name}.yaml").read_text("utf-8")
    served.save(f"exercises/{name}.yaml", text, text + "\n")
    served.ask(DAY)
    assert served.builds == 2, "a day has more in it than the one page of an exercise"


def test_an_exercise_alone_is_still_drawn_alone(served):
    name = next(iter(check(load(served.tree)).catalogue.exercises))
    text = (served.tree / f"exercises/{name}.yaml").read_text("utf-8")
    served.save(f"exercises/{name}.yaml", text, text + "\n")
    served.ask(f"/club/exercises/{name}/")
    assert served.builds == 1


def test_a_fault_leaves_the_last_good_pages_and_the_mended_file_is_shown(served):
    served.save(HOME, PHASE, NEW)
    day = served.ask(DAY)
    served.save(HOME, NEW, "phase: [Grow")
    assert served.ask(DAY).startswith(day[:200])
    assert served.builds == 1
    served.save(HOME, "phase: [Grow", "phase: Mended")
    assert "Mended" in served.ask(DAY)


def test_findings_styles_and_scripts_are_never_behind(served):
    served.save(HOME, PHASE, NEW)
    (served.site / "assets").mkdir(exist_ok=True)
    (served.site / "assets/x.svg").write_text("<svg/>", encoding="utf-8")
    assert served.ask("/club/assets/x.svg") == "<svg/>"
    served.ask("/club/_findings/")
    assert served.builds == 1
