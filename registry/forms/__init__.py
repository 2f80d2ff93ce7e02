"""A YAML survey form in, a checked survey or its problems out."""
