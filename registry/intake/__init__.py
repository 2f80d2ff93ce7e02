"""The one conductor: find the forms, check them, compute, store."""

from registry.intake.checking import CheckReport, check
from registry.intake.loading import LoadReport, load

__all__ = ["CheckReport", "LoadReport", "check", "load"]
