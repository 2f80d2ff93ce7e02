"""How what a registry knows is worded for people: the same on pages, on paper and in lists."""
