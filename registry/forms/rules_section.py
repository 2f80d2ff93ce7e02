"""Rules on the measured section of a bell: its points among themselves, and beside the other sizes."""

from collections.abc import Iterator
from itertools import pairwise

from registry.forms.finding import Finding
from registry.forms.ruling import Form, Found
from registry.forms.thresholds import band
from registry.model.bell import ProfilePoint
from registry.model.survey import BellEntry, Path


def points_go_upwards(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect each point of the section above the last; only over the head may they stay level."""
    points = bell.dimensions.profile if bell.dimensions else ()
    for index, (below, point) in enumerate(pairwise(points), start=1):
        if not _complete(below) or not _complete(point):
            continue
        level = point.height_mm == below.height_mm and point.diameter_mm < below.diameter_mm
        if point.height_mm <= below.height_mm and not level:
            here = (*path, "dimensions", "profile", index)
            finding = Finding(
                "profile-out-of-order",
                form.as_written(here, "height_mm"),
                f"more than {below.height_mm:g} mm, the height of the point before it",
                "put the points in order, from the lip upwards",
            )
            yield Found(here, "height_mm", finding)


def points_fit_the_sizes(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect walls thinner than the bell is wide, and no point beyond mouth and height."""
    sizes = bell.dimensions
    if sizes is None:
        return
    for index, point in enumerate(sizes.profile):
        if not _complete(point):
            continue
        here = (*path, "dimensions", "profile", index)
        mouth, height = sizes.mouth_diameter_mm, sizes.height_mm
        if mouth is not None and point.diameter_mm > (widest := band("section-diameter").high * mouth):
            yield _beyond(form, here, "diameter_mm", f"at most {widest:.4g} mm, at a mouth of {mouth:g} mm")
        # Over the head the outside rises above the shoulder, where the height ends.
        below_shoulder = point.diameter_mm >= (sizes.shoulder_diameter_mm or 0.0)
        if height is not None and below_shoulder:
            highest = band("section-height").high * height
            if point.height_mm > highest:
                yield _beyond(
                    form, here, "height_mm", f"at most {highest:.4g} mm, at a height of {height:g} mm"
                )
        if (
            point.thickness_mm is not None
            and point.diameter_mm
            and 2 * point.thickness_mm > point.diameter_mm
        ):
            half = f"less than half the diameter of {point.diameter_mm:g} mm"
            yield _beyond(form, here, "thickness_mm", half)


def _beyond(form: Form, here: Path, field: str, expected: str) -> Found:
    remedy = "measure both again, and check their units; if both are right, say so in the remarks"
    return Found(
        here, field, Finding("profile-contradiction", form.as_written(here, field), expected, remedy)
    )


def _complete(point: ProfilePoint) -> bool:
    """Say whether height and diameter could be read: what is required may be missing in a faulty form."""
    known: tuple[float | None, float | None] = (point.height_mm, point.diameter_mm)
    return None not in known
