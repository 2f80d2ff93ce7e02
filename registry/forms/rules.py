"""Every rule across the fields of one form."""

from collections.abc import Sequence
from datetime import date

from registry.forms import (
    rules_clapper,
    rules_condition,
    rules_entries,
    rules_history,
    rules_inscriptions,
    rules_place,
    rules_section,
    rules_sizes,
    rules_sound,
)
from registry.forms.ruling import BellRule, Form, FormRule
from registry.forms.shown import path_of
from registry.geography import Region
from registry.model.survey import ReadSurvey
from registry.problems import Problem

RULES: tuple[FormRule, ...] = (
    rules_entries.visit_names_parts_not_inspected,
    rules_entries.document_is_described,
    rules_entries.bell_ids_stand_once,
    rules_entries.numbers_stand_once,
    rules_entries.positions_stand_once,
    rules_entries.bells_named_are_entered,
    rules_entries.parts_of_bells_name_the_bell,
    rules_place.coordinates_come_in_pairs,
    rules_place.tower_lies_in_its_region,
    rules_place.region_was_in_force,
    rules_history.survey_is_not_in_the_future,
    rules_history.nothing_is_dated_after_the_survey,
    rules_history.protection_names_its_source,
    rules_condition.cracked_bells_are_not_sound,
    rules_condition.parts_not_inspected_are_not_judged,
)
"""Rules on a form as a whole."""

BELL_RULES: tuple[BellRule, ...] = (
    rules_entries.bells_are_described,
    rules_history.text_as_cast_bears_out_the_date,
    rules_history.events_fit_the_casting,
    rules_history.status_allows_what_was_measured,
    rules_history.claims_name_their_source,
    rules_inscriptions.signs_have_their_partners,
    rules_inscriptions.where_there_are_none_no_words_are_read,
    rules_sizes.sizes_fit_the_mouth,
    rules_sizes.readings_bear_out_the_diameter,
    rules_sizes.mass_fits_the_size,
    rules_section.points_go_upwards,
    rules_section.points_fit_the_sizes,
    rules_sound.partials_stand_in_order,
    rules_sound.strike_is_half_the_nominal,
    rules_sound.note_fits_the_frequency,
    rules_sound.strike_fits_the_size,
    rules_clapper.absent_parts_have_no_measures,
    rules_clapper.clapper_fits_the_bell,
    rules_clapper.ringing_is_of_one_kind,
    rules_clapper.broken_loops_are_among_the_loops,
    rules_condition.pits_are_in_the_wall,
    rules_condition.cracks_lie_on_the_bell,
    rules_condition.no_crack_has_no_measures,
)
"""Rules on each bell by itself."""


def rule_problems(
    read: ReadSurvey,
    file: str,
    *,
    today: date,
    regions: Sequence[Region],
    bell_rules: Sequence[BellRule] = (),
) -> list[Problem]:
    """Apply every rule to a form.

    Parameters
    ----------
    read : ReadSurvey
        The form; values that could not be read are None in it, required ones too, and no rule minds.
    file, today, regions, bell_rules
        As for `registry.forms.check.check_bytes`.
    """
    form = Form(read, today, regions)
    found = [one for rule in RULES for one in rule(form)]
    for path, bell in form.bells():
        found += [one for bell_rule in (*BELL_RULES, *bell_rules) for one in bell_rule(form, path, bell)]
    return [finding.at(file, form.spot(path, field), path_of(path, field)) for path, field, finding in found]
