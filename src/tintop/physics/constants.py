"""Constants of nature and of the metre convention that more than one formula uses."""

STANDARD_GRAVITY = 9.80665  # [m/s²] ISO 80000-3
ICE_POINT = 273.15  # [K]
