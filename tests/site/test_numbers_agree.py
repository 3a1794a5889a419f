"""One session, one length: the pages, the sheet, the list for the timer and the commands tell the same times."""

import re
from itertools import accumulate

from .pages import words
from .sheets import address, clock, lines, minutes, seconds_of, sessions, start_times, told_minutes


def read_sessions(demo, report):
    return [(top, session) for top, session in sessions(report) if address(top, session) in demo.read]


def test_the_pages_that_are_read_are_of_each_day_level_and_week(demo, demo_report):
    def told(those):
        days = {(top, session["day"]) for top, session in those}
        levels = {(top.split("/")[0], session["level"]) for top, session in those}
        return days, levels, {session["week"] for _, session in those}

    assert told(read_sessions(demo, demo_report)) == told(sessions(demo_report))


def test_there_is_one_page_for_each_session_of_the_report_and_no_other(demo, demo_report):
    expected = {address(top, session) for top, session in sessions(demo_report)}
    assert {page.address for page in demo.pages.values() if page.kind == "session"} == expected


def test_the_list_of_a_page_comes_to_the_seconds_of_the_report(demo, demo_report):
    for top, session in read_sessions(demo, demo_report):
        page = demo[address(top, session)]
        listed = lines(page)
        assert sum(line.length for line in listed) == session["seconds"], page.address
        assert sum(line.length for line in listed if line.kind == "work") == session["work_seconds"], (
            page.address
        )


def test_the_starts_of_a_list_are_the_running_sum_of_its_lengths(demo):
    for page in demo.of_kind("session"):
        listed = lines(page)
        assert [line.start for line in listed] == [0, *accumulate(line.length for line in listed)][:-1]


def test_the_numbers_of_a_list_are_plain_decimals_for_the_script(demo, good):
    for page in (*demo.of_kind("session"), *good.of_kind("session")):
        for item in page.one("ol", "[data-order]"):
            for name in ("data-s", "data-l"):
                assert re.fullmatch(r"\d+(\.\d+)?", item.attrib[name]), page.address


def test_people_read_in_a_list_what_the_script_reads(demo):
    for page in demo.of_kind("session"):
        for line, item in zip(lines(page), page.one("ol", "[data-order]"), strict=True):
            assert words(page.one("b", within=item)) == clock(line.start)
            assert seconds_of(words(page.one("i", within=item))) == line.length


def test_the_minutes_of_session_day_and_version_page_are_those_of_the_report(demo, demo_report):
    for top, session in read_sessions(demo, demo_report):
        expected = minutes(session["seconds"])
        own = address(top, session)
        assert told_minutes(words(demo[own].one("p", "lead"))) == expected
        assert minutes_on(demo[f"{top}{session['day']}/"], own) == expected
        assert minutes_on(demo[top], own) == expected


def test_a_session_says_the_same_of_its_length_on_its_own_page_and_on_its_days(demo, demo_report):
    """With the timer, and at most without it."""
    for top, session in read_sessions(demo, demo_report):
        own = address(top, session)
        day = demo[f"{top}{session['day']}/"]
        (link,) = [one for one in day.all("a") if day.leads_to(one) == own]
        told = re.search(r"about \d+ min, up to \d+ without the timer", words(demo[own].one("p", "lead")))
        assert told, own
        assert told[0] in words(link)


def minutes_on(page, target):
    """The minutes that stand in the page's link to a session."""
    (link,) = [one for one in page.all("a") if page.leads_to(one) == target]
    match = re.search(r"about (\d+) min|^(\d+) minutes", words(link))
    assert match, words(link)
    return int(match[1] or match[2])


def test_the_range_of_minutes_of_a_day_spans_its_sessions(demo, demo_report):
    for version in demo_report:
        top = f"{version['programme']}/{version['version']}/"
        for card in demo[top].one("ul", "cards"):
            (link,) = demo[top].all("a", within=card)
            day = demo[top].leads_to(link).removeprefix(top).rstrip("/")
            own = [minutes(one["seconds"]) for one in version["sessions"] if one["day"] == day]
            low, high = min(own), max(own)
            span = f"about {low} min" if low == high else f"about {low} to {high} min"
            assert span in words(card)


def test_the_order_command_gives_the_list_of_the_page(compared):
    assert len(compared) > 30
    for page, session, order in compared:
        told = [(part["start"], part["length"], part["kind"]) for part in order["segments"]]
        assert [(line.start, line.length, line.kind) for line in lines(page)] == told, page.address
        assert order["seconds"] == session["seconds"]


def test_every_cell_of_the_sheet_is_the_start_of_its_bout(compared):
    for page, _, order in compared:
        starts = {}
        for part in order["segments"]:
            if part["kind"] == "work":
                starts.setdefault((part["station"], part["round"]), clock(part["start"]))
        assert start_times(page) == starts, page.address


def test_every_cell_with_a_time_has_one_box_to_tick_and_no_other_has(demo):
    for page in demo.of_kind("session"):
        cells = page.all("td")
        assert cells
        for cell in cells:
            boxes = [one for one in page.all("input", within=cell) if one.get("type") == "checkbox"]
            assert len(boxes) == bool(words(cell)), page.address


def test_the_reps_that_a_list_tells_are_those_of_the_order(compared):
    for page, _, order in compared:
        for line, part in zip(lines(page), order["segments"], strict=True):
            told = re.search(r", (\d+) reps\b", line.text)
            assert (int(told[1]) if told else None) == (part["reps"] or None), page.address
            side = re.search(r", (left|right) side\b", line.text)
            assert (side[1] if side else None) == part["side"], page.address


def test_the_fingerprint_of_every_page_of_a_version_is_the_plan_of_the_report(demo, demo_report):
    plans = {f"{v['programme']}/{v['version']}/": v["plan"] for v in demo_report}
    for page in demo.of_kind("version", "numbers", "day", "session"):
        top = "/".join(page.address.split("/")[:2]) + "/"
        version = top.split("/")[1]
        told = re.search(r"[Vv]ersion (\S+), plan (\S+)", words(page.one("p", "plan")))
        assert told.groups() == (version, plans[top]), page.address
    for page in demo.of_kind("archive"):
        own = [plan for top, plan in plans.items() if top.startswith(page.address.split("/")[0] + "/")]
        assert sorted(re.findall(r"plan ([0-9a-f-]{14})", page.words)) == sorted(own)
