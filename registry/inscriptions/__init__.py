"""The words on bells: Leiden signs parsed, texts read and normalised, formulas recognised. Pure functions."""
