"""Where results are kept between one start and the next."""

from __future__ import annotations

import platformdirs

from store.model.assimilation import FilterCache
from store.model.shelf import FolderShelf


def kept_results() -> FilterCache:
    """What was worked out before, in the folder that the system has for such things."""
    return FilterCache(shelf=FolderShelf(platformdirs.user_cache_path("brimbook") / "levels"))
