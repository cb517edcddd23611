"""How cautions are written beside the work they belong to."""

from __future__ import annotations

from rich.text import Text

from store.season.cautions import Caution

LOCAL_RULES = "Local codes and the wildlife agency's rules go first."


def caution_text(caution: Caution, *, sources: bool = False) -> Text:
    source = f" [{caution.source}]" if sources else ""
    return Text.assemble((f"{caution.subject}: ", "bold"), caution.text, (source, "dim"))
