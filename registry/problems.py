"""What can be wrong with a form or a load: the catalogue of codes and the shape of one problem."""

from enum import StrEnum
from typing import NamedTuple


class Level(StrEnum):
    """How grave a problem is.

    ``error``: the form does not load. ``warning``: it loads, and needs a look. ``note``: worth knowing.
    """

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Problem(NamedTuple):
    """One thing to look at, with where it stands, what was read and what to do.

    ``line`` and ``column`` count from 1; both are 0 where the problem concerns the whole file.
    ``path`` is the field in the words of the form, e.g. ``bells[2].dimensions.mouth_diameter_mm``.
    """

    file: str
    line: int
    column: int
    code: str
    path: str
    read: str
    expected: str
    remedy: str

    @property
    def level(self) -> Level:
        """The level that the catalogue gives this code."""
        return CATALOGUE[self.code][0]

    def moved_to(self, file: str) -> "Problem":
        """Give the same problem under another file name."""
        return self._replace(file=file)


E = Level.ERROR
W = Level.WARNING
N = Level.NOTE

CATALOGUE: dict[str, tuple[Level, str]] = {
    # The file
    "file-missing": (E, "no file or folder has this name"),
    "file-unreadable": (E, "the file is there but may not be read"),
    "file-empty": (E, "the file holds nothing"),
    "file-too-large": (E, "the file is larger than any survey form"),
    "file-not-a-form": (E, "a folder, a device or a file of another kind stands where a form is expected"),
    "text-encoding": (E, "the bytes are not UTF-8 text"),
    "no-forms": (W, "the folder holds no survey forms"),
    "too-many-problems": (N, "the file has more problems than a report names one by one"),
    # YAML
    "yaml-syntax": (E, "the text is not well-formed YAML"),
    "yaml-feature": (E, "anchors, aliases, tags, merge keys and second documents have no place in a form"),
    "too-deep": (E, "the form is nested deeper than any survey"),
    "too-many-values": (E, "the form holds more values than any survey"),
    "duplicate-key": (E, "the same key stands twice in one section"),
    # Structure
    "unknown-key": (E, "the form has no field of this name here"),
    "missing-required": (E, "a required field is absent or empty"),
    "expected-section": (E, "a section (key: value) belongs here"),
    "expected-list": (E, "a list (- item) belongs here"),
    "expected-value": (E, "a single value belongs here"),
    "empty-section": (N, "a section stands in the form with nothing in it"),
    "unknown-form": (E, "the key form must say which form this is"),
    # One value
    "not-a-number": (E, "the text cannot be read as a number"),
    "not-whole": (E, "a whole number belongs here"),
    "unknown-unit": (E, "the unit is not one that this field knows"),
    "ambiguous-number": (E, "the number can be read in more than one way"),
    "out-of-range": (E, "the value lies outside what is physically possible"),
    "unusual-value": (W, "the value lies outside what is usual"),
    "unknown-term": (E, "the word is not in the list of terms of this field"),
    "bad-identifier": (E, "identifiers are lower-case letters, digits and single hyphens"),
    "bad-date": (E, "the date cannot be read"),
    "impossible-date": (E, "no calendar has this day"),
    "bad-note": (E, "the note name cannot be read"),
    "bad-language": (E, "the language or script code is not registered"),
    "bad-country": (E, "the country code is not registered"),
    "bad-coordinate": (E, "the coordinate cannot be read"),
    "bad-path": (E, "the path leaves the folder of the form"),
    "text-too-long": (E, "the text is longer than this field keeps"),
    "control-character": (E, "the text holds characters that no one can see"),
    "leiden-sign-alone": (W, "a bracket of a transcription has no partner"),
    "lost-character": (W, "a letter was lost in an earlier conversion of the text"),
    "null-word": (W, "a word for 'nothing' stands where the value is simply left empty"),
    "text-after-hash": (W, "text behind a # counts as a comment and is not kept"),
    # Across fields
    "duplicate-identifier": (E, "the same identifier stands twice in one form"),
    "duplicate-number": (E, "the same number stands twice in one list"),
    "duplicate-partial": (E, "the same partial stands twice for one bell"),
    "duplicate-position": (W, "two bells that hang have the same place in the ring"),
    "unknown-bell": (E, "a bell is named that has no entry in the form"),
    "bell-not-named": (W, "a part of a bell is assessed without saying of which bell"),
    "assessed-twice": (W, "the same part is assessed twice"),
    "thickness-against-diameter": (W, "the thickness does not fit the diameter"),
    "waist-against-soundbow": (W, "the waist is not thinner than the sound-bow"),
    "height-against-diameter": (W, "the height does not fit the diameter"),
    "shoulder-against-diameter": (W, "the shoulder diameter does not fit the mouth"),
    "slant-against-height": (W, "the slant height does not fit the height and the diameters"),
    "profile-out-of-order": (E, "the points of the section do not go upwards"),
    "profile-contradiction": (W, "a point of the section and another size exclude each other"),
    "readings-disagree": (W, "the single readings do not bear out the value"),
    "mean-missing": (W, "there are readings, and no value beside them"),
    "mass-against-diameter": (W, "the mass does not fit the diameter and material"),
    "strike-against-diameter": (W, "the note does not fit the diameter"),
    "strike-against-nominal": (W, "the strike note is not half the nominal"),
    "partials-out-of-order": (W, "the partials do not stand in their usual order"),
    "note-against-frequency": (W, "the note name and the frequency disagree"),
    "clapper-against-bell": (W, "the clapper does not fit the bell"),
    "absent-part-measured": (W, "a part that is not there, or was not seen, has measures"),
    "words-where-none": (W, "a bell said to bear no words has some on the form"),
    "crown-contradiction": (W, "two statements on the crown exclude each other"),
    "ringing-contradiction": (W, "two statements on the ringing do not go together"),
    "pit-against-thickness": (E, "a pit is deeper than the wall it is in"),
    "thickness-at-pit": (W, "the wall at the pit is not thinner than beside it"),
    "thickness-beside-pit": (W, "the wall beside a pit is thicker than the sound-bow at its thickest"),
    "pit-depth-misfit": (W, "the depth of a pit and the thicknesses round it disagree"),
    "strike-point-contradiction": (W, "two statements on a strike point exclude each other"),
    "crack-against-height": (E, "a crack reaches beyond the bell"),
    "crack-contradiction": (E, "two statements on one crack exclude each other"),
    "crack-marked-sound": (E, "a bell with a crack is assessed as without symptoms"),
    "cast-after-survey": (E, "the bell is dated later than the survey that saw it"),
    "event-after-survey": (W, "an event is dated later than the survey that tells of it"),
    "event-against-cast": (W, "an event does not fit the date of casting"),
    "date-in-future": (E, "the survey is dated in the future"),
    "cast-text-against-date": (W, "the date as cast holds a year outside the date given"),
    "cast-reading-against-date": (W, "no reading of the date as cast is a year of the date given"),
    "inscription-against-date": (W, "no year cast on the bell is a year of the date given"),
    "status-contradiction": (E, "the bell's status and what was measured exclude each other"),
    "source-missing-for-claim": (W, "the statement needs the source it rests on"),
    "not-inspected-contradiction": (E, "a part named as not inspected is assessed"),
    "nothing-measured": (N, "the bell carries no measurement and no word why"),
    "axes-swapped": (E, "latitude and longitude seem to have changed places"),
    "outside-region": (W, "the tower stands outside the region it names"),
    "unknown-region": (N, "no border is loaded for the region named"),
    "region-not-valid": (W, "the region named was not in force on the day the survey tells of"),
    "attachment-missing": (W, "the photo or recording is not where the form says"),
    # Recordings: a form that names one still loads
    "recording-unreadable": (W, "the file is no sound recording that can be read"),
    "recording-too-long": (W, "the recording is longer than any that is analysed"),
    "recording-too-short": (W, "the sound is cut off before its partials can be measured"),
    "recording-silent": (W, "the recording holds no sound to speak of"),
    "recording-clipped": (W, "the sound was too loud for the recorder and is cut off at its peaks"),
    "recording-not-a-bell": (W, "the sound is not that of a struck bell"),
    "recording-swinging": (W, "the bell or the recorder moved while it sounded"),
    "recording-several-bells": (W, "more than one bell sounds"),
    # Across files and the registry
    "duplicate-survey": (E, "another form already carries this survey identifier"),
    "duplicate-visit": (W, "another form records the same tower on the same day by the same people"),
    "bell-in-another-tower": (E, "the bell is known from another tower, and no event moved it"),
    "tower-moved": (W, "the tower stands elsewhere than the registry has it"),
    "diameter-changed": (W, "the diameter differs from an earlier one by more than the readings allow"),
    "material-changed": (W, "the material differs from an earlier survey"),
    "bell-not-mentioned": (N, "a bell known in this tower is not mentioned"),
    "crack-not-mentioned": (W, "a crack of an earlier survey is not mentioned"),
    "event-dated-twice": (W, "surveys date differently what happens to a bell only once"),
    "event-after-end": (W, "something is told of a bell after it was destroyed or recast"),
    "recast-before-cast": (W, "a bell is said to be recast from one that is younger"),
    "lineage-circle": (W, "bells are said to be recast from each other in a circle"),
    # Regions
    "bad-area": (E, "the area asked for is not made of GeoJSON polygons"),
    "bad-region": (E, "the region file is not GeoJSON polygons with an id and a name"),
    "antimeridian-uncut": (W, "a border steps over the antimeridian and was not cut there"),
    "outside-parent": (W, "a region does not lie in the parent it names"),
    "regions-in-circle": (W, "regions name each other as parent in a circle"),
    "version-of-a-version": (W, "a border is called a version of one that is itself a version"),
    # Founders
    "variant-shared": (E, "a spelling belongs to two founders, and neither time nor place tells them apart"),
    "founder-contradiction": (W, "two statements on a founder exclude each other"),
    "unknown-founder": (N, "no entry is there for the founder named"),
    # Report
    "missing-glyph": (E, "no font of the report has this character"),
    # Load
    "source-removed": (W, "a form loaded before is no longer there; its rows are kept"),
    "source-moved": (N, "a form loaded before now has another name"),
    "earlier-text-kept": (W, "the form has errors now; the rows of its earlier text are kept"),
    "survey-replaced": (N, "a corrected form replaces the rows of its earlier text"),
    "registry-busy": (E, "another load is writing this registry"),
    "not-a-registry": (E, "the file is not a registry of this program"),
    "registry-unwritable": (E, "the registry cannot be written"),
}
"""Every code with its level and meaning. Codes are permanent: a retired one is never used again."""
del E, W, N


class InputError(Exception):
    """Problems that stop a command: the user's input, not the program, is at fault."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(f"{len(problems)} problem(s)")
        self.problems = problems


def whole_file_problem(file: str, code: str, read: str, expected: str, remedy: str) -> Problem:
    """Make a problem that concerns a file as a whole."""
    return Problem(file, 0, 0, code, "", read, expected, remedy)
