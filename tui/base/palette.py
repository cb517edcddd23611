"""Every action of the screen, to be found by its words and done."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.binding import ActiveBinding
from textual.command import DiscoveryHit, Hit, Hits, Provider

FINDS_ACTIONS = "command_palette"


class ActionProvider(Provider):
    """The keys that work on the screen below, each with what it does."""

    async def discover(self) -> Hits:
        for label, active in self._actions():
            yield DiscoveryHit(label, partial(self._do, active), help=active.binding.key_display)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for label, active in self._actions():
            score = matcher.match(label)
            if score > 0:
                display = matcher.highlight(label)
                yield Hit(score, display, partial(self._do, active), help=active.tooltip or None)

    def _actions(self) -> Iterator[tuple[str, ActiveBinding]]:
        """Each action of our own once: its name, what it does, its key."""
        told: set[str] = set()
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if not (binding.id and active.enabled) or binding.action in (FINDS_ACTIONS, *told):
                continue
            told.add(binding.action)
            key = self.app.get_key_display(binding)
            yield f"{binding.description}: {binding.tooltip}  ({key})", active

    async def _do(self, active: ActiveBinding) -> None:
        await self.app.run_action(active.binding.action, active.node)
