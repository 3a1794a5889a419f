"""What a forge makes of a command's output: commands in its log, and Markdown on its pages.

The log: "Workflow commands for GitHub Actions" (from memory): a line is a command when, after white space, it begins
with `::`; the older form `##[…]` counts anywhere in a line. Markdown is read by cmark-gfm, the parser of GitHub's
flavour, and by markdown-it with links found in bare text, which is more eager to link than any forge.
"""

import re
from html.parser import HTMLParser

import cmarkgfm
from cmarkgfm.cmark import Options
from markdown_it import MarkdownIt

UNSEEN = "\u200c\u200d"
_OURS = re.compile(r"::(error|warning|notice) file=[^:,]*,line=\d+,col=\d+,title=[a-z-]+::")
_OLD = re.compile(r"##\w*\[")
# What a forge looks for in text that stands in no code: the signs of its own references.
_REFERENCES = re.compile(
    r"@\w|[#!&%~$^]\w|\b[A-Z]{2,}-\d|:\w+:|://|\bwww\.|\w@\w|\b[0-9a-f]{7,40}\b|\$.+\$|\[\[|\{[-+]", re.ASCII
)


def obeyed(output: str, *, findings: bool = False) -> list[str]:
    """Lines that a forge or a terminal would obey; `findings`: those that are our own commands are right."""
    lines = output.split("\n")
    return [
        line
        for line in lines
        if not "".join(c for c in line if c not in UNSEEN).isprintable()
        or (re.match(rf"[\s{UNSEEN}]*::", line) and not (findings and _OURS.match(line)))
        or _OLD.search(line)
    ]


class Shown(HTMLParser):
    """The elements of rendered Markdown, and the words that stand outside of code."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[str] = []
        self.words = ""
        self.all_words = ""
        self._code = 0
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.elements.append(tag)
        self._code += tag == "code"

    def handle_endtag(self, tag: str) -> None:
        self._code -= tag == "code"

    def handle_data(self, data: str) -> None:
        self.all_words += data
        self.words += "\n" if self._code else data


def rendered(markdown: str) -> list[Shown]:
    """Markdown as each of the two readers shows it, with HTML let through."""
    other = MarkdownIt("commonmark", {"html": True, "linkify": True}).enable(
        ["table", "strikethrough", "linkify"]
    )
    options = Options.CMARK_OPT_UNSAFE | Options.CMARK_OPT_FOOTNOTES
    return [
        Shown(cmarkgfm.github_flavored_markdown_to_html(markdown, options)),
        Shown(other.render(markdown)),
    ]


def references(shown: Shown) -> list[str]:
    """What a forge would take for one of its own signs."""
    return _REFERENCES.findall(shown.words)
