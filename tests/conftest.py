"""What every test shares: reproducible property tests, nothing compiled or looked through
more often than need be, and no settings of the person who runs them."""

import gc
import os
import sys
import tempfile
from collections.abc import Iterator

import pytest
from hypothesis import settings

# Keys of the person's own would change what every test presses.
os.environ["XDG_CONFIG_HOME"] = tempfile.mkdtemp(prefix="brimbook-tests-")

# Where the environment keeps no bytecode, every process of the suite and every program it
# starts would compile the whole project anew: a fifth of the suite's time.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

settings.register_profile("reproducible", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("reproducible")

# Every application that was driven leaves many objects that live on; to go through all of
# them as often as Python does by itself takes a sixth of the suite's time.
gc.set_threshold(50_000, 20, 20)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Have the tests that drive the screens come first: no long file then runs on alone."""
    items.sort(key=lambda item: "tui" not in item.path.parts)


def pytest_collection_finish() -> None:
    """Set the modules and the tests found aside, so that no look for garbage goes there."""
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def _kept_apart(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Results kept between starts go to a folder of this run, shared by its processes."""
    base = tmp_path_factory.getbasetemp()
    run = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(run / "cache"))
        yield
