"""soundbow: the registry and condition-survey database of heritage bells."""

__version__ = "0.1.0"
