"""What every test shares: reproducible property tests."""

from hypothesis import settings

settings.register_profile("reproducible", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("reproducible")
