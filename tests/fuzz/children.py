"""Child processes that take one request after another, each within bounds of processor time and memory."""

import json
import os
import resource
import select
import signal
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

CPU_SECONDS = 10
"""The promise for a hostile tree of up to 1 MB (commands end within it, whatever the files say)."""
MEMORY = 300_000_000
"""Bytes that a command may take beyond what it has when it is loaded and idle."""
WAIT_SECONDS = 300
"""A child that is this long silent hangs: it waits for something that never comes. A busy machine is not so slow."""


class DiedError(Exception):
    """The child ended or had to be ended; the text says why."""


class Child:
    """A process that answers a line of JSON with a line of JSON. One that died is started again."""

    def __init__(self, command: Sequence[str], env: Mapping[str, str], cwd: Path) -> None:
        self._command, self._env, self._cwd = command, env, cwd
        self._process: subprocess.Popen[bytes] | None = None

    def ask(self, request: Mapping[str, Any]) -> Any:
        """The answer. Raises DiedError."""
        process = self._process or self._start()
        _limit_time(process.pid)
        try:
            process.stdin.write(json.dumps(request).encode() + b"\n")
            process.stdin.flush()
            line = self._line(process)
        except BrokenPipeError:
            line = b""
        if line.endswith(b"\n"):
            return json.loads(line)
        self.close()
        raise DiedError(_why(process.returncode))

    def _start(self) -> subprocess.Popen[bytes]:
        self._process = subprocess.Popen(
            self._command, env=self._env, cwd=self._cwd, stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        ready = self._line(self._process)
        if not ready:
            raise DiedError(f"{self._command[0]} did not start")
        return self._process

    def _line(self, process: subprocess.Popen[bytes]) -> bytes:
        """What the child answers, without its end where the child ended first."""
        parts: list[bytes] = []
        while not parts or not parts[-1].endswith(b"\n"):
            if not select.select([process.stdout], [], [], WAIT_SECONDS)[0]:
                self.close()
                raise DiedError(f"it hangs: silent for {WAIT_SECONDS} s")
            part = os.read(process.stdout.fileno(), 1 << 20)
            if not part:
                break
            parts.append(part)
        return b"".join(parts)

    def close(self) -> None:
        """End the child, if there is one."""
        if self._process:
            self._process.stdin.close()
            try:
                self._process.wait(timeout=5)
            except subprocess.TimeoutExpired:
                self._process.kill()
                self._process.wait()
            self._process.stdout.close()
        self._process = None


def _limit_time(pid: int) -> None:
    """From now on, so many more seconds of processor time; where the system cannot say so, there is no bound."""
    if sys.platform == "linux":
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        used = (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
        hard = resource.prlimit(pid, resource.RLIMIT_CPU)[1]
        resource.prlimit(pid, resource.RLIMIT_CPU, (int(used) + 1 + CPU_SECONDS, hard))


def _why(code: int) -> str:
    if code == -signal.SIGXCPU:
        return f"it took more than {CPU_SECONDS} s of processor time"
    return f"it ended by {signal.Signals(-code).name}" if code < 0 else f"it ended with status {code}"


def limit_memory() -> None:
    """For a child itself, once it is loaded."""
    if sys.platform == "linux":
        pages = int(Path("/proc/self/statm").read_text().split()[0])
        most = pages * resource.getpagesize() + MEMORY
        resource.setrlimit(resource.RLIMIT_AS, (most, resource.getrlimit(resource.RLIMIT_AS)[1]))
