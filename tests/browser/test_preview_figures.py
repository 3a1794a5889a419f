"""The preview of a figure: its exercise's page is there at once, and every other page when it is asked for."""

import re

from tests.browser.demo import Day, Tree
from tests.browser.preview import FIGURE, Preview

PAGE = f"exercises/{FIGURE}/"


def day_of_figure(tree: Tree) -> Day:
    return next(day for day in tree.days if any(row.exercise == FIGURE for row in day.sessions[0].rows))


def figures(text: str) -> set[str]:
    return set(re.findall(rf"assets/figures/({FIGURE}-strip\.\w+\.svg)", text))


def lean(tree: Tree, degrees: int) -> None:
    file = tree.folder / f"exercises/{FIGURE}.yaml"
    text, times = re.subn(r"lean: \d+", f"lean: {degrees}", file.read_text(encoding="utf-8"))
    assert times
    file.write_text(text, encoding="utf-8")


def test_a_saved_figure_is_drawn_on_its_page_alone_and_others_follow_when_asked_for(
    preview: Preview, tree: Tree
) -> None:
    address = day_of_figure(tree).address
    first, day = preview.page(PAGE), preview.page(address)
    assert figures(first) == figures(day) != set()
    built = preview.said().count("Building documentation")
    lean(tree, 41)
    preview.wait_for(rf"Drew {PAGE} again\n(.*\n)*.*Reloading browsers")
    alone = preview.page(PAGE)
    assert figures(alone) != figures(first)
    for name in figures(alone):
        assert "<svg" in preview.page(f"assets/figures/{name}")
    assert preview.said().count("Building documentation") == built
    assert figures(preview.page(address)) == figures(alone)
    assert preview.said().count("Building documentation") == built + 1
    # A whole build makes the same page.
    assert preview.page(PAGE) == alone
    assert preview.said().count("Building documentation") == built + 1


def test_a_fault_in_the_figure_is_told_over_the_last_good_page(preview: Preview, tree: Tree) -> None:
    first = preview.page(PAGE)
    lean(tree, 400)
    preview.wait_for(rf"exercises/{FIGURE}\.yaml:\d+:\d+: error ")
    preview.wait_for("Reloading browsers")
    wrong = preview.page(PAGE)
    assert figures(wrong) == figures(first)
    assert "the page is the last good one" in wrong
    said = len(preview.said())
    lean(tree, 43)
    preview.wait_for("Reloading browsers", said)
    mended = preview.page(PAGE)
    assert figures(mended) != figures(first)
    assert "the page is the last good one" not in mended
