"""A site of plain Markdown pages for comparison: the same theme at its fastest setting.

The pages are outside the navigation and there is no search: with either of them the theme takes several times
as long, and a site of thousands of pages takes longer than in proportion.
"""

from pathlib import Path
from random import Random

from trees import sentence

PAGES_PER_FOLDER = 20
CONFIG_FILE = "mkdocs.yml"
CONFIG = """\
site_name: plain
docs_dir: docs
nav: [index.md]
not_in_nav: "*"
theme: {name: material, font: false}
plugins: []
"""


def write(folder: Path, pages: int) -> None:
    """Make a folder of which `mkdocs build` makes that many pages."""
    random = Random(pages)
    docs = folder / "docs"
    docs.mkdir(parents=True)
    (docs / "index.md").write_text(page(random), encoding="utf-8")
    for number in range(1, pages):
        path = docs / f"part-{number // PAGES_PER_FOLDER}" / f"page-{number}.md"
        path.parent.mkdir(exist_ok=True)
        path.write_text(page(random), encoding="utf-8")
    (folder / CONFIG_FILE).write_text(CONFIG, encoding="utf-8")


def page(random: Random) -> str:
    """Two screenfuls of Markdown: a session as one would write it by hand, with half the words of one of ours."""
    return "\n\n".join(
        (
            f"# Session {random.randint(2, 999)}",
            _paragraph(random),
            "## Warm-up",
            "\n".join(f"- **{minute} min** {sentence(random)}" for minute in range(1, 8)),
            *(part for block in "ABC" for part in _block(random, block)),
            "## Cool-down",
            "\n".join(f"{number}. {sentence(random)}" for number in range(1, 5)),
            "",
        )
    )


def _block(random: Random, label: str) -> tuple[str, ...]:
    rows = [f"| {label}{row} | **{random.randint(5, 12)}** | {sentence(random)} |" for row in range(1, 5)]
    table = "\n".join(["| station | reps | how |", "| --- | --- | --- |", *rows])
    cues = "\n".join(f"- {sentence(random)}" for _ in range(6))
    return f"## Block {label}", _paragraph(random), table, "### Cues", cues


def _paragraph(random: Random) -> str:
    return " ".join(sentence(random) for _ in range(3))
