"""The printed report: what a registry has on a bell, a tower or a visit, set as a PDF for its owner."""
