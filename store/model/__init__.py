"""Joins the logbook with the water model: a snapshot in, everything worked out of it."""
