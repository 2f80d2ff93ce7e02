"""Pure functions that estimate one quantity a module, each with interval, method and source."""
