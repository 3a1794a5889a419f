"""A child that runs the commands: a line of JSON {"cwd", "words"} in, a line {"status", "out", "err", ...} out.

It tells also what was tried outside `cwd` and the folder for temporary files: writing, programs other than git,
connections. Python itself tells of these (PEP 578).
"""

import json
import os
import sys
import tempfile
import traceback
from typing import Any

from click.testing import CliRunner
from phasepress.cli import main

from tests.fuzz.children import limit_memory

_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_CHANGES = {
    "os.mkdir": 1, "os.remove": 1, "os.rmdir": 1, "os.chmod": 1, "os.chown": 1, "os.truncate": 1, "os.utime": 1,
    "os.setxattr": 1, "os.rename": 2, "os.link": 2, "os.symlink": 2, "tempfile.mkdtemp": 1, "tempfile.mkstemp": 1,
}  # fmt: skip
"""Events and how many paths they begin with; of a symlink only the second is written."""
_STARTS = {"os.system", "os.exec", "os.posix_spawn", "os.fork", "os.forkpty", "pty.spawn", "os.startfile"}
_CONNECTS = {
    "socket.connect",
    "socket.bind",
    "socket.sendto",
    "socket.getaddrinfo",
    "urllib.Request",
    "webbrowser.open",
}
MOST_TOLD = 2_000_000


class Watch:
    """What was tried outside the folders that a command may write to."""

    def __init__(self) -> None:
        self.may: tuple[str, ...] = ()
        self.tried: list[str] = []
        sys.addaudithook(self._hear)

    def _hear(self, event: str, arguments: tuple[Any, ...]) -> None:
        if not self.may:
            return
        if event == "open":
            path, _, flags = arguments
            if flags & _WRITES and isinstance(path, str | bytes | os.PathLike):
                self._written(event, path)
        elif event in _CHANGES:
            count = _CHANGES[event]
            for path in arguments[1 if event == "os.symlink" else 0 : count]:
                self._written(event, path, arguments[count:])
        elif event == "subprocess.Popen":
            if os.path.basename(os.fsdecode(arguments[1][0])) != "git":
                self.tried.append(f"{event} {arguments[1]!r}")
        elif event in _STARTS or event in _CONNECTS:
            self.tried.append(f"{event} {arguments!r}")

    def _written(self, event: str, path: Any, more: tuple[Any, ...] = ()) -> None:
        if isinstance(path, int):
            return
        name = os.fsdecode(path)
        if not os.path.isabs(name) and more and isinstance(more[-1], int) and more[-1] > 2:
            name = os.path.join(os.readlink(f"/proc/self/fd/{more[-1]}"), name)
        folder, last = os.path.split(os.path.abspath(name))
        real = os.path.join(os.path.realpath(folder), last)
        if not (real + os.sep).startswith(self.may) and real != os.devnull:
            self.tried.append(f"{event} {real!r}")


def answer(request: dict[str, Any], watch: Watch) -> dict[str, Any]:
    """Run a command as the request has it."""
    os.chdir(request["cwd"])
    watch.tried.clear()
    watch.may = tuple(os.path.realpath(one) + os.sep for one in (request["cwd"], tempfile.gettempdir()))
    try:
        result = CliRunner().invoke(main, request["words"])
    finally:
        watch.may = ()
    fault = result.exception
    broken = fault is not None and not isinstance(fault, SystemExit)
    return {
        "status": result.exit_code,
        "out": result.stdout[:MOST_TOLD],
        "err": result.stderr[:MOST_TOLD],
        "long": len(result.stdout) > MOST_TOLD,
        "traceback": "".join(traceback.format_exception(fault)) if fault and broken else "",
        "tried": watch.tried[:5],
    }


def serve() -> None:
    """Answer requests until there are no more."""
    watch = Watch()
    limit_memory()
    answers = sys.stdout
    sys.stdout = sys.stderr
    answers.write("{}\n")
    answers.flush()
    for line in sys.stdin:
        answers.write(json.dumps(answer(json.loads(line), watch)) + "\n")
        answers.flush()


if __name__ == "__main__":
    serve()
