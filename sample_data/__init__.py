"""An invented district of bell towers, for demonstration and tests."""
