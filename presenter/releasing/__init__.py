"""Releasing: sheets are printed, read back, and released only if every mandatory caution stands at its place."""

from presenter.releasing.release import Released, missing_cautions, release

__all__ = ["Released", "missing_cautions", "release"]
