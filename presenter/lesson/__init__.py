"""Lesson: YAML text into a frozen, checked Lesson and the House above it, or every Problem at once."""

from presenter.lesson.checking import lesson_from_text, lesson_path, load_lesson
from presenter.lesson.house import House, demo_folder, package_house
from presenter.lesson.library_file import LibraryFile, house_for
from presenter.lesson.model import Lesson
from presenter.lesson.notes import READERS, Note
from presenter.lesson.steps import STEP_KINDS, Step, slug

__all__ = [
    "READERS",
    "STEP_KINDS",
    "House",
    "Lesson",
    "LibraryFile",
    "Note",
    "Step",
    "demo_folder",
    "house_for",
    "lesson_from_text",
    "lesson_path",
    "load_lesson",
    "package_house",
    "slug",
]
