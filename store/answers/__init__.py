"""The joining layer: a logbook's entries and weather in, answers for people out."""
