"""How the command line tells a day: planned, made and read side by side; what nothing explains; what disagrees.

In: a worked day. Out: lines of text and plain records.
"""

from __future__ import annotations

from typing import Any

from presenter.days import WorkedDay
from presenter.quantities import Q, WorkedNumber, give_or_take_in_words, in_words

__all__ = ["day_records", "day_table", "gap_lines"]


def _worth(number: WorkedNumber | None, measures: str) -> str:
    return "" if number is None else f"{number.words(measures)} {number.spread_words(measures)}".strip()


def day_records(worked: WorkedDay) -> list[dict[str, Any]]:
    """Every number as a record for machines: planned, made and read, each with its give-or-take, unrounded.

    A number that cannot be given as made has its reason under ``withheld``.
    """
    records = []
    kept_back = {kept.id: kept.reason for kept in worked.made.withheld}
    ids = dict.fromkeys((*worked.plan.numbers, *worked.made.numbers))
    for number_id in ids:
        plan, made = worked.plan.numbers.get(number_id), worked.made.numbers.get(number_id)
        read = worked.latest(number_id)
        one = made or plan
        assert one is not None
        pair = (one.label, str(one.quantity.units))
        record: dict[str, Any] = {"id": number_id, "step": one.step, "label": pair[0], "unit": pair[1]}
        for name, value in (("planned", plan), ("made", made)):
            record[name] = None if value is None else float(value.quantity.magnitude)
            spread = None if value is None or value.spread is None else float(value.spread.magnitude)
            record[f"{name}_give_or_take"] = spread
        record["read"] = None if read is None else float(read.quantity.magnitude)
        record["read_give_or_take"] = None if read is None else float(read.spread.magnitude)
        record["how_read"] = "" if read is None else read.how
        record["unexplained"] = worked.made.gaps.get(number_id)
        record["withheld"] = kept_back.pop(number_id, "")
        records.append(record)
    names = {kept.id: kept for kept in worked.made.withheld}
    return records + [
        {"id": id_, "step": names[id_].step, "label": names[id_].label, "made": None, "withheld": reason}
        for id_, reason in kept_back.items()
    ]


def day_table(worked: WorkedDay, measures: str) -> None:
    """Print the numbers of every step: as planned, as made, and as read."""
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, soft_wrap=False)
    if not console.is_terminal:
        console.width = 150
    steps = {step.id: str(step.name) for step in worked.plan.lesson.steps}
    made_steps = {step.id: str(step.name) for step in worked.made.lesson.steps}
    titles = {"lesson": "For the whole lesson"}
    for number, (step_id, name) in enumerate((steps | made_steps).items(), 1):
        left_out = "" if step_id in made_steps else ", left out on the day"
        put_in = "" if step_id in steps else ", put in on the day"
        titles[step_id] = f"{number}. {name}{left_out}{put_in}"
    for step_id, title in titles.items():
        ids = dict.fromkeys(n.id for n in (*worked.plan.of_step(step_id), *worked.made.of_step(step_id)))
        kept_back = [kept for kept in worked.made.withheld if kept.step == step_id]
        if not ids and not kept_back:
            continue
        table = Table(title=title, title_justify="left", title_style="bold", box=None, padding=(0, 2, 0, 0))
        for head in ("number", "planned", "made", "read", "its id"):
            table.add_column(head, overflow="fold")
        for number_id in ids:
            plan, made, read = (
                worked.plan.numbers.get(number_id), worked.made.numbers.get(number_id), worked.latest(number_id),
            )  # fmt: skip
            one = made or plan
            assert one is not None
            was_read = "" if read is None else read.words(measures)
            table.add_row(one.label, _worth(plan, measures), _worth(made, measures), was_read, number_id)
        console.print(table)
        for kept in kept_back:
            console.print(f"Not given: {kept.label} ({kept.id}). {kept.reason}", markup=False)
        console.print()
    for line in gap_lines(worked, measures):
        console.print(line, markup=False)
    console.print("Give or take: uncertainty, about 95 %. Made: worked again from the day's readings and changes.")


def gap_lines(worked: WorkedDay, measures: str = "metric") -> list[str]:
    """What each reading leaves unexplained, and each two that disagree."""
    lines = []
    for number_id, gap in worked.made.gaps.items():
        number = worked.made.numbers.get(number_id)
        read = worked.latest(number_id)
        if number is None or read is None or abs(gap) <= float(read.spread.magnitude):
            continue
        unit = str(number.quantity.units)
        difference = {"degree_Celsius": "delta_degree_Celsius"}.get(unit, unit)
        size = in_words(Q(abs(gap), difference), read.spread, measures)
        side = "above" if gap > 0 else "below"
        lines.append(f"Unexplained: {number.label} was read {size} {side} what was worked out there  [{number_id}]")
    for each in worked.disagreements:
        label = worked.made.numbers[each.number].label
        apart = Q(each.apart, str(each.later.spread.units))
        lines.append(
            f"Two readings disagree: {label}, {each.first.words(measures)} and {each.later.words(measures)}, apart by"
            f" {in_words(apart, each.later.spread, measures)}"
            f" ({give_or_take_in_words(apart, Q(each.allowed, str(apart.units)), measures)} allowed)."
            " They are not averaged; the later one is used. Read a third time."
        )
    return lines
