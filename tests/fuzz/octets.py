"""Changes of bytes, blind to what they mean."""

from random import Random

TOKENS = [
    b":", b": ", b"-", b"- ", b"\n", b"\r", b"\r\n", b"\t", b"  ", b"[", b"]", b"{", b"}", b",", b'"', b"'", b"#", b"&a ",
    b"*a", b"!", b"|", b">", b"%", b"@", b"`", b"\\", b"\\u202e", b"\\x85", b"\x00", b"\x1b[31m", b"\x7f", b"\x80", b"\xff",
    b"\xfe\xff", b"\xef\xbb\xbf", b"\xc2\x85", b"\xe2\x80\xa8", b"\xe2\x80\xae", b"\xe2\x81\xa6", b"\xed\xa0\x80",
    b"\xf4\x90\x80\x80", b"\xc0\xaf", b"---\n", b"...\n", b"<<: ", b"? ", b"::error::forged\n", b"9" * 400,
]  # fmt: skip


def changed(text: bytes, rng: Random, other: bytes = b"") -> bytes:
    """The text after a few flips, inserts, losses, repeats, or a splice with `other`."""
    for _ in range(rng.choice([1, 1, 2, 4, 16])):
        text = _step(text, rng, other)
    return text[:1_000_001]


def _step(text: bytes, rng: Random, other: bytes) -> bytes:
    at = rng.randint(0, len(text))
    upto = min(len(text), at + rng.choice([1, 1, 2, 8, 64, 1000]))
    kind = rng.randrange(8)
    if kind == 0 and at < len(text):
        return text[:at] + bytes([text[at] ^ (1 << rng.randrange(8))]) + text[at + 1 :]
    if kind in (1, 2):
        return text[:at] + rng.choice(TOKENS) + text[at:]
    if kind == 3:
        return text[:at] + text[upto:]
    if kind == 4:
        return text[:upto] + text[at:upto] * rng.choice([1, 2, 50]) + text[upto:]
    if kind == 5:
        return text[:at]
    if kind == 6:
        cut = rng.randint(0, len(other))
        return text[:at] + other[cut:]
    return text[:at] + rng.randbytes(upto - at) + text[upto:]
