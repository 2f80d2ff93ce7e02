"""Tables, views, vocabularies and thresholds of the registry, as data."""
