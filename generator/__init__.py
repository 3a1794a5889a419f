"""Check a club's training programmes written in YAML and render them as a static site."""

__version__ = "0.1.0"
