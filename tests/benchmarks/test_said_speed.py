"""How fast a long talk is read, tied and judged, against a general extractor in one run; never in seconds.

The talk is made here: the labelled sentences, each once, with spoken filling that never repeats, as captions.
"""

import itertools
import math
import random
import subprocess
import sys
import warnings
from pathlib import Path
from time import process_time

import yaml

from presenter.lesson import load_lesson
from presenter.speech.telling import said_report
from presenter.working import work_out

HERE = Path(__file__).parents[1]
LESSON = HERE.parent / "lessons_demo" / "netherfold-two-ales"
WORDS = 20_000
FILLING = (
    "so here we are again in the yard and you can smell the malt already it smells of toast and hay while the children "
    "ask me why the tub is made of wood well that is what they had and it keeps warm with the lid on and a cloth over"
)


def sentences(words: int) -> list[str]:
    """Sentences of a talk, some ``words`` words in all, no two alike."""
    labelled = []
    for name in ("heard/open", "judged/open"):
        read = yaml.safe_load((HERE / "speech" / f"{name}.yaml").read_text(encoding="utf-8"))
        labelled += [item["text"] for item in read.get("sentences", read.get("pairs"))]
    made, count, chance = [], 0, random.Random(1412)
    for number, text in enumerate(itertools.cycle(labelled)):
        filling = " ".join(chance.sample(FILLING.split(), chance.randint(10, 30)))
        made += [text if number < len(labelled) else f"{text.rstrip('.')} and {filling}", f"{filling} so there you go."]
        count += sum(len(one.split()) for one in made[-2:])
        if count >= words:
            return made
    return made


def captions(texts: list[str]) -> str:
    """The sentences as captions, one cue each."""

    def clock(second: int) -> str:
        return f"{second // 3600:02d}:{second // 60 % 60:02d}:{second % 60:02d}.000"

    cues = [f"{clock(3 * n)} --> {clock(3 * n + 3)}\n{text}\n" for n, text in enumerate(texts)]
    return "WEBVTT\n\n" + "\n".join(cues)


def test_a_long_talk_takes_less_than_a_general_extractor_for_a_tenth_of_it(benchmark, tmp_path):
    """This test ensures that 20,000 words of captions are read, tied and judged in less time than quantulum3 needs to
    parse one tenth of those words, both in one run; the extractor's shortest time counts, and our longest."""
    texts = sentences(WORDS)
    talk = tmp_path / "talk.vtt"
    talk.write_text(captions(texts), encoding="utf-8")
    worked = work_out(load_lesson(LESSON))
    tenth = " ".join(" ".join(texts).split()[: WORDS // 10])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own warnings are not ours to mend
        from quantulum3 import parser

        parser.parse("two litres")  # its tables are loaded before it is timed
        general = math.inf
        for _ in range(2):
            began = process_time()
            parser.parse(tenth)
            general = min(general, process_time() - began)
    began = process_time()
    report = benchmark.pedantic(said_report, args=(worked, talk), rounds=1)
    ours = process_time() - began
    assert len(report.records) > 500
    benchmark.extra_info["of_the_extractors_time_for_a_tenth"] = round(ours / general, 3)
    print(f"ours {ours / general:.2f} of the general extractor's time for a tenth of the words")
    assert ours < general


MEASURED = """
import resource, sys
from pathlib import Path
from presenter.lesson import load_lesson
from presenter.speech.telling import said_report
from presenter.working import work_out
import presenter.speech.hearing, webvtt
worked = work_out(load_lesson(Path(sys.argv[1])))
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
said_report(worked, Path(sys.argv[2]))
print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024)
"""


def test_a_long_talk_takes_little_memory(tmp_path):
    """This test ensures that 20,000 words of captions take less than 150 MB above the imports and the lesson."""
    talk = tmp_path / "talk.vtt"
    talk.write_text(captions(sentences(WORDS)), encoding="utf-8")
    ended = subprocess.run(
        [sys.executable, "-c", MEASURED, str(LESSON), str(talk)], capture_output=True, text=True, check=True
    )
    print(f"{float(ended.stdout):.0f} MB")
    assert float(ended.stdout) < 150
