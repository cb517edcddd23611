"""All that lasts in a Brimbook logbook, and all that is computed from it.

Nothing in this room knows the interface: it never imports Textual.
"""
