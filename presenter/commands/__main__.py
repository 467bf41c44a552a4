"""``python -m presenter.commands``."""

from presenter.commands import main

main()
