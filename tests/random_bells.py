"""Random histories of one bell, for properties that must hold whatever a survey tells or leaves out.

Some surveys tell all and find little, others tell little and find much. The readings of one visit do not
contradict each other: they are taken from one true wall, with errors within those of the instruments, and no
word says that a part is absent whose state another word tells. What the bell is (sizes, mass, material,
whether it hangs, where it is struck) stays the same from visit to visit. A history follows from its seed.
"""

from datetime import date, timedelta
from random import Random
from typing import Any

from seen_bells import INSTRUMENTS

from registry.derive.condition.seen import BellSeen, History
from registry.model.bell import Dimensions, Identity
from registry.model.condition import Crack, StrikePoint
from registry.model.hanging import Clapper, Crown, Fittings, Ringing
from registry.model.history import Event
from registry.model.survey import BellEntry
from registry.model.tower import Frame, Hazard, Tower
from registry.model.visit import NotInspected
from registry.model.vocabulary import vocabulary

ERROR_MM = 0.1
"""Largest error of a reading, as the instruments of the random surveys state it."""

GOOD = {"sound", "none", "no", "present", "in-use"}
"""Words that a sound and well inspected bell earns."""

MEASURED: dict[str, tuple[str, ...]] = {
    "crown": ("kind", "broken_loops", "loops", "argent", "staple", "staple_rust", "straps", "bolts_loose"),
    "clapper": (
        "mass_kg", "ball_diameter_mm", "flat_width_mm", "pivot", "play_vertical_mm", "play_sideways_mm",
        "strike_height_mm", "shaft_touches", "hardness_hb",
    ),
    "fittings": (
        "headstock", "headstock_state", "bearings", "bearings_state", "drive", "drive_state", "isolator",
        "clock_hammer", "hammer_clearance_mm", "hammer_clear_of_swing",
    ),
    "ringing": ("style",),
    "frame": ("material", "moves_when_ringing", "movement_mm", "loose_joints", "decay"),
    "strike_points": (
        "bearing_deg", "struck_by", "use", "pit_depth_mm", "thickness_at_pit_mm", "thickness_beside_mm",
        "burr",
    ),
    "cracks": ("position", "bearing_deg", "side", "growth", "length_mm", "method", "repaired"),
}  # fmt: skip
"""What a survey can measure or see, by section."""


class RandomBells:
    """Makes random surveys; ``blank`` and ``bad`` are the shares of what is not told and of what is amiss."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)  # noqa: S311 - nothing secret
        self.blank = self.random.choice([0.0, 0.0, 0.02, 0.2, 0.6])
        self.bad = self.random.choice([0.02, 0.05, 0.1, 0.5, 1.0])
        self.unworn_mm = [100.0 * self.random.uniform(0.92, 1.0) for _ in range(3)]
        self.lost_mm = [0.0, 0.0, 0.0]
        self.bearings_deg = [float(self.random.randrange(360)) for _ in range(3)]
        self.status = self.random.choice(["hanging", "hanging", "hanging", "standing", None])

    def told(self, value: Any) -> Any:
        """Give a value, or leave it untold."""
        return None if self.random.random() < self.blank else value

    def word(self, name: str, *without: str) -> Any:
        """Give a word of a vocabulary, mostly a good one where little is amiss."""
        terms = [term for term in vocabulary(name).terms if term not in without]
        good = [term for term in terms if term in GOOD]
        return self.told(self.random.choice(terms if not good or self.random.random() < self.bad else good))

    def number(self, usual: float, worst: float) -> Any:
        """Give a number, mostly up to what is usual."""
        return self.told(self.random.uniform(0.0, worst if self.random.random() < self.bad else usual))

    def history(self, most: int = 3) -> History:
        """Make one to ``most`` visits to one bell, the oldest first."""
        random = self.random
        sizes = Dimensions(
            mouth_diameter_mm=random.uniform(300.0, 2500.0),
            soundbow_thickness_mm=self.told(100.0),
            mass_kg=random.uniform(100.0, 5000.0),
            mass_basis="weighed",
        )
        material = self.word("material")
        day = date(1990, 1, 1)
        visits = []
        for number in range(random.randint(1, most)):
            day += timedelta(days=random.randint(1, 5000))
            visits.append(self._visit(f"survey-{number}", day, sizes, material))
        return tuple(visits)

    def with_less_told(self, history: History) -> History:
        """Take away fields or whole sections from the newest visit of a history."""
        newest = history[-1]
        for section in self.random.choices(sorted(MEASURED), k=self.random.randint(1, 4)):
            newest = self._without(newest, section)
        return (*history[:-1], newest)

    def _visit(self, survey_id: str, day: date, sizes: Dimensions, material: str | None) -> BellSeen:
        random = self.random
        entry = BellEntry(
            "bell",
            identity=self._identity(material),
            dimensions=sizes,
            crown=self.told(self._crown()),
            clapper=self._clapper(),
            strike_points=self.told(self._strike_points()) or (),
            cracks=self.told(self._cracks()) or (),
            fittings=self.told(self._fittings()),
            ringing=Ringing(style=self.word("ringing_style")),
            events=(Event("protected"),) if random.random() < 0.05 else (),
        )
        tower = Tower(
            "tower", "Tower", "Place",
            country=random.choice([None, "AT", "AT", "GB", "DE"]),
            protection=random.choice(["not-protected", "not-protected", self.word("protection")]),
        )  # fmt: skip
        hazards = [self.word("hazard_kind") for _ in range(random.randint(0, 2))]
        skipped = self.word("part") if random.random() < self.blank else None
        return BellSeen(
            survey_id,
            day,
            "visit",
            entry,
            tower,
            self.told(self._frame()),
            tuple(Hazard(kind) for kind in hazards if kind),
            (),
            (NotInspected(skipped, "no access"),) if skipped else (),
            INSTRUMENTS,
        )

    def _identity(self, material: str | None) -> Identity:
        random = self.random
        dates = ["2010", "2018", "1990/1995", "1480", "1766?", "1950/1960", "2015~", "2012/..", None]
        return Identity(
            status=self.status,
            material=material,
            protected=random.choice(["no", "no", "yes", "unknown", None]),
            cast_date=random.choice(dates[:2] if random.random() < 0.6 else dates),
            dating_basis="inscribed" if random.random() < 0.7 else self.word("dating_basis"),
        )

    def _strike_points(self) -> tuple[StrikePoint, ...]:
        points = []
        told = self.random.randint(1, 3)
        for place, unworn in enumerate(self.unworn_mm[:told]):
            share = 0.15 if self.random.random() < self.bad else 0.01
            self.lost_mm[place] += unworn * self.random.uniform(0.0, share)
            lost = self.lost_mm[place]
            readings = (lost, unworn - lost, unworn)
            depth, left, beside = (value + self.random.uniform(-ERROR_MM, ERROR_MM) for value in readings)
            points.append(
                StrikePoint(
                    place + 1,
                    bearing_deg=self.told(self.bearings_deg[place]),
                    struck_by=self.word("striker"),
                    use=self.word("strike_use"),
                    pit_depth_mm=self.told(max(depth, 0.0)),
                    thickness_at_pit_mm=self.told(left),
                    thickness_beside_mm=self.told(beside),
                    burr=self.word("yes_no_unknown"),
                )
            )
        return tuple(points)

    def _cracks(self) -> tuple[Crack, ...]:
        found = []
        for number in range(1, self.random.randint(1, 2) + 1):
            state = self.word("crack_state") or "none"
            there = state != "none"
            found.append(
                Crack(
                    number,
                    state,
                    position=self.word("crack_position"),
                    bearing_deg=self.told(float(self.random.randrange(360))),
                    side=self.word("crack_side") if there else None,
                    growth=self.word("crack_growth") if there else None,
                    length_mm=self.number(20.0, 300.0) if there else None,
                    method=self.word("crack_method"),
                    repaired=self.word("crack_repair") if there else None,
                )
            )
        return tuple(found)

    def _crown(self) -> Crown:
        rust = self.word("rust")
        without = ("cast-bronze", "removed", "independent", "none") if rust else ()
        loops = self.random.randint(1, 12)
        broken = self.random.randint(0, loops) if self.random.random() < self.bad else 0
        return Crown(
            kind=self.word("crown_kind"),
            loops=self.told(loops),
            broken_loops=self.told(broken),
            argent=self.word("soundness"),
            staple=self.word("staple", *without),
            staple_rust=rust,
            straps=self.word("soundness"),
            bolts_loose=self.word("yes_no_unknown"),
        )

    def _clapper(self) -> Clapper | None:
        presence = self.word("presence")
        if presence != "present":
            return None if presence is None else Clapper(presence)
        return Clapper(
            presence,
            mass_kg=self.number(40.0, 100.0),
            ball_diameter_mm=self.told(self.random.uniform(100.0, 300.0)),
            flat_width_mm=self.number(15.0, 90.0),
            pivot=self.word("clapper_pivot"),
            play_vertical_mm=self.number(5.0, 15.0),
            play_sideways_mm=self.number(20.0, 60.0),
            strike_height_mm=self.told(self.random.uniform(20.0, 200.0)),
            shaft_touches=self.word("yes_no_unknown"),
            hardness_hb=self.told(self.random.uniform(80.0, 300.0)),
        )

    def _fittings(self) -> Fittings:
        dead = self.random.random() < 0.2
        hammer, drive = self.word("presence"), self.word("drive", "none")
        return Fittings(
            headstock="fixed" if dead else self.word("headstock", "fixed"),
            headstock_state=self.word("soundness"),
            bearings="none" if dead else self.word("bearings", "none"),
            bearings_state=None if dead else self.word("soundness"),
            drive=drive,
            drive_state=self.word("soundness"),
            isolator=self.word("yes_no_unknown"),
            clock_hammer=hammer,
            hammer_clearance_mm=self.told(self.random.uniform(0.0, 60.0)) if hammer == "present" else None,
            hammer_clear_of_swing=self.word("yes_no_unknown"),
        )

    def _frame(self) -> Frame:
        if self.random.random() < 0.1:
            return Frame(material="none")
        moves = self.word("yes_no_unknown")
        return Frame(
            material=self.word("frame_material", "none"),
            moves_when_ringing=moves,
            movement_mm=None if moves == "no" else self.number(3.0, 15.0),
            loose_joints=self.word("yes_no_unknown"),
            decay=self.word("decay"),
        )

    def _without(self, seen: BellSeen, section: str) -> BellSeen:
        owner: Any = seen if section == "frame" else seen.entry
        told = getattr(owner, section)
        if not told:
            return seen
        many = isinstance(told, tuple) and not hasattr(told, "_fields")
        if self.random.random() < 0.2:
            less: Any = () if many else None
        else:
            blank = dict.fromkeys(self.random.choices(MEASURED[section], k=self.random.randint(1, 3)))
            less = tuple(item._replace(**blank) for item in told) if many else told._replace(**blank)
        changed = owner._replace(**{section: less})
        return changed if section == "frame" else seen._replace(entry=changed)
