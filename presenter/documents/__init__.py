"""Documents: a worked lesson and its cautions into page text, through the templates."""

from presenter.documents.kind import Asked, DocumentKind
from presenter.documents.kinds import DOCUMENTS
from presenter.documents.sheets import Document, documents_for, papers_of

__all__ = ["DOCUMENTS", "Asked", "Document", "DocumentKind", "documents_for", "papers_of"]
