"""Science: pure cited formulas. Published tables lie in ``tables/``, each beside its source."""
