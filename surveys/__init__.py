"""The blank survey forms, commented, as carried up the tower."""
