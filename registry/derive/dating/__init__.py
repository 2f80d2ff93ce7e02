"""Dates as cast: every year a founder's numerals, words or letters can mean, and how each reading was got."""

from registry.derive.dating.reading import Reading
from registry.derive.dating.readings import DateRead, read_date

__all__ = ["DateRead", "Reading", "read_date"]
