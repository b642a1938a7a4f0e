"""tintop: the missing office of the owner-driver in club endurance racing."""

__version__ = "0.1.0"
