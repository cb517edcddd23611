"""Every action of the screen, to be found by its words and done."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from functools import partial

from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import ActiveBinding
from textual.command import CommandList, CommandPalette, DiscoveryHit, Hit, Hits, Provider

from tui.base.open_screens import is_open
from tui.base.steady_list import PAGES, SteadyList

FINDS_ACTIONS = "command_palette"


class Found(CommandList, SteadyList, can_focus=False):
    """The actions found: a click on one that is gone by now is for nobody."""


class Palette(CommandPalette):
    """Takes no paging while its list has no room, as before anything is found; left once."""

    def compose(self) -> ComposeResult:
        for part in super().compose():
            yield Found() if isinstance(part, CommandList) else part

    def dismiss(self, result: None = None) -> AwaitComplete:
        """Leave it where it is on top: a second key or click must not take what is below."""
        if is_open(self) and self.app.screen is self:
            return super().dismiss(result)
        return AwaitComplete(asyncio.sleep(0))

    def _watch__list_visible(self) -> None:
        """Its list may be taken down already when what was found comes in."""
        if self.query(CommandList):
            super()._watch__list_visible()

    def _action_command_list(self, action: str) -> None:
        if action not in PAGES or self.query_one(CommandList).scrollable_content_region:
            super()._action_command_list(action)


class ActionProvider(Provider):
    """The keys that work on the screen below, each with what it does."""

    async def discover(self) -> Hits:
        for label, active in self._actions():
            yield DiscoveryHit(label, partial(self._do, active))

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for label, active in self._actions():
            score = matcher.match(label)
            if score > 0:
                display = matcher.highlight(label)
                yield Hit(score, display, partial(self._do, active))

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
        """Do it, unless its screen was left meanwhile."""
        if is_open(self.screen):
            await self.app.run_action(active.binding.action, active.node)


class OwnDayProvider(Provider):
    """Ends that a logbook opens on a day of its own; offers nothing where it does not."""

    LABEL = "Show it as of today: this logbook opens on a day of its own; end that"

    async def discover(self) -> Hits:
        if self._has_own_day():
            yield DiscoveryHit(self.LABEL, self._end)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        if self._has_own_day() and (score := matcher.match(self.LABEL)) > 0:
            yield Hit(score, matcher.highlight(self.LABEL), self._end)

    def _has_own_day(self) -> bool:
        board = getattr(self.app, "board", None)
        return board is not None and board.snapshot.on_its_own_day

    async def _end(self) -> None:
        await self.app.run_action("app.show_as_of_today")
