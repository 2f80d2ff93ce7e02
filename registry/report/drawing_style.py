"""The style sheet that goes into every drawing of a report."""

from registry.resources import shipped_text

STYLE = shipped_text("report", "templates", "drawing.css")
