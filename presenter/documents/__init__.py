"""Documents: a worked lesson and its cautions into page text, through the templates."""

from presenter.documents.sheets import DOCUMENTS, Document, DocumentKind, documents_for
from presenter.lesson import Lesson

__all__ = ["DOCUMENTS", "Document", "DocumentKind", "Lesson", "documents_for"]
