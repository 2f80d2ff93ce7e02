"""Questions put to a registry: what can be asked of bells, and how a question is spelled as a link.

One table, ``parameters.py``, says how each part of a question is read and written; the command line, the
pages and the links read by it alike. What it means in SQL is for ``store`` to say, in words for ``wording``.
"""

from registry.questions.link import Asked, Ignored, link_of, read_link, write_link
from registry.questions.query import BellQuery

__all__ = ["Asked", "BellQuery", "Ignored", "link_of", "read_link", "write_link"]
