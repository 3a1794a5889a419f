"""Programs run to their end as children: what they cost, and nothing of what they say."""

import json
import os
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ENVIRONMENT = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
_BYTES = 1 if sys.platform == "darwin" else 1024
"""What the system counts the peak of memory in."""


def cost(folder, *arguments):
    """`python ARGUMENTS` in `folder`: processor seconds, user's and system's, and the peak of memory in MB.

    Raises CalledProcessError when it fails, after its words.
    """
    command = [sys.executable, *map(str, arguments)]
    with open(folder / "said.txt", "w+b") as said:
        child = subprocess.Popen(command, cwd=folder, env=ENVIRONMENT, stdout=said, stderr=said)
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode:
            said.seek(0)
            sys.stderr.buffer.write(said.read())
            raise subprocess.CalledProcessError(child.returncode, command)
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss * _BYTES / 1e6


def inside(what, tree, rounds):
    """The figures that `inside.py` prints."""
    command = [sys.executable, str(HERE / "inside.py"), what, str(tree), str(rounds)]
    return json.loads(subprocess.run(command, stdout=subprocess.PIPE, check=True, env=ENVIRONMENT).stdout)
