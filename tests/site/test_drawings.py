"""The pictures are to scale: the ribbon with the running order, the tempo trace with its counts."""

import re
from itertools import accumulate, groupby, pairwise

import pytest

from tests.oracle import oracle

from .conftest import DEMO, GOOD
from .pages import words
from .sheets import RIBBON_WIDTH, bars, frames, lines, seconds_of

# Numbers are drawn with three or four digits, which is a tenth of a unit of 360.
ROUNDING = 0.06


def close(drawn, true):
    assert drawn.x == pytest.approx(true[0], abs=ROUNDING)
    assert drawn.width == pytest.approx(max(true[1], 0.3), abs=ROUNDING, rel=0.005)


@pytest.fixture(scope="module")
def holds():
    """The exercises that are held, by the words of their files."""
    return {
        path.stem
        for tree in (DEMO, GOOD)
        for path in (tree / "exercises").glob("*.yaml")
        if re.search(r"^measure: hold$", path.read_text(encoding="utf-8"), re.M)
    }


def test_work_is_solid_and_holds_are_hatched_each_as_long_as_its_seconds(compared, holds):
    seen = set()
    for page, session, order in compared:
        ribbon = page.one("svg", "ribbon")
        scale = RIBBON_WIDTH / session["seconds"]
        for mark, held in (("w", False), ("h", True)):
            work = [
                part
                for part in order["segments"]
                if part["kind"] == "work" and (part["exercise"] in holds) is held
            ]
            drawn = bars(page, ribbon, mark)
            assert len(drawn) == len(work), page.address
            for bar, part in zip(drawn, work, strict=True):
                close(bar, (part["start"] * scale, part["length"] * scale))
            seen |= {mark} if work else set()
    assert seen == {"w", "h"}


def test_a_frame_goes_round_every_block_and_leaves_the_rest_after_it_open(compared):
    for page, session, order in compared:
        scale = RIBBON_WIDTH / session["seconds"]
        drawn = frames(page, page.one("svg", "ribbon"))
        blocks = [list(group) for _, group in groupby(order["segments"], key=lambda part: part["block"])]
        assert len(drawn) == len(blocks), page.address
        for frame, block in zip(drawn, blocks, strict=True):
            while block[-1]["kind"] == "rest":
                block.pop()
            left, right = block[0]["start"], block[-1]["start"] + block[-1]["length"]
            assert frame.x == pytest.approx(left * scale, abs=ROUNDING)
            assert frame.width == pytest.approx((right - left) * scale, abs=2 * ROUNDING)


def test_no_bar_leaves_the_ribbon(demo, good):
    for page in (*demo.of_kind("session"), *good.of_kind("session")):
        ribbon = page.one("svg", "ribbon")
        left, _, width, _ = map(float, ribbon.get("viewBox", ribbon.get("viewbox", "")).split())
        for bar in (*bars(page, ribbon, "w"), *bars(page, ribbon, "h"), *frames(page, ribbon)):
            assert left <= bar.x
            assert bar.x + bar.width <= left + width


def test_the_words_of_a_ribbon_come_to_the_session(demo, good):
    for page in (*demo.of_kind("session"), *good.of_kind("session")):
        label = page.one("svg", "ribbon").get("aria-label")
        title, _, parts = label.partition(": ")
        assert title == "Session to scale"
        lengths = [re.fullmatch(r"(?:warm-up|cool-down|[A-Z]) (.*)", part)[1] for part in parts.split(", ")]
        assert sum(map(seconds_of, lengths)) == sum(line.length for line in lines(page))


def test_the_labels_below_a_ribbon_are_those_of_its_blocks_in_order(compared):
    for page, _, order in compared:
        names = [name for name, _ in groupby(part["block"] for part in order["segments"])]
        told = [words(one) for one in page.all("text", within=page.one("svg", "ribbon"))]
        assert told == [name for name in names if name in told], page.address
        assert set(told) >= {name for name in names if len(name) == 1}, page.address


def test_the_day_page_has_the_ribbon_of_each_of_its_sessions(demo):
    def drawing(page, svg):
        return [one.get("d") for one in page.all("path", within=svg)]

    for day in demo.of_kind("day"):
        for item in day.one("ul", "sessions"):
            session = demo[day.address + day.one("a", within=item).get("href")]
            if session.address not in demo.read:
                continue
            expected = drawing(session, session.one("svg", "ribbon"))
            assert drawing(day, day.one("svg", "ribbon", within=item)) == expected


def test_a_page_with_hatched_bars_has_the_hatch_and_the_style_that_uses_it(demo):
    (sheet,) = [path for name, path in demo.files.items() if re.fullmatch(r"assets/css/sheet\..*\.css", name)]
    assert re.search(r"\.ribbon \.h\{stroke:url\(#hold\)\}", sheet.read_text(encoding="utf-8"))
    for page in demo.of_kind("day", "session"):
        assert [one.get("id") for one in page.all("pattern")] == ["hold"], page.address


# --- the tempo trace -----------------------------------------------------------------------------------

SECOND, TOP, LOW = 12, 1, 17


def counts(digits):
    """Seconds of the four counts; X counts one, which is a convention of the file format."""
    return [1.0 if part == "X" else float(part) for part in digits.split("-")]


def tempos(page):
    """(words, drawings) of every tempo on a page."""
    for line in page.all("p", "tempo"):
        text = words(line)
        for when in page.all("small", "when", within=line):
            text = text.removesuffix(words(when)).strip()
        yield text, page.all("svg", "trace", within=line)


def traces(page):
    """(digits, words, drawing) of every tempo on a page that has digits."""
    for text, drawn in tempos(page):
        match = re.match(
            r"((?:[\d.]+|X)(?:-(?:[\d.]+|X)){3}): (.*?)(, in each of .*|\. Your day page .*|)$", text
        )
        # An exercise whose file has seconds for a rep and no tempo says them, and has nothing to draw.
        assert bool(match) == bool(drawn), f"{page.address}: {text}"
        if match:
            yield match[1], match[2], drawn[0]


def all_traces(demo, good):
    found = [
        (page, *trace) for site in (demo, good) for page in site.of_kind("exercise") for trace in traces(page)
    ]
    assert len({digits for _, digits, _, _ in found}) > 8
    assert any("X" in digits for _, digits, _, _ in found)
    return found


def points(page, svg):
    path = page.all("path", within=svg)[0].attrib["d"]
    return [tuple(map(float, point)) for point in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]


def begins_low(page, svg):
    """Whether the rep is drawn from the bottom: it begins with lifting."""
    return points(page, svg)[0][1] == LOW


def in_order(lifting_first, parts):
    """Lowering, pause low, lifting, pause high; or from the lifting on."""
    return [*parts[2:], *parts[:2]] if lifting_first else [*parts]


def test_a_trace_goes_down_stays_comes_up_and_stays_as_long_as_its_counts(demo, good):
    for page, digits, _, svg in all_traces(demo, good):
        lifts = begins_low(page, svg)
        turns = [0, *accumulate(in_order(lifts, counts(digits)))]
        depths = in_order(lifts, [LOW, LOW, TOP, TOP])
        expected = zip((SECOND * t for t in turns), (depths[-1], *depths), strict=True)
        assert points(page, svg) == list(expected), digits


def test_a_trace_on_a_day_page_lasts_as_long_as_its_words_say(demo, good):
    """A child is shown words and no digits: `reach 2 s, come back as fast as you can control`."""
    seen = set()
    for page in (page for site in (demo, good) for page in site.of_kind("day")):
        for text, drawn in tempos(page):
            told = [part for part in text.split(", ") if not part.startswith("in each of")]
            assert re.search(r"\d-\d", text) is None, page.address
            if not drawn:
                continue
            seconds = [1.0 if "as fast as" in part else float(part.split()[-2]) for part in told]
            turns = [x for x, _ in points(page, drawn[0])]
            lengths = [(b - a) / SECOND for a, b in pairwise(turns) if b > a]
            assert lengths == seconds, f"{page.address}: {text}"
            seen.add(text)
    assert len(seen) > 10


def test_what_begins_with_lifting_is_drawn_from_the_bottom(demo):
    """A tempo's digits name lowering first for every exercise (Wilk 2018); a pull or a bridge begins with the lift."""
    begins = {}
    for file in sorted((DEMO / "exercises").glob("*.yaml")):
        exercise = oracle.load(file)
        lifts = (
            exercise.get("begins", "lifting" if exercise["pattern"] == "pull" else "lowering") == "lifting"
        )
        for _, _, svg in traces(demo[f"exercises/{file.stem}/"]):
            assert begins_low(demo[f"exercises/{file.stem}/"], svg) == lifts, file
            begins[file.stem] = lifts
    assert {begins["glute-bridge"], begins["bag-row"]} == {True}
    assert {begins["bag-squat"], begins["floor-push-up"]} == {False}


def test_a_trace_has_a_tick_for_every_second_and_room_for_all_of_it(demo, good):
    for page, digits, _, svg in all_traces(demo, good):
        length = sum(counts(digits))
        ticks = re.findall(r"M([\d.]+) ", page.one("path", "t", within=svg).attrib["d"])
        assert [float(tick) for tick in ticks] == [SECOND * second for second in range(int(length) + 1)]
        assert float(svg.attrib["width"]) >= SECOND * length


def test_the_words_beside_a_trace_name_every_count_that_is_not_nothing(demo, good):
    for page, digits, told, svg in all_traces(demo, good):
        named = list(zip(("lower", "pause", "lift", "pause"), digits.split("-"), strict=True))
        expected = [
            f"{name} as fast as you can control" if part == "X" else f"{name} {float(part):g} s"
            for name, part in in_order(begins_low(page, svg), named)
            if part == "X" or float(part)
        ]
        assert told == ", ".join(expected), page.address
