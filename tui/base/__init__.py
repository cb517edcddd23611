"""What screens share: their base classes, fields, questions and help."""
