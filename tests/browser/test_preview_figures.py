"""The preview of a figure: its exercise's page is there at once, and every other page when it is asked for."""

import re
import urllib.request
from pathlib import Path

from tests.browser.demo import demo
from tests.browser.preview import Preview

NAME = "chair-squat"
PAGE = f"exercises/{NAME}/"
DAY = next(
    day
    for version in demo().versions
    for day in version.days
    if any(row.exercise == NAME for row in day.sessions[0].rows)
)


def page(preview: Preview, address: str) -> str:
    """A page without the preview's own script, which has the number of the build."""
    with urllib.request.urlopen(preview.url + address, timeout=60) as answer:
        return re.sub(r"<script>.*?</script>", "", answer.read().decode(), flags=re.DOTALL)


def figures(text: str) -> set[str]:
    return set(re.findall(rf"assets/figures/({NAME}-strip\.\w+\.svg)", text))


def lean(tree: Path, degrees: int) -> None:
    file = tree / f"exercises/{NAME}.yaml"
    text, times = re.subn(r"lean: \d+", f"lean: {degrees}", file.read_text(encoding="utf-8"))
    assert times
    file.write_text(text, encoding="utf-8")


def test_a_saved_figure_is_drawn_on_its_page_alone_and_others_follow_when_asked_for(
    preview: Preview, tree: Path
) -> None:
    first, day = page(preview, PAGE), page(preview, DAY.address)
    assert figures(first) == figures(day) != set()
    built = preview.said().count("Building documentation")
    lean(tree, 41)
    preview.wait_for(rf"Drew {PAGE} again\n(.*\n)*.*Reloading browsers")
    alone = page(preview, PAGE)
    assert figures(alone) != figures(first)
    for name in figures(alone):
        assert "<svg" in page(preview, f"assets/figures/{name}")
    assert preview.said().count("Building documentation") == built
    assert figures(page(preview, DAY.address)) == figures(alone)
    assert preview.said().count("Building documentation") == built + 1
    # A whole build makes the same page.
    assert page(preview, PAGE) == alone
    assert preview.said().count("Building documentation") == built + 1


def test_a_fault_in_the_figure_is_told_over_the_last_good_page(preview: Preview, tree: Path) -> None:
    first = page(preview, PAGE)
    lean(tree, 400)
    preview.wait_for(rf"exercises/{NAME}\.yaml:\d+:\d+: error ")
    preview.wait_for("Reloading browsers")
    wrong = page(preview, PAGE)
    assert figures(wrong) == figures(first)
    assert "the page is the last good one" in wrong
    said = len(preview.said())
    lean(tree, 43)
    preview.wait_for("Reloading browsers", said)
    mended = page(preview, PAGE)
    assert figures(mended) != figures(first)
    assert "the page is the last good one" not in mended
