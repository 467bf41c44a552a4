"""Documents: a worked lesson and its cautions into page text, through the templates."""

from presenter.documents.kind import Asked, DocumentKind
from presenter.documents.kinds import DAY_DOCUMENTS, DOCUMENTS
from presenter.documents.sheets import Document, documents_for, papers_of

__all__ = ["DAY_DOCUMENTS", "DOCUMENTS", "Asked", "Document", "DocumentKind", "documents_for", "papers_of"]
