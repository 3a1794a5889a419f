"""`python -m tests.fuzz`: cases of every kind from new seeds, or one case alone, named as `kind:seed:steps`.

FUZZ_CASES is how many of each kind (builds are a tenth of it), FUZZ_SEED where the seeds begin.
"""

import os
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz.kinds import KINDS, Build
from tests.fuzz.trying import attempt, many, opened


def alone(case: str) -> int:
    """Run one case and leave what it was run on."""
    name, seed, numbers = case.split(":")
    room = Path(tempfile.gettempdir()) / "fuzz-alone"
    kind = opened(name, room)
    went, found = attempt(kind, int(seed), [int(one) for one in numbers.split(",") if one])
    kind.close()
    print(f"{case}: {found or went}\nit was run on {room / name}")
    return 1 if found else 0


def long(cases: int, first: int) -> int:
    """Run cases of every kind, and say what was found."""
    broken = 0
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        for name in KINDS:
            kind = opened(name, Path(folder) / name)
            count = max(1, cases // 10) if name == Build.name else cases
            try:
                tally = many(kind, range(first, first + count))
            finally:
                kind.close()
            went = ", ".join(f"{word}: {times}" for word, times in sorted(tally.went.items()))
            print(f"{name}: {count} cases from seed {first} ({went})", flush=True)
            for number, text in enumerate(tally.broken.values(), 1):
                print(f" {number}. {text[:3000]}", flush=True)
            broken += len(tally.broken)
    print(f"{broken or 'no'} rule{'' if broken == 1 else 's'} broken")
    return 1 if broken else 0


def main() -> int:
    """Exit status 1 where something was found."""
    if len(sys.argv) > 1:
        return max(alone(case) for case in sys.argv[1:])
    seed = os.environ.get("FUZZ_SEED") or int(time.time()) % 10_000_000 * 10
    return long(int(os.environ.get("FUZZ_CASES") or 1000), int(seed))


if __name__ == "__main__":
    sys.exit(main())
