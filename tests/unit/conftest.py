"""Random examples are the same in every run, and slow machines are no failures."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady",
    deadline=None,
    derandomize=True,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("steady")
