"""Drawings: plain values in, places of lines and words out, and the SVG text of them."""
