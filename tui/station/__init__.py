"""One station: chart, facts, log."""
