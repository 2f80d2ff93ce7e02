"""A file of founders checked: its bytes in, the founders or everything that is wrong with it out."""

import hashlib
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from registry.forms.check import UnreadableError, bytes_of, first_of
from registry.forms.finding import Finding
from registry.forms.reader import read_tree
from registry.forms.shape import shape_form
from registry.forms.shown import path_of
from registry.inscriptions.names import name_readings
from registry.model.edtf import EdtfError
from registry.model.founders import FOUNDERS_FORM_NAME, Founder, Founders
from registry.model.life import days_of
from registry.model.names import OwnedName, owned_names
from registry.model.survey import Path as Steps
from registry.model.survey import Written
from registry.model.validity import read_validity
from registry.problems import Level, Problem

_AT_START = re.compile(rb"""\{?\s*["']?form["']?\s*:\s+["']?soundbow\s+founders\b""")
"""How the line begins that makes a YAML file one of founders, in any version and spelling of YAML."""


class Reference(NamedTuple):
    """A founder that a tie names, and where."""

    founder_id: str
    line: int
    column: int
    path: str


class CheckedFounders(NamedTuple):
    """A file of founders with what was found in it; ``founders`` is None when any problem is an error."""

    file: str
    sha256: str
    data: bytes
    founders: tuple[Founder, ...] | None
    names: tuple[OwnedName, ...]
    references: tuple[Reference, ...]
    problems: tuple[Problem, ...]


def is_founders_file(path: Path) -> bool:
    """Say whether a file calls itself one of founders; False where it cannot be read, or is a pipe."""
    if not path.is_file():
        return False
    try:
        with path.open("rb") as file:
            start = file.read(8192)
    except OSError:
        return False
    return any(_AT_START.match(line) for line in start.removeprefix(b"\xef\xbb\xbf").splitlines())


def check_founders_file(path: Path, file: str) -> CheckedFounders:
    """Check the founders in a file; ``file`` is its name for the problems."""
    try:
        return check_founders_bytes(bytes_of(path, file), file)
    except UnreadableError as refused:
        return CheckedFounders(file, "", b"", None, (), (), (refused.problem,))


def check_founders_bytes(data: bytes, file: str) -> CheckedFounders:
    """Check founders, as they stand in a file called ``file``."""
    tree = read_tree(data, file)
    shaped, written, found = shape_form(tree, file, Founders, FOUNDERS_FORM_NAME)
    problems = tree.problems + found
    founders: tuple[Founder, ...] = shaped.founders if shaped is not None else ()
    if tree.complete and not any(problem.level is Level.ERROR for problem in problems):
        judge = _Judge(file, written)
        problems += [problem for place, each in enumerate(founders) for problem in judge.founder(place, each)]
    failed = not tree.complete or any(problem.level is Level.ERROR for problem in problems)
    names = () if failed else tuple(_placed_names(founders, file, written))
    references = () if failed else tuple(_references(founders, written))
    digest = hashlib.sha256(data).hexdigest()
    told = None if failed else founders
    return CheckedFounders(file, digest, data, told, names, references, first_of(problems, file))


def _references(founders: Sequence[Founder], written: dict[Steps, dict[str, Written]]) -> Iterator[Reference]:
    """Give the founders that ties name, with their places."""
    for place, founder in enumerate(founders):
        for number, tie in enumerate(founder.ties):
            steps: Steps = ("founders", place, "ties", number)
            spot = written[steps]["founder"]
            yield Reference(tie.founder, spot.line, spot.column, path_of((*steps, "founder")))


def _placed_names(
    founders: Sequence[Founder], file: str, written: dict[Steps, dict[str, Written]]
) -> Iterator[OwnedName]:
    """Give the names of all founders with the places where they stand in the file."""
    for place, founder in enumerate(founders):
        here: Steps = ("founders", place)
        for number, name in enumerate(owned_names(founder)):
            steps, field = (here, "name") if number == 0 else ((*here, "variants", number - 1), "spelling")
            spot = written[steps][field]
            yield name._replace(file=file, line=spot.line, column=spot.column, path=path_of((*steps, field)))


class _Judge:
    """Holds what a file tells of a founder against itself."""

    def __init__(self, file: str, written: dict[Steps, dict[str, Written]]) -> None:
        self.file = file
        self.written = written
        self.ids: dict[str, int] = {}

    def told(self, steps: Steps, field: str, finding: Finding) -> Problem:
        spot = self.written.get(steps, {}).get(field) or self.written[steps][""]
        return finding.at(self.file, spot, path_of((*steps, field)))

    def founder(self, place: int, founder: Founder) -> Iterator[Problem]:
        here: Steps = ("founders", place)
        first = self.ids.setdefault(founder.id, place)
        if first != place:
            line = self.written["founders", first]["id"].line
            finding = Finding(
                "duplicate-identifier", founder.id, "an id of its own", f"line {line} has it already"
            )
            yield self.told(here, "id", finding)
        yield from self.times(here, founder)
        yield from self.life(here, founder)
        for index, workshop in enumerate(founder.workshops):
            steps: Steps = (*here, "workshops", index)
            given = {"latitude_deg": workshop.latitude_deg, "longitude_deg": workshop.longitude_deg}
            for field, other in (("latitude_deg", "longitude_deg"), ("longitude_deg", "latitude_deg")):
                if given[field] is not None and given[other] is None:
                    finding = Finding(
                        "missing-required", f"{field} alone", f"{other} beside {field}", f"fill in {other}"
                    )
                    yield self.told(steps, field, finding)
        for index, tie in enumerate(founder.ties):
            if tie.founder == founder.id:
                finding = Finding(
                    "founder-contradiction",
                    tie.founder,
                    "another founder",
                    "correct the id, or delete the tie",
                )
                yield self.told((*here, "ties", index), "founder", finding)

    def times(self, here: Steps, founder: Founder) -> Iterator[Problem]:
        """Expect that times are intervals whose days can be compared."""
        told = [(here, "active", founder.active)]
        told += [((*here, "variants", n), "valid", each.valid) for n, each in enumerate(founder.variants)]
        told += [((*here, "workshops", n), "valid", each.valid) for n, each in enumerate(founder.workshops)]
        for steps, field, text in told:
            try:
                read_validity(text or "")
            except EdtfError as error:
                yield self.told(steps, field, Finding(error.code, text or "", error.expected, error.remedy))

    def life(self, here: Steps, founder: Founder) -> Iterator[Problem]:
        """Expect that a founder is born, works and dies in this order."""
        born, died = days_of(founder.born or ""), days_of(founder.died or "")
        active = days_of(founder.active or "")
        for early, late, field, text, expected in (
            (born.first, died.last, "died", founder.died, f"a date behind the birth, {founder.born}"),
            (born.first, active.last, "active", founder.active, f"work behind the birth, {founder.born}"),
            (active.first, died.last, "active", founder.active, f"work before the death, {founder.died}"),
        ):
            if early is not None and late is not None and late < early:
                finding = Finding("founder-contradiction", text or "", expected, "check both dates")
                yield self.told(here, field, finding)


def names_shared(new: Sequence[OwnedName], known: Sequence[OwnedName]) -> list[Problem]:
    """Find spellings that two founders own and that neither time nor place tells apart.

    Parameters
    ----------
    new : sequence of OwnedName
        Names of files about to be loaded; problems stand at these.
    known : sequence of OwnedName
        Names that stay in the registry.
    """
    owners: dict[str, list[OwnedName]] = {}
    for name in known:
        for reading in name_readings(name.spelling):
            owners.setdefault(reading, []).append(name)
    problems = []
    for name in new:
        others: dict[str, OwnedName] = {}
        for reading in name_readings(name.spelling):
            for other in owners.setdefault(reading, []):
                if other.founder_id != name.founder_id and not _told_apart(name, other):
                    others.setdefault(other.founder_id, other)
            owners[reading].append(name)
        for other in others.values():
            remedy = "give each the time (valid) or place in which it is meant, or delete one of the two"
            where = f" ({other.file}, line {other.line})" if other.line else ""
            finding = Finding(
                "variant-shared",
                name.spelling,
                f"a spelling that is not also {other.founder_id}'s{where}",
                remedy,
            )
            problems.append(finding.at(name.file, name, name.path))
    return problems


def _told_apart(one: OwnedName, other: OwnedName) -> bool:
    if not one.time.overlaps(other.time):
        return True
    places = [set(name_readings(each.place)) for each in (one, other) if each.place]
    return len(places) == 2 and not places[0] & places[1]
