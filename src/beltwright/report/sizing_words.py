"""A sizing in words: on the terminal, and sentence by sentence for the booklet."""

from __future__ import annotations

from collections.abc import Iterator

from beltwright.core.cautions import SHORT_CAUTION
from beltwright.report.numbers import fixed
from beltwright.sizing.arrangements import Outcome
from beltwright.sizing.baseline import Saving
from beltwright.sizing.certificate import Verdict
from beltwright.sizing.prices import Freed
from beltwright.sizing.size import Sized
from beltwright.sizing.study import Study

TITLE = "Least structure"
STATED = (
    "Every plate and section was found by the rule set's own functions and then checked by the whole design; the price "
    "is the least for the choices that were given, and the bound is proved by the solver.",
    "Plates are laid by the program: seams in the middle of a bay, butts a quarter of a spacing forward of a frame and "
    "off web frames. A plate's thickness and grade hold for all panels it covers.",
    "Web frames, stringers and the hull girder are not in the sizing; what they need may change plates and frames.",
    "Prices of steel and work are the user's; those marked assumed are only an example.",
)


def amount(value: int, unit: str) -> str:
    """Return a price in words: tonnes for grams, whole money for thousandths."""
    if unit.startswith("g"):
        return f"{fixed(value / 1e6, 2)} t{unit[1:]}"
    return f"{fixed(value / 1e3, 0)} {unit.split('of ', 1)[1]}"


def sizing_lines(study: Study) -> Iterator[str]:
    """Yield the sizing for the terminal."""
    sized, saving = study.sized, study.saving
    unit, found = sized.problem.unit, sized.found
    ship = sized.design.ship
    yield f"{ship.ship.name}, {sized.design.rules.documents[-1].short} {ship.ice.ice_class}: {TITLE.lower()}"
    yield ""
    state = "proved least" if found.finished else f"stopped early, gap {100.0 * found.gap:.2f} %"
    told = f"{amount(found.price, unit)} ({state}; bound {amount(found.bound, unit)})"
    yield f"{what_is_priced(sized)}, both sides: {told}"
    if sized.supports:
        yield f"  of that web frames and stringers as given: {amount(sized.supports, unit)}"
    if len(sized.outcomes) > 1:
        yield f"  arrangement: {'; '.join(sized.arrangement) or 'as described'}"
    for zone, option in sized.framing.items():
        yield f"  {zone}: {option}"
    yield f"one thickness and profile for each hull area, at its best: {amount(saving.uniform.price, unit)}"
    for words, value in _causes(saving):
        yield f"  {words}: {amount(value, unit)} less"
    if saving.supports_less:
        yield f"    of that web frames and stringers as given: {amount(saving.supports_less, unit)} less"
    yield f"saved in all: {amount(saving.whole, unit)}{'' if saving.proved else ' (not all proved)'}"
    yield from loop_sentences(study)
    if len(sized.outcomes) > 1:
        yield ""
        yield "Arrangements to choose from:"
        for outcome in sized.outcomes:
            yield f"  {outcome_words(outcome, unit)}"
    yield ""
    yield "What a constraint costs:"
    for one in study.freed:
        yield f"  {freed_words(one, unit)}"
    yield ""
    yield "checks of the whole design: " + ("all met" if sized.design.all_met else "NOT all met")
    yield from STATED
    yield SHORT_CAUTION


def what_is_priced(sized: Sized) -> str:
    """What is in the price."""
    return "plates, local frames, web frames and stringers" if sized.supports else "plates and local frames"


def outcome_words(one: Outcome, unit: str) -> str:
    """Return in a sentence how an arrangement came out."""
    words = "; ".join(one.words) or "as described"
    if one.state == "nothing meets":
        return f"{words}: nothing meets ({one.note})"
    if one.price is not None:
        state = "proved" if one.finished else f"not proved, bound {amount(one.bound, unit)}"
        return f"{words}: {amount(one.price, unit)} ({state}{', chosen' if one.state == 'chosen' else ''})"
    if one.state == "dropped":
        return f"{words}: dropped, not below {amount(one.bound, unit)} with {one.by}"
    return f"{words}: not searched, not below {amount(one.bound, unit)}"


def loop_sentences(study: Study) -> Iterator[str]:
    """Yield in sentences how steel weight, draught and load come together, and how much room there is."""
    closed, room = study.closed, study.headroom
    last = closed.settled.last
    passes = len(closed.settled.passes)
    if study.design.ship.sizing.hold == "draught":
        more = closed.deadweight_change_t
        turn = "gains" if more >= 0.0 else "loses"
        yield (f"The draught is held: {last.steel_t:.1f} t of plating and frames with allowances against "
               f"{closed.reference_t:.1f} t in the ship as described; the deadweight {turn} "
               f"{abs(more):.1f} t.")  # fmt: skip
    else:
        circle = f", a circle of {closed.settled.circle} settled on its heaviest" if closed.settled.circle else ""
        yield (f"The deadweight is held: settled after {passes} passes{circle} at {last.steel_t:.1f} t of plating and "
               f"frames with allowances; the upper ice waterline rises by {1000.0 * closed.rise_upper_m:.0f} mm, the "
               f"lower by {1000.0 * closed.rise_lower_m:.0f} mm.")  # fmt: skip
    band = f"{100.0 * room.down:.2f} to {100.0 * room.up:.2f} %"
    yield (f"No plate changes while the displacement stays within {band} of the ship's; above, {room.first_up} goes "
           f"first, below, {room.first_down}.")  # fmt: skip


def freed_words(one: Freed, unit: str) -> str:
    """Return in a sentence what a freed constraint saves and where."""
    if one.saves is None:
        return f"{one.words}: nothing found ({one.note})"
    where = f" ({'; '.join(one.changes)})" if one.changes else ""
    proved = "" if one.proved else ", not proved"
    kind = "saves" if one.saves >= 0 else "costs"
    return f"{one.words}: {kind} {amount(abs(one.saves), unit)}{proved}{where}"


def _causes(saving: Saving) -> tuple[tuple[str, int], ...]:
    """The saving by cause."""
    return (
        ("a thickness for each plate", saving.by_plates),
        ("a profile for each group of frames", saving.by_frames),
        ("other framing", saving.by_framing),
        ("other frame spacing and stringers", saving.by_arrangement),
    )


def verdict_lines(verdict: Verdict) -> Iterator[str]:
    """Yield a certificate's verdict for the terminal."""
    for line in verdict.confirmed:
        yield f"confirmed: {line}"
    for line in verdict.open:
        yield f"NOT confirmed: {line}"
    for line in verdict.refused:
        yield f"REFUSED: {line}"
    yield (
        "the certificate holds"
        if verdict.holds and not verdict.open
        else ("the certificate holds as far as it was confirmed" if verdict.holds else "the certificate does NOT hold")
    )
    yield SHORT_CAUTION
