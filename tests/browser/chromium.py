"""Finds a Chromium, or installs one: `python -m tests.browser.chromium` prints its path."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from itertools import chain
from pathlib import Path

from phasepress.publishing import pdf

DEBIAN = ("chromium-headless-shell", "chromium")
WHOLE = (
    "a few tests need a Chromium that is more than a headless shell, and none that runs was found. Debian: "
    "apt-get install chromium. Elsewhere: .venv/bin/python -m playwright install chromium. "
)
SHELLS = ("chrome-headless-shell", "headless_shell", "chrome-headless-shell.exe", "headless_shell.exe")
HOW_TO_GET_ONE = (
    f"no Chromium that runs was found. {pdf.HOW_TO_GET_ONE}. "
    "PHASEPRESS_SKIP_BROWSER=1 leaves the browser tests out, on your own machine only."
)
_KEPT = (
    "from playwright.sync_api import sync_playwright\n"
    "with sync_playwright() as started: print(started.chromium.executable_path)"
)
SKIP_REFUSED = "PHASEPRESS_SKIP_BROWSER=1 is refused where CI is set: browser tests run there"


class NoChromiumError(Exception):
    """No Chromium can be had; the text says how to get one."""


def skip_is_asked(env: Mapping[str, str]) -> bool:
    """Whether the browser tests are left out; raises NoChromiumError where that is refused."""
    if env.get("PHASEPRESS_SKIP_BROWSER") != "1":
        return False
    if env.get("CI"):
        raise NoChromiumError(SKIP_REFUSED)
    return True


def runs(path: str) -> bool:
    """Whether the program starts; some systems have a placeholder of that name which does not."""
    try:
        done = subprocess.run([path, "--version"], capture_output=True, timeout=60, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0


def find(env: Mapping[str, str]) -> str | None:
    """The path of a Chromium that runs, or None; raises NoChromiumError if the one asked for does not."""
    asked = env.get("PHASEPRESS_CHROMIUM")
    if asked:
        if not runs(asked):
            raise NoChromiumError(f"PHASEPRESS_CHROMIUM={asked} does not run. Correct it or unset it.")
        return asked
    return next((path for path in _candidates() if runs(path)), None)


def find_whole(env: Mapping[str, str]) -> str | None:
    """One that also has windows, settings and installed apps, which a headless shell has not; or None."""
    asked = find(env) if env.get("PHASEPRESS_CHROMIUM") else None
    found = (path for path in chain([asked], _candidates()) if path and not _is_shell(path))
    return next(filter(runs, found), None)


def _is_shell(path: str) -> bool:
    name = Path(path).name
    return "headless-shell" in name or "headless_shell" in name


def _candidates() -> Iterator[str]:
    yield from filter(None, map(shutil.which, pdf.NAMES))
    # In a process of its own, since there is one playwright at a time in a process.
    done = subprocess.run([sys.executable, "-c", _KEPT], capture_output=True, text=True, check=True)
    chromium = done.stdout.strip()
    yield from shells(Path(chromium))
    yield chromium


def shells(chromium: Path) -> list[str]:
    """The headless shells that playwright keeps beside its Chromium, of the same revision first."""
    own = next((folder for folder in chromium.parents if folder.name.startswith("chromium-")), chromium)
    revision = own.name.rpartition("-")[2]
    found = own.parent.glob("chromium_headless_shell-*/*/*")
    kept = [path for path in found if path.name in SHELLS]
    return [str(path) for path in sorted(kept, key=lambda path: f"-{revision}/" not in path.as_posix())]


def install() -> None:
    """Gets both kinds with the system's own package client; without the right to, with playwright's."""
    if os.geteuid() == 0 and shutil.which("apt-get"):
        _run("apt-get", "update", "-qq")
        _run("apt-get", "install", "-y", "-qq", "--no-install-recommends", *DEBIAN)
    else:
        _run(sys.executable, "-m", "playwright", "install", "chromium")


def _run(*command: str) -> None:
    env = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    # The path is all that may stand on standard output, so the client's own talk goes beside it.
    done = subprocess.run(command, env=env, stdout=sys.stderr, check=False)
    if done.returncode != 0:
        raise NoChromiumError(f"{' '.join(command)} failed: {HOW_TO_GET_ONE}")


def find_or_install(env: Mapping[str, str]) -> str:
    """The path of a Chromium that runs; raises NoChromiumError."""
    found = find(env)
    if found is None or find_whole(env) is None:
        install()
        found = find(env)
    if found is None:
        raise NoChromiumError(HOW_TO_GET_ONE)
    return found


def main() -> int:
    """Prints the path, or what is wrong; the exit status is 1 where there is no Chromium to use."""
    try:
        if skip_is_asked(os.environ):
            print("browser tests are left out: PHASEPRESS_SKIP_BROWSER=1")
        else:
            print(find_or_install(os.environ))
    except NoChromiumError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
