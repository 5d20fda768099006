"""Instruments: steps, errors within bounds, and text that the entry field takes."""

from random import Random

import pytest

from engine.physics.quantity import Kind, parse, to_si
from engine.vehicle.instruments import INSTRUMENTS, Instrument, bias_of, read, written

NO_BIAS = (0.0, 0.0)


def test_without_error_it_shows_the_nearest_step() -> None:
    gauge = Instrument(Kind.PRESSURE, "psi", 2.0)
    assert read(to_si(150.9, "psi", Kind.PRESSURE), gauge, NO_BIAS, Random(1)) == 150.0
    assert read(to_si(151.1, "psi", Kind.PRESSURE), gauge, NO_BIAS, Random(1)) == 152.0


def test_temperature_steps_are_in_celsius() -> None:
    probe = Instrument(Kind.TEMPERATURE, "degC", 0.5)
    assert read(298.45, probe, NO_BIAS, Random(1)) == 25.5  # 25.3 degC


@pytest.mark.parametrize("name", sorted(INSTRUMENTS))
def test_errors_stay_within_two_deviations_of_bias_and_noise(name: str) -> None:
    one = INSTRUMENTS[name]
    true = 0.5 if one.kind is Kind.RATIO else to_si(12.0, one.unit, one.kind)
    bound = 2.0 * (one.bias + one.noise + one.share * abs(true))
    step = abs(to_si(one.step, one.unit, one.kind) - to_si(0.0, one.unit, one.kind))
    for seed in range(60):
        shown = read(true, one, bias_of(one, Random(seed)), Random(seed + 1000))
        assert abs(to_si(shown, one.unit, one.kind) - true) <= bound + 0.5 * step + 1e-9


def test_bias_stays_and_noise_does_not() -> None:
    gauge = INSTRUMENTS["low gauge"]
    bias = bias_of(gauge, Random("specimen"))
    shown = [read(200e3, gauge, bias, Random(i)) for i in range(200)]
    assert len(set(shown)) > 1
    mean = sum(shown) / len(shown)
    assert mean == pytest.approx((200e3 + bias[0]) / 6894.757, abs=0.3)


def test_a_share_never_leaves_nought_to_all() -> None:
    meter = INSTRUMENTS["duty meter"]
    for seed in range(50):
        for true in (0.0, 1.0):
            assert 0.0 <= read(true, meter, bias_of(meter, Random(seed)), Random(seed)) <= 100.0


def test_text_is_a_bare_number_in_the_unit_of_the_field() -> None:
    assert written(41.0, INSTRUMENTS["low gauge"], "psi") == "41"
    assert written(-0.0, INSTRUMENTS["air probe"], "degC") == "0"
    assert written(0.46, INSTRUMENTS["current clamp"], "A") == "0.46"
    text = written(41.0, INSTRUMENTS["low gauge"], "kPa")
    assert parse(text, Kind.PRESSURE, "kPa").si == pytest.approx(41.0 * 6894.757, rel=1e-4)
