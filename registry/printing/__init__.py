"""Reports and blank forms set on paper: PDF with its fonts, tagged and archivable."""
