"""What is known of a day's weather, by the names it is stored and computed under."""

FIELDS = (
    "rain_mm",
    "tmin_c",
    "tmax_c",
    "humidity_pct",
    "dewpoint_c",
    "wind_m_s",
    "sun_mj_m2",
)
"""The elements of a day, in the order they are stored. Wind is at 2 m."""
