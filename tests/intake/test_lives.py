"""Lives of bells held against each other across forms and the registry."""

from datetime import date
from pathlib import Path

import pytest
from specimens import bell, document, visit, write

from registry.intake import check, load

TODAY = date(2026, 1, 1)


def told(status: str, cast: str = "", *events: str) -> str:
    """Write what a form tells of a bell."""
    dated = f", cast_date: '{cast}'" if cast else ""
    return f"identity: {{status: {status}{dated}}}\nevents: [{', '.join(events)}]\n"


def codes(folder: Path, against: Path | None = None) -> list[tuple[str, str, str]]:
    """Check a folder: code, file and what was read, of the problems of lives alone."""
    wanted = {"event-dated-twice", "event-after-end", "recast-before-cast", "lineage-circle"}
    report = check([folder], against, jobs=1, today=TODAY)
    return [(each.code, Path(each.file).stem, each.read) for each in report.problems if each.code in wanted]


OLD = told("recast", "1640", "{kind: recast-into, date: '1788', other_bell: gate-new}")


def test_a_life_without_contradictions(tmp_path: Path) -> None:
    """An older bell recast into a newer one, told by both, is no problem."""
    write(tmp_path, "old.yaml", document("old", bell("gate-old", OLD), written="1790"))
    new = told("hanging", "1788", "{kind: recast-from, date: 1788-08, other_bell: gate-old}")
    write(tmp_path, "new.yaml", visit("new", bell("gate-new", new)))
    assert codes(tmp_path) == []


def test_what_happens_once_has_one_date(tmp_path: Path) -> None:
    """Two surveys that date a destruction differently are told at the newer one; overlapping ones not."""
    first = told("destroyed", "1640", "{kind: destroyed, date: '1917'}")
    write(tmp_path, "a.yaml", document("a", bell("gate-old", first), written="1920", day="2020-01-01"))
    write(tmp_path, "b.yaml", visit("b", bell("gate-old", first.replace("1917", "1942")), day="2021-01-01"))
    assert codes(tmp_path) == [("event-dated-twice", "b", "destroyed 1917 in a, 1942 in b")]
    write(
        tmp_path, "b.yaml", visit("b", bell("gate-old", first.replace("1917", "1916/1918")), day="2021-01-01")
    )
    assert codes(tmp_path) == []


@pytest.mark.parametrize(
    ("event", "late"),
    [
        ("{kind: turned, date: '1850'}", True),
        ("{kind: found, date: '1850'}", False),
        ("{kind: turned, date: '1788'}", False),
    ],
)
def test_nothing_happens_after_the_end(tmp_path: Path, event: str, late: bool) -> None:
    """A bell that was recast cannot be turned later; pieces of it can be found."""
    write(tmp_path, "a.yaml", document("a", bell("gate-old", OLD), written="1790", day="2020-01-01"))
    write(tmp_path, "b.yaml", document("b", bell("gate-old", told("recast", "1640", event)), written="1900"))
    expected = [("event-after-end", "b", "turned 1850 in b, and recast into gate-new by 1788-12-31")]
    assert codes(tmp_path) == (expected if late else [])


def test_a_bell_is_not_seen_after_another_was_cast_from_it(tmp_path: Path) -> None:
    """What a newer bell tells of its metal ends the older one, also when that stands in the registry."""
    database = tmp_path / "bells.db"
    write(tmp_path / "known", "old.yaml", visit("old", bell("gate-old", told("hanging", "1640"))))
    load([tmp_path / "known"], database, jobs=1, today=TODAY)
    new = told("hanging", "1788", "{kind: recast-from, date: '1788', other_bell: gate-old}")
    write(tmp_path / "new", "new.yaml", visit("new", bell("abbey-new", new), tower="abbey"))
    expected = ("event-after-end", "new", "gate-old seen in old, and recast into abbey-new by 1788-12-31")
    assert codes(tmp_path / "new", database) == [expected]
    both = visit(
        "new", bell("abbey-new", new), bell("gate-old", told("moved")), tower="abbey", day="2021-01-01"
    )
    write(tmp_path / "new", "new.yaml", both)
    assert codes(tmp_path / "new", database) == [expected]


def test_metal_is_older_than_the_bell(tmp_path: Path) -> None:
    """A bell recast from one that was cast after it is told, across towers."""
    child = told("hanging", "1700", "{kind: recast-from, other_bell: gate-old}")
    write(tmp_path, "a.yaml", visit("a", bell("abbey-new", child), tower="abbey"))
    write(tmp_path, "b.yaml", document("b", bell("gate-old", told("recast", "1750")), written="1800"))
    assert codes(tmp_path) == [("recast-before-cast", "b", "recast from gate-old, cast 1750, by 1700-12-31")]


def test_metal_does_not_go_in_a_circle(tmp_path: Path) -> None:
    """Bells of three forms that were each recast from the next are told once, the registry included."""
    database = tmp_path / "bells.db"
    links = [("one", "two"), ("two", "three"), ("three", "one")]
    for name, other in links:
        event = f"{{kind: recast-from, other_bell: gate-{other}}}"
        form = visit(name, bell(f"gate-{name}", told("hanging", "", event)), tower=name)
        write(tmp_path / name, f"{name}.yaml", form)
    load([tmp_path / "one", tmp_path / "two"], database, jobs=1, today=TODAY)
    assert codes(tmp_path / "three", database) == [
        ("lineage-circle", "three", "gate-one from gate-two from gate-three from gate-one")
    ]
    assert codes(tmp_path / "three") == []
