"""Sources: the bibliography that every formula, table, note and caution cites by key."""

from presenter.sources.bibliography import (
    Bibliography,
    Source,
    SourceRecordError,
    package_bibliography,
    source_from_record,
)

__all__ = ["Bibliography", "Source", "SourceRecordError", "package_bibliography", "source_from_record"]
