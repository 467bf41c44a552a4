"""The kinds of step: one file each, with its fields. ``working/steps/`` has the same file names."""

from presenter.lesson.steps.acidify import Acidify
from presenter.lesson.steps.add import Add
from presenter.lesson.steps.bake import Bake
from presenter.lesson.steps.boil import Boil
from presenter.lesson.steps.chill import Chill
from presenter.lesson.steps.clean import Clean
from presenter.lesson.steps.cool import Cool
from presenter.lesson.steps.draw_off import DrawOff
from presenter.lesson.steps.ferment import Ferment
from presenter.lesson.steps.heat import Heat
from presenter.lesson.steps.hold import Hold
from presenter.lesson.steps.join import Join
from presenter.lesson.steps.mash import Mash
from presenter.lesson.steps.pitch import Pitch
from presenter.lesson.steps.pour import Pour
from presenter.lesson.steps.prime_and_bottle import PrimeAndBottle
from presenter.lesson.steps.raise_mash import Raise
from presenter.lesson.steps.serve import Serve
from presenter.lesson.steps.show import Show
from presenter.lesson.steps.split import Split
from presenter.lesson.steps.step import Departure, Expectation, Step, slug
from presenter.lesson.steps.strain import Strain
from presenter.lesson.steps.top_up import TopUp

__all__ = ["STEP_KINDS", "Departure", "Expectation", "Step", "slug"]

STEP_KINDS: dict[str, type[Step]] = {
    "clean": Clean,
    "bake": Bake,
    "heat": Heat,
    "mash": Mash,
    "hold": Hold,
    "raise": Raise,
    "draw off": DrawOff,
    "join": Join,
    "split": Split,
    "pour": Pour,
    "strain": Strain,
    "rack": Strain,
    "top up": TopUp,
    "acidify": Acidify,
    "boil": Boil,
    "add": Add,
    "cool": Cool,
    "pitch": Pitch,
    "ferment": Ferment,
    "prime and bottle": PrimeAndBottle,
    "chill": Chill,
    "serve": Serve,
    "show": Show,
}
