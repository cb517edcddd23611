"""How long the work at a station takes, beside the way there and the water itself."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from store.vocabulary import PromptKind

WORK_MINUTES: Mapping[PromptKind, float] = MappingProxyType(
    {
        PromptKind.RAMP: 20.0,
        PromptKind.CONTAMINATION: 60.0,
        PromptKind.FILL: 10.0,
        PromptKind.CHECK: 10.0,
        PromptKind.RAKE: 45.0,
        PromptKind.INSTALL: 180.0,
        PromptKind.UNCOVER: 15.0,
        PromptKind.COVER: 30.0,
        PromptKind.BEARS: 30.0,
    }
)
"""One person's, assumed; a fill's are for laying out the hose. What is not here is no work."""
