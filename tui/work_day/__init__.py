"""A day of work: order, loads, hours, and what each fill buys."""
