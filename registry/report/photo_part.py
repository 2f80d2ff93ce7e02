"""The pictures of a bell or of its tower, and the names of those that cannot be shown."""

from collections.abc import Iterator

from registry.report.blocks import Block, Columns, Heading, Items
from registry.report.photos import Photos


def photo_blocks(photos: Photos, bell_id: str | None) -> Iterator[Block]:
    """Show the pictures of a bell, or of the tower for None, and name those that cannot be shown."""
    pictures, missing = photos.of(bell_id)
    if not pictures and not missing:
        return
    yield Heading("Photos and drawings")
    for index in range(0, len(pictures), 2):
        pair = pictures[index : index + 2]
        yield Columns((1, 1), tuple((picture,) for picture in pair)) if len(pair) > 1 else pair[0]
    if missing:
        yield Heading("On record and not shown here", 3)
        yield Items(tuple(missing))
