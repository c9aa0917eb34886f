"""May this type stand in this socket? All checks are made and the worst outcome wins."""

from collections.abc import Iterable
from dataclasses import replace

from tubeshelf.domain import words
from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.designations import fold
from tubeshelf.domain.fit_bias import check_bias, rebias
from tubeshelf.domain.fit_function import check_figures_known, check_function
from tubeshelf.domain.fit_heater import check_heater
from tubeshelf.domain.fit_listing import check_unlisted
from tubeshelf.domain.fit_pins import check_pins
from tubeshelf.domain.fit_ratings import check_ratings
from tubeshelf.domain.fitting import Fact, FitJudgement, Outcome, Reason, SocketFacts
from tubeshelf.domain.types import Substitute, TubeType

ACCEPTABLE = frozenset(
    {
        "mu_differs",
        "gm_differs",
        "rating_lower",
        "rectifier_drop",
        "heater_current",
        "element_on_unused_pin",
        "tie_missing",
        "tied_inside",
        "figures_missing",
    }
)
"""Differences that an entry of the substitutes may accept; no entry accepts any other."""

_DECISIVE = (
    *("listed_substitute", "one_way", "version_not_listed"),
    *("element_missing", "tap_missing", "tie_missing", "tied_inside", "element_on_unused_pin"),
    *("heater_cold", "heater_half_cold", "heater_under", "string_differs"),
    *("function_differs", "plate_class", "mu_differs", "cutoff_differs", "regulator_volts"),
    *("heater_current", "rectifier_drop", "rating_lower", "gm_differs"),
)
"""Which of two reasons for the same outcome is told first; those not named keep the order of the checks."""

_ALLOWED_BY_FACTS = frozenset({"supply_within", "screen_supply_within", "capacitor_within"})
"""Conditions in the place of a difference that a known supply or capacitor allows."""

REBIAS = "rebias"
"""How an entry says that the bias is to be set anew; a check says so with what is known of the socket."""

_NOTHING_KNOWN = SocketFacts()


def judge_fit(
    catalog: Catalog, intended: str, found: str, facts: SocketFacts = _NOTHING_KNOWN
) -> FitJudgement:
    """The outcome for a socket meant for ``intended`` with ``found`` in it, each a name as written.

    Reasons are the differences found, worst first; conditions are what to mind or to check, as
    sentences, empty where nobody should go on anyway (harmful, cannot seat).
    """
    wanted, given = catalog.find(intended), catalog.find(found)
    if wanted is None or given is None:
        asked = ((intended, wanted), (found, given))
        unknown = tuple(_not_in_table(catalog, name) for name, tube in asked if tube is None)
        return FitJudgement(intended, found, Outcome.UNKNOWN, unknown)
    if wanted is given:
        return FitJudgement(intended, found, Outcome.RIGHT_TYPE, (_same_tube(intended, found),))
    judgement = judge_types(catalog, wanted, given, facts)
    return replace(judgement, intended=intended, found=found)


def judge_types(
    catalog: Catalog, wanted: TubeType, given: TubeType, facts: SocketFacts = _NOTHING_KNOWN
) -> FitJudgement:
    """The same of two types of the table, under their designations."""
    names = wanted.designation, given.designation
    if wanted is given:
        return FitJudgement(*names, Outcome.RIGHT_TYPE, (_same_tube(*names),))
    if wanted.base != given.base:
        bases = (("found", given.base), ("designed", wanted.base))
        reason = Reason("base_differs", Outcome.CANNOT_SEAT, bases)
        return FitJudgement(*names, Outcome.CANNOT_SEAT, (reason,))
    entry = catalog.substitute(wanted.key, given.key)
    return _weigh(names, _findings(catalog, wanted, given, facts, entry), entry, facts)


def _not_in_table(catalog: Catalog, name: str) -> Reason:
    facts: tuple[tuple[str, Fact], ...] = (("name", name),)
    if near := catalog.near(name):
        facts = (*facts, ("near", ", ".join(near)))
    return Reason("not_in_table", Outcome.UNKNOWN, facts)


def _same_tube(intended: str, found: str) -> Reason:
    other_name = (("found", found), ("intended", intended))
    return Reason("same_tube", Outcome.RIGHT_TYPE, () if fold(intended) == fold(found) else other_name)


def _findings(
    catalog: Catalog, wanted: TubeType, given: TubeType, facts: SocketFacts, entry: Substitute | None
) -> tuple[Reason, ...]:
    """Everything the checks say about two types of one base; ``entry`` is what lists them, if anything.

    Of two types that do different work no figures are wanted to compare them.
    """
    work = check_function(wanted, given)
    compared = entry is not None or any(reason.rule == "function_differs" for reason in work)
    findings = (
        *check_pins(wanted, given, facts.ties),
        *check_heater(wanted, given, facts),
        *check_ratings(wanted, given, facts),
        *work,
        *check_bias(wanted, given, facts),
        *(() if compared else check_figures_known(wanted, given)),
        *(() if entry else check_unlisted(catalog, wanted, given)),
    )
    return tuple(dict.fromkeys(findings))


def _weigh(
    names: tuple[str, str], findings: tuple[Reason, ...], entry: Substitute | None, facts: SocketFacts
) -> FitJudgement:
    minded = [f for f in findings if f.outcome is Outcome.ACCEPTED_SUBSTITUTE]
    differences = [f for f in findings if f.outcome is not Outcome.ACCEPTED_SUBSTITUTE]
    listed: tuple[str, ...] = ()
    if entry is not None and all(difference.rule in ACCEPTABLE for difference in differences):
        differences = [replace(d, outcome=Outcome.ACCEPTED_SUBSTITUTE) for d in differences]
        grade = (("grade", entry.grade),)
        differences.append(Reason("listed_substitute", Outcome.ACCEPTED_SUBSTITUTE, grade))
        listed = entry.conditions
        if REBIAS in listed and facts.bias is not None and not any(m.rule.startswith(REBIAS) for m in minded):
            minded.append(rebias(facts.bias))
    elif not differences:
        within = any(m.rule in _ALLOWED_BY_FACTS for m in minded)
        told = ("within_facts", "not_listed_within") if within else ("no_difference", "not_listed")
        reason, condition = (Reason(rule, Outcome.ACCEPTED_SUBSTITUTE) for rule in told)
        differences, minded = [reason], [condition, *minded]
    elif [difference.rule for difference in differences] in (["one_way"], ["version_not_listed"]):
        better = Reason("check_better", Outcome.ACCEPTED_SUBSTITUTE, differences[0].facts)
        minded = [better, *minded]
    reasons = tuple(sorted(differences, key=_weight))
    outcome = reasons[0].outcome
    if outcome in (Outcome.HARMFUL, Outcome.CANNOT_SEAT):
        return FitJudgement(*names, outcome, reasons)
    return FitJudgement(*names, outcome, reasons, _conditions(listed, minded))


def _weight(reason: Reason) -> tuple[int, int]:
    """Worst first; of equals the one that decides the matter."""
    place = _DECISIVE.index(reason.rule) if reason.rule in _DECISIVE else len(_DECISIVE)
    return -reason.outcome.severity, place


def _conditions(listed: Iterable[str], minded: Iterable[Reason]) -> tuple[str, ...]:
    """What to mind: the entry's conditions, unless a check says the same with figures; then the checks'."""
    checked = tuple(map(words.say, minded))
    said = (one for one in listed if not any(sentence.startswith(f"{one}:") for sentence in checked))
    return tuple(dict.fromkeys((*said, *checked)))
