"""Documents: a worked lesson and its cautions into page text, through the templates."""

from presenter.documents.sheets import DOCUMENTS, Document, DocumentKind, documents_for

__all__ = ["DOCUMENTS", "Document", "DocumentKind", "documents_for"]
