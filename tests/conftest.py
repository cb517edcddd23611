"""What every test shares: reproducible property tests, and fewer looks for garbage,
and no settings of the person who runs them."""

import gc
import os
import tempfile

from hypothesis import settings

# Keys of the person's own would change what every test presses.
os.environ["XDG_CONFIG_HOME"] = tempfile.mkdtemp(prefix="brimbook-tests-")

settings.register_profile("reproducible", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("reproducible")

# Every application that was driven leaves many objects that live on; to go through all of
# them as often as Python does by itself takes a sixth of the suite's time.
gc.set_threshold(50_000, 20, 20)
