"""How each kind of step is walked; the file names mirror ``lesson/steps/``."""

from collections.abc import Callable
from typing import Any

from presenter.working.steps.acidify import walk_acidify
from presenter.working.steps.add import walk_add
from presenter.working.steps.bake import walk_bake
from presenter.working.steps.boil import walk_boil
from presenter.working.steps.chill import walk_chill
from presenter.working.steps.clean import walk_clean, walk_show
from presenter.working.steps.cool import walk_cool
from presenter.working.steps.draw_off import walk_draw_off
from presenter.working.steps.ferment import walk_ferment
from presenter.working.steps.heat import walk_heat
from presenter.working.steps.hold import walk_hold
from presenter.working.steps.join import walk_join
from presenter.working.steps.mash import walk_mash
from presenter.working.steps.pitch import walk_pitch
from presenter.working.steps.pour import walk_pour
from presenter.working.steps.prime_and_bottle import walk_prime_and_bottle
from presenter.working.steps.raise_mash import walk_raise
from presenter.working.steps.serve import walk_serve
from presenter.working.steps.split import walk_split
from presenter.working.steps.strain import walk_strain
from presenter.working.steps.top_up import walk_top_up

__all__ = ["STEP_WALKS"]

STEP_WALKS: dict[str, Callable[[Any, Any], None]] = {
    "add": walk_add,
    "bake": walk_bake,
    "acidify": walk_acidify,
    "boil": walk_boil,
    "chill": walk_chill,
    "clean": walk_clean,
    "cool": walk_cool,
    "draw off": walk_draw_off,
    "ferment": walk_ferment,
    "heat": walk_heat,
    "hold": walk_hold,
    "join": walk_join,
    "mash": walk_mash,
    "pitch": walk_pitch,
    "pour": walk_pour,
    "prime and bottle": walk_prime_and_bottle,
    "rack": walk_strain,
    "raise": walk_raise,
    "serve": walk_serve,
    "show": walk_show,
    "split": walk_split,
    "strain": walk_strain,
    "top up": walk_top_up,
}
