"""Check a club's training programmes written in YAML and render them as a static site."""
