"""Every rule of lint, in the order in which `loadstep lint --rules` lists them."""

from __future__ import annotations

from engine.flow.lint.asking import ASKED_TWICE, USED_EARLY
from engine.flow.lint.branches import RANGE_GAP, RANGE_OVERLAP, RULE_COVERED
from engine.flow.lint.conditions import ALWAYS_TRUE, NEVER_TRUE
from engine.flow.lint.exposure import EXPOSED
from engine.flow.lint.gauges import GAUGES_LEFT
from engine.flow.lint.rule import Rule
from engine.flow.lint.settling import SETTLE_MISSING
from engine.flow.lint.weighing import DEAD_SIGN, NEVER_CONCLUDED, WITHOUT_SIGN
from engine.flow.lint.wording import NOTICE_FOR_INJURY, TELLS_TO_BYPASS, TELLS_TO_VENT, UNWANTED_WORD

RULES: tuple[Rule, ...] = (
    EXPOSED,
    NOTICE_FOR_INJURY,
    TELLS_TO_VENT,
    TELLS_TO_BYPASS,
    GAUGES_LEFT,
    SETTLE_MISSING,
    NEVER_TRUE,
    ALWAYS_TRUE,
    RULE_COVERED,
    RANGE_GAP,
    RANGE_OVERLAP,
    ASKED_TWICE,
    USED_EARLY,
    NEVER_CONCLUDED,
    WITHOUT_SIGN,
    DEAD_SIGN,
    UNWANTED_WORD,
)
