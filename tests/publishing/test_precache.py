"""What the lists of a site hold: names and contents in, addresses and digests out."""

import hashlib
import json

from phasepress.publishing.precache import Phase, Precached, lists

SITE = {
    "index.html": b"club",
    "about/index.html": b"about",
    "404.html": b"missing",
    "sw.js": b"worker",
    "assets/page.1.js": b"script",
    "exercises/index.html": b"index",
    "exercises/squat/index.html": b'<a href="../sit/">',
    "exercises/plank/index.html": b'<a href="../../exercises/knees/">easier</a>',
    "exercises/knees/index.html": b'<a href="../../exercises/plank/">harder</a>',
    "exercises/unused/index.html": b"",
    "home/index.html": b"programme",
    "home/app.webmanifest": b"{}",
    "home/1.0/index.html": b"",
    "home/1.0/plan.json": b"{}",
    "home/1.0/legs/index.html": b'<a href="../../../exercises/squat/">',
    "home/1.0/legs/new/week-1/index.html": b'<a href="../../../../../exercises/plank/#faults">',
    "home/2.0/index.html": b"",
    "home/10.0/index.html": b"another phase",
}
HOME = Precached("home", (Phase("2026-01-05", "home/1.0/"), Phase("2026-03-02", "home/2.0/")))


def made(site: dict[str, bytes] = SITE, *programmes: Precached) -> dict[str, dict]:
    found = lists(programmes or (HOME,), list(site), site.__getitem__)
    return {name: json.loads(text) for name, text in found.items()}


def test_what_every_phase_needs_is_listed_once() -> None:
    files = made()["home/offline.json"]["files"]
    assert sorted(files) == ["", "about/", "assets/page.1.js", "exercises/", "home/", "home/app.webmanifest"]


def test_a_phase_has_its_pages_and_the_exercises_they_lead_to_and_their_easier_ways() -> None:
    first, second = made()["home/offline.json"]["phases"]
    assert first["starts"] == "2026-01-05"
    exercises = {"exercises/squat/", "exercises/plank/", "exercises/knees/"}
    assert first["files"].keys() == {"home/1.0/", "home/1.0/legs/", "home/1.0/legs/new/week-1/"} | exercises
    assert second["files"].keys() == {"home/2.0/"}


def test_a_digest_is_that_of_the_file() -> None:
    """FIPS 180-4, SHA-256; the first 16 digits in hexadecimal."""
    files = made()["home/offline.json"]["files"]
    assert files["home/"] == hashlib.sha256(b"programme").hexdigest()[:16]
    assert lists([], [], SITE.__getitem__).keys() == {"offline.json"}


def test_the_log_is_kept_where_there_is_one() -> None:
    assert "log/" in made(SITE | {"log/index.html": b"log"})["home/offline.json"]["files"]


def test_all_lists_name_one_build() -> None:
    other = Precached("home", ())
    found = made(SITE, HOME, Precached("other", ()))
    assert len({one["build"] for one in found.values()}) == 1
    assert found["offline.json"]["programmes"] == ["home", "other"]
    assert made(SITE, other)["offline.json"]["build"] != found["offline.json"]["build"]


def test_the_build_is_another_one_when_a_listed_file_is_and_only_then() -> None:
    build = made()["offline.json"]["build"]
    for name in SITE:
        listed = (
            name not in ("404.html", "sw.js", "home/1.0/plan.json", "home/10.0/index.html")
            and "unused" not in name
        )
        assert (made(SITE | {name: SITE[name] + b" "})["offline.json"]["build"] != build) == listed, name


def test_the_order_in_which_files_are_found_changes_nothing() -> None:
    names = list(SITE)
    assert lists((HOME,), names, SITE.__getitem__) == lists((HOME,), names[::-1], SITE.__getitem__)


def test_each_file_is_read_once_and_others_never() -> None:
    read: list[str] = []

    def reading(name: str) -> bytes:
        read.append(name)
        return SITE[name]

    lists((HOME, Precached("other", HOME.phases)), list(SITE), reading)
    assert len(read) == len(set(read))
    assert not {"404.html", "sw.js", "home/1.0/plan.json", "exercises/unused/index.html"} & set(read)
