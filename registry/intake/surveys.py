"""The surveys of a registry as typed again from the forms that it keeps, for all that is judged from them."""

import sqlite3
from collections.abc import Iterable, Iterator

from registry.derive.condition.seen import History, histories_of
from registry.forms.reader import read_tree
from registry.forms.shape import shape_survey
from registry.model.survey import Survey
from registry.store import pages, pages_survey


class KeptSurveys:
    """Gives the surveys of a registry by id, each typed once.

    Parameters
    ----------
    conn : Connection
        The registry. It took every form without an error, so that none is checked again.
    """

    def __init__(self, conn: sqlite3.Connection) -> None:
        self._conn = conn
        self._typed: dict[str, Survey] = {}

    def survey(self, survey_id: str) -> Survey:
        """Give one survey.

        Raises
        ------
        LookupError
            When the registry has none of this id.
        """
        if survey_id not in self._typed:
            source = pages_survey.read_survey_source(self._conn, survey_id)
            if source is None:
                raise LookupError(f"no survey {survey_id}")
            tree = read_tree(source.text, source.path)
            self._typed[survey_id] = shape_survey(tree, source.path).read.survey
        return self._typed[survey_id]

    def surveys(self, survey_ids: Iterable[str]) -> Iterator[Survey]:
        """Give several surveys."""
        return map(self.survey, survey_ids)

    def history(self, bell_id: str, survey_ids: Iterable[str]) -> History:
        """Give what some surveys tell of a bell, the oldest first; empty where none of them has it."""
        return histories_of(self.surveys(survey_ids)).get(bell_id, ())

    def histories(self, bell_ids: Iterable[str]) -> dict[str, History]:
        """Give what all surveys tell of some bells, in their order, wherever they hung."""
        return {
            bell_id: self.history(
                bell_id, (line.id for line in pages.read_surveys_of_bell(self._conn, bell_id))
            )
            for bell_id in bell_ids
        }
