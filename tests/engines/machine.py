"""What the journey needs of a machine beside Chromium: `python -m tests.engines.machine` installs what is missing."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable

DEBIAN = {
    "WebKitWebDriver": "webkit2gtk-driver",
    "Xvfb": "xvfb",
    "firefox-esr": "firefox-esr",
}
"""Programs, with the packages of Debian that have them."""
OTHERS = {"firefox-esr": "firefox"}
"""Under which name another system has a program."""


def missing() -> list[str]:
    """The packages of programs that are not there."""
    names = {name: [name, OTHERS.get(name, name)] for name in DEBIAN}
    return [DEBIAN[name] for name, either in names.items() if not any(map(shutil.which, either))]


def how_to_get(packages: Iterable[str]) -> str:
    """In words for a person."""
    return (
        f"the journey in three engines needs {' and '.join(packages)}. Debian: apt-get install {' '.join(packages)}. "
        "PHASEPRESS_SKIP_BROWSER=1 leaves the browser tests out, on your own machine only."
    )


def main() -> int:
    """Installs what is missing where this user may; the exit status is 1 where something still is."""
    if os.environ.get("PHASEPRESS_SKIP_BROWSER") == "1" or not missing():
        return 0
    if os.geteuid() == 0 and shutil.which("apt-get"):
        env = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
        for words in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", *missing()]):
            subprocess.run(["apt-get", *words], env=env, stdout=sys.stderr, check=False)
    if missing():
        print(how_to_get(missing()), file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
