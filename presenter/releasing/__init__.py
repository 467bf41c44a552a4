"""Releasing: sheets are printed, read back, and released only if every mandatory caution stands at its place."""

from presenter.releasing.letters import problems_of_letters
from presenter.releasing.release import Released, missing_cautions, release
from presenter.releasing.release_text import release_text

__all__ = ["Released", "missing_cautions", "problems_of_letters", "release", "release_text"]
