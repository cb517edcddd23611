"""A day of hauling water and other work: which stops, in which order, with which loads."""
