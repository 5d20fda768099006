"""Mistakes in a flow's shape and names: each is told at its place, in plain words, with a remedy."""

# ruff: noqa: E501 (one mistake a line reads best)

from __future__ import annotations

import pytest

from tests.engine.flow.small import FLOW, changed, only_problem, problems, spot


def test_the_small_flow_itself_is_right() -> None:
    assert problems(FLOW) == []


def test_how_a_problem_reads() -> None:
    text = changed(("    do: Take the temperature.", "    doo: Take the temperature."))
    line, column = spot(text, "doo:")
    expected = f"small.yaml:{line}:{column}: unknown key 'doo' in step 'weather', did you mean 'do'?"
    assert str(only_problem(text)) == expected


# (what is changed, into what, where the problem must point, words of it, words of the hint)
CASES = [
    # the head
    ("format: 1", "format: 2", "2", "format 2 is not known", "'format: 1'"),
    ("flow: small", "flow: big", "big", "flow 'big' is in a file called 'small'", "'flow: small'"),
    ("revision: 3", "revision: three", "three", "'three' is no whole number", "digits"),
    ("title: Does it answer the load?", "", "format: 1", "'title' is missing", "add 'title:'"),
    ("title: Does it answer the load?", "title: ''", "''", "'title' is empty", "write it"),
    ("start: weather", "start: wether", "wether", "there is no step 'wether'", "'weather'?"),
    ("limits: {settled: 0.7", "limits: {setled: 0.7", "setled: 0.7", "unknown key 'setled' in 'limits'", "'settled'?"),
    ("limits: {settled: 0.7", "limits: {settled: 7", "7", "'settled' is a probability", "below 1"),
    ("lead: 3}", "lead: 0.5}", "0.5}", "'lead' is odds", "1 or more"),
    ("lead: 3}", "lead: -3}", "-3}", "'-3' is no positive number", "0.5 or 20"),
    ("lead: 3}", "lead: 1e9}", "1e9}", "'1e9' is no positive number", ""),
    ("steps:\n", "stepz:\n", "stepz:", "unknown key 'stepz'", "'steps'?"),
    # ask_if
    ("    alone: none", "    alone: none\n    ask_if: fan is stopt", "stopt", "'stopt' is no choice of 'fan'", "'stopped'?"),
    # measure_first
    ("    conclude: all", "    conclude: all\n    measure_first: nonsense", "nonsense", "unknown reading 'nonsense'", ""),
    ("    proved: wrong-gas", "    proved: wrong-gas\n    measure_first: fan", "measure_first: fan", "'measure_first' needs 'conclude'", "the step that concludes"),
    # readings
    ("quantity: ratio", "quantity: rato", "rato", "unknown quantity 'rato'", "'ratio'?"),
    ("quantity: ratio", "quantity: number", "number", "unknown quantity 'number'", ""),
    ("Limit, quantity: pressure, unit: psi", "Limit, quantity: pressure, unit: ohm", "ohm", "'ohm' is no unit of pressure", "psi, bar"),
    ("-15 to 160 psi", "160 to -15 psi", "160 to", "the range '160 to -15 psi' is empty", "lower value first"),
    ("-15 to 160 psi", "about 160 psi", "about", "'about 160 psi' is no range", "0 to 100 psi"),
    ("-15 to 160 psi", "-15 to 160 degC", "-15 to 160 degC", "that is a temperature", ""),
    ("Fan, choices: {runs: Runs, stopped: Stopped}", "Fan", "fan: {", "neither 'quantity' nor 'choices'", "one of them"),
    ("choices: {runs: Runs, stopped: Stopped}", "quantity: ratio, choices: {runs: R, stopped: S}", "fan: {", "both", "one"),
    ("choices: {runs: Runs, stopped", "several: yes, choices: {runs: R, stopped", "yes,", "'yes' is neither true nor false", "true or false"),
    ("    alone: none", "    alone: nope", "nope", "'nope' is no choice here", "'none'?"),
    ("    several: true\n", "", "alone: none", "'alone' needs 'several: true'", "add it"),
    ("choices: {runs: Runs, stopped", "unit: psi, choices: {runs: Runs, stopped", "unit: psi, choices", "'unit' belongs to a quantity", "delete"),
    ("quantity: ratio, possible", "several: true, quantity: ratio, possible", "several: true, q", "'several' belongs to choices", "delete"),
    ("choices: {none: None,", "choices: {unknown: None, none: No,", "choices: {unknown", "'unknown' is never a choice", "cannot measure"),
    ("  fan: {label: Fan", "  superheat: {label: Heat, quantity: temperature_difference}\n  fan: {label: Fan", "superheat:", "'superheat' is a computed reading", "another name"),
    ("  fan: {label: Fan", "  9fan: {label: Fan, quantity: ratio}\n  fan: {label: Fan", "9fan", "'9fan' is no name", "begin with a letter"),
    ("  fan: {label: Fan", "  known: {label: Fan, quantity: ratio}\n  fan: {label: Fan", "known: {label", "word of the condition language", "another"),
    ("  fan: {label: Fan,", "  fan: {lable: Fan,", "lable: Fan", "unknown key 'lable' in reading 'fan'", "'label'?"),
    # sets
    ("load: raised", "load: rised", "rised", "'rised' is none of rest, moderate, raised or lowered", "'raised'?"),
    ("compare_with: baseline", "compare_with: bassline", "bassline", "unknown set 'bassline'", "'baseline'?"),
    ("compare_with: baseline", "compare_with: loaded", "loaded, predict", "set 'loaded' is compared with itself", "another"),
    ("compare_with: baseline, ", "", "predict", "'predict' needs 'compare_with'", "add"),
    ("predict: [low_side, duty]", "predict: [low_side, dooty]", "dooty", "unknown reading 'dooty'", "'duty'?"),
    ("speed: 1500 1/min", "speed: 1500", "1500,", "'1500' needs its unit", "1500 1/min"),
    ("speed: 1500 1/min", "speed: 0 1/min", "0 1/min", "must be more than zero", ""),
    ("fixed: [Doors shut.]", "fixed: Doors shut.", "Doors", "'fixed' should be a list", "[a, b]"),
    # cautions
    ("signal: DANGER", "signal: danger", "danger", "'danger' is none of DANGER, WARNING, CAUTION or NOTICE", "'DANGER'?"),
    (", source: ISO 13043", "", "burst: {", "'source' is missing in caution 'burst'", "add 'source:'"),
    ("text: It can burst., ", "", "burst: {", "'text' is missing in caution 'burst'", "add 'text:'"),
    ("text: It can burst.", "text: [It can burst.]", "text: [It can", "'text' should be text in caution 'burst'", "one value"),
    # steps
    ("    next: more-load", "    next: more-lod", "more-lod", "there is no step 'more-lod'", "'more-load'?"),
    ("    next: more-load\n", "", "base:\n", "step 'base' leads nowhere", "'conclude:'"),
    ("    next: more-load", "    next: {go: more-load}", "next: {go", "'next' should be text", ""),
    ("- otherwise: base", "- otherwize: base", "otherwize", "unknown key 'otherwize' in rule 3 of step 'weather'", "'otherwise'?"),
    ("go: stop}", "go: stopp}", "stopp}", "there is no step 'stopp'", "'stop'?"),
    ("contamination is sealant|air", "contamination is sealand|air", "sealand", "'sealand' is no choice", "'sealant'?"),
    ("      - unknown: base\n", "", "next:\n      - {when: contamination", "if a reading is unknown", "- unknown: STEP"),
    ("      - otherwise: base\n", "", "next:\n      - {when: contamination", "if no rule is true", "- otherwise: STEP"),
    ("        because: it answered the load\n", "", "rule_out", "'rule_out' without a reason", "add 'because:'"),
    ("rule_out: [stuck]", "rule_out: [stack]", "stack", "unknown finding 'stack'", "'stuck'?"),
    ("rule_out: [stuck]", "rule_out: [part]", "part]", "finding 'part' is not weighed by itself", "'fine'"),
    ("    ask: [fan]", "    ask: [fen]", "fen", "unknown reading 'fen'", "'fan'?"),
    ("    ask: [fan]", "    ask: [fan, fan]", "fan]", "reading 'fan' is listed twice", "delete one"),
    ("    ask: [fan]", "    ask: [fan, duty]", "duty]\n    at_most", "'duty' is in 'ask' and in 'record'", ""),
    ("    set: loaded", "    set: loded", "loded", "unknown set 'loded'", "'loaded'?"),
    ("    settle: 3 min", "    settle: 3 psi", "3 psi", "that is a gauge pressure", ""),
    ("    settle: 3 min", "    settle: 3", "3\n    settled", "needs its unit", "3 s"),
    ("exposure: [rotating, pressurised]", "exposure: [rotting, pressurised]", "rotting", "no caution for exposure 'rotting'", "'rotating'?"),
    ("exposure: [rotating, pressurised]", "exposure: [blue, pressurised]", "blue", "no caution for exposure 'blue'", ""),
    ("cautions: [note]", "cautions: [nota]", "nota", "unknown caution 'nota'", "'note'?"),
    ("    skip_to: judge\n", "", "for: [", "'for' needs 'skip_to'", "skip_to: STEP"),
    ("    for: [weak, stuck]\n", "", "skip_to", "'skip_to' needs 'for'", "add 'for:'"),
    ("    then: judge\n", "", "at_most", "'at_most' needs 'then'", "then: STEP"),
    ("    at_most: 2\n", "", "then: judge", "'then' needs 'at_most'", "add 'at_most:'"),
    ("    skip_to: judge", "    skip_to: juge", "juge", "there is no step 'juge'", "'judge'?"),
    ("    then: judge", "    then: resume", "resume\n    next:\n", "'resume' cannot stand here", "'next' only"),
    ("conclude: all", "conclude: everything", "everything", "'everything' is not known", "'all'"),
    ("conclude: all", "conclude: [fine, weak, stucck, stuck]", "stucck", "unknown finding 'stucck'", "'stuck'?"),
    ("conclude: all", "conclude: [fine, weak, stuck, wrong-gas]", "wrong-gas]", "has prior 0 and can only be proved", "'proved:'"),
    ("proved: wrong-gas", "proved: wrong-gass", "wrong-gass", "unknown finding 'wrong-gass'", "'wrong-gas'?"),
    ("conclude: all", "conclude: all\n    ask: [fan]", "ask: [fan]\n    next: caps", "'ask' in a step that concludes", "before"),
    ("    end: true", "    end: false", "caps:", "step 'caps' leads nowhere", "'end: true'"),
    ("    end: true", "    end: true\n    next: judge", "end: true", "'end' and 'next' in one step", "delete one"),
    ("      - otherwise: base\n  ", "      - otherwise: base\n      - speed\n  ", "speed", "item 4 of 'next' should be a mapping in rule 4 of step 'weather'", "key: value"),
    ("  fan: {label: Fan, choices: {runs: Runs, stopped: Stopped}}", "  fan: Fan", "Fan", "the entry should be a mapping in reading 'fan'", "key: value"),
    # watch
    ("    go: cool", "    go: cold", "cold", "there is no step 'cold'", "'cool'?"),
    ("when: high_side >= high", "when: high_seid >= high", "high_seid", "unknown reading 'high_seid'", "'high_side'?"),
    ("    because: The limit is reached.\n", "", "name: limit", "'because' is missing in watch rule 1", "add"),
    # signs and findings
    ("weak: against fair", "weak: agianst fair", "agianst", "'agianst fair' is no odds", ""),
    ("weak: against fair", "weak: fairly", "fairly", "'fairly' is no odds", "'fair'?"),
    ("weak: against fair", "weak: 1000000", "1000000", "'1000000' is no odds", "0.0001 to 10000"),
    ("fine: [5, 0.2]", "fine: [5]", "fine: [5]", "1 odds for 'fine'", "[odds if true, odds if false]"),
    ("fine: [5, 0.2]", "fein: [5, 0.2]", "fein", "unknown finding 'fein'", "'fine'?"),
    ("fine: [5, 0.2]", "part: [5, 0.2]", "part: [5", "finding 'part' is not weighed by itself", "'fine'"),
    ("fine: 0.5}", "fine: 0.5}\n    beside: {waek: 2}", "waek", "unknown finding 'waek'", "'weak'?"),
    ("fine: 0.5}", "fine: 0.5}\n    beside: {wrong-gas: 2}", "wrong-gas: 2", "'wrong-gas' has prior 0", ""),
    ("fine: 0.5}", "fine: 0.5}\n    beside: {weak: [2]}", "weak: [2]", "1 odds for 'weak'", "[odds if true, odds if false]"),
    ("fine: 0.5}", "fine: 0.5}\n    beside: {weak: stronk}", "stronk", "'stronk' is no odds", "'strong'?"),
    ("rivals: {stuck:", "rivals: {stick:", "stick", "unknown finding 'stick'", "'stuck'?"),
    ("rivals: {stuck:", "rivals: {weak:", "weak: Raise", "'weak' is a rival of itself", "another"),
    ("prior: 0.5", "prior: half", "half", "'half' is no positive number", ""),
    (", told_when: loaded.duty < 60 percent", "", "same_as", "'same_as' needs 'told_when'", "add"),
    ("same_as: fine", "same_as: fin", "fin,", "unknown finding 'fin'", "'fine'?"),
    ("loaded.duty < 60 percent", "loaded.duty < 60 psi", "60 psi", "that is a gauge pressure", ""),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "at", "what", "hint"), CASES, ids=[f"{old[:30]}>{new[:30]}" for old, new, *_ in CASES]
)
def test_one_mistake_is_one_problem_at_its_place(old: str, new: str, at: str, what: str, hint: str) -> None:
    text = changed((old, new))
    found = problems(text)
    here = [p for p in found if what in p.what]
    assert here, "\n".join(map(str, found))
    assert hint in here[0].hint
    assert _points_at(text, new, at, here[0].line, here[0].column), str(here[0])
    assert len(found) == 1, "\n".join(map(str, found))


def _points_at(text: str, new: str, at: str, line: int | None, column: int | None) -> bool:
    """The place is where `at` stands: inside the changed text if it is there, else anywhere in the file."""
    start = text.index(new) if new and at in new else 0
    offset = text.index(at, start)
    before = text[:offset]
    return (line, column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))


def test_many_mistakes_are_reported_at_once_in_order() -> None:
    text = changed(
        ("format: 1", "format: one"),
        ("quantity: ratio", "quantity: rato"),
        ("load: raised", "load: up"),
        ("conclude: all", "conclude: [nothing]"),
        ("same_as: fine", "same_as: fin"),
    )
    found = problems(text)
    assert len(found) == 5, "\n".join(map(str, found))
    assert [p.line for p in found] == sorted(p.line or 0 for p in found)


def test_a_broken_step_hides_nothing_but_what_hangs_on_it() -> None:
    text = changed(
        ("    settle: 3 min", "    setle: 3 min"),
        ("when: fan is stopped", "when: loaded.settled is yes"),
        ("loaded.duty < 60 percent", "loaded.dutty < 60 percent"),
    )
    assert [p.what for p in problems(text)] == [
        "unknown key 'setle' in step 'more-load'",
        "unknown reading 'dutty'",
    ]


def test_a_broken_reading_is_not_reported_again_where_it_is_used() -> None:
    problem = only_problem(changed(("duty: {label: Duty,", "duty: {lable: Duty,")))
    assert "lable" in problem.what


# (odds in the head, where the problem must point, words of it, words of the hint)
OF_FIRST = [
    ("{waek: {stuck: 2}}", "waek", "unknown finding 'waek'", "'weak'?"),
    ("{weak: {stick: 2}}", "stick", "unknown finding 'stick'", "'stuck'?"),
    ("{weak: {weak: 2}}", "weak: 2", "'weak' cannot be told beside itself", "another"),
    ("{weak: {stuck: stronk}}", "stronk", "'stronk' is no odds", "'strong'?"),
    ("{weak: {part: 2}}", "part: 2", "finding 'part' is not weighed by itself", "'fine'"),
]


@pytest.mark.parametrize(("odds", "at", "what", "hint"), OF_FIRST)
def test_odds_of_a_finding_told_first(odds: str, at: str, what: str, hint: str) -> None:
    heard = ("weighs: {fine: 0.5}", "weighs: {fine: 0.5}\n    beside: {stuck: 3}")
    text = changed(("start: weather", f"beside: {odds}\nstart: weather"), heard)
    problem = only_problem(text)
    assert (problem.place.line, problem.place.column) == spot(text, at)
    assert what in problem.what
    assert hint in problem.hint


def test_odds_of_a_finding_told_first_that_no_sign_joins() -> None:
    problem = only_problem(changed(("start: weather", "beside: {weak: {stuck: 2}}\nstart: weather")))
    assert "no sign has odds 'beside'" in problem.what
