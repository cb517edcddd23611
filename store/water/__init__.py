"""The water model: pure functions on arrays, in mm, m2, L and degrees Celsius."""
