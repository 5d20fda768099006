"""The technician: answers every prompt, sets up what a set asks, and reads what the vehicle does."""

from dataclasses import replace
from functools import cache
from random import Random

import pytest

from engine.flow.everything import asking_everything
from engine.flow.library import find, shipped
from engine.flow.load import load_flow
from engine.flow.model import ITEM_SETTLE, Flow, SetState
from engine.job.events import ANSWERED, CANNOT_MEASURE
from engine.job.walk import Walk, advance, begin, refusal
from engine.vehicle.bench import Bench, Measured
from engine.vehicle.cabin import Air, Intake
from engine.vehicle.design import reference
from engine.vehicle.evaporator import WATER_LATENT
from engine.vehicle.fault_effects import NONE
from engine.vehicle.faults import FAULTS, Injury, injure
from engine.vehicle.fleet import FLEET
from engine.vehicle.meter_display import displayed
from engine.vehicle.set_readings import SET_READINGS, set_situation
from engine.vehicle.shop import Shop
from engine.vehicle.technician import ESSENTIAL, JOB_READINGS, Technician
from engine.vehicle.weather import Weather

PSI = 6894.757
SHOP = Shop(True, True, True, True, True, True, True, True, "wire-to-ground", "positive", 0.2, 0.0, 1.0)
HOT = Weather(306.15, 0.45, 0.0, 101325.0, 600.0)


@cache
def main_flow() -> Flow:
    return load_flow(find("stroke_by_load"))


def bench(*faults: tuple[str, float], way: str = "", key: str = "test", weather: Weather = HOT) -> Bench:
    injuries: list[Injury] = []
    for finding, severity in faults:
        found = (injure(reference(), finding, severity, Random(seed)) for seed in range(100))
        injuries.append(next(one for one in found if way in ("", one.way)))
    return Bench(key, reference(), tuple(injuries), weather, SHOP)


def walked(technician: Technician) -> Walk:
    walk = begin(asking_everything(main_flow()))
    while walk.prompt is not None:
        answer = technician.answer(walk)
        assert refusal(walk, answer) is None
        walk = advance(walk, answer)
    return walk


def share_of_yes(name: str, word: str, *faults: tuple[str, float], way: str = "") -> float:
    told = [JOB_READINGS[name](bench(*faults, way=way, key=f"{name}{i}")) for i in range(60)]
    return told.count(word) / len(told)


# -- whole walks


def test_every_reading_the_main_flow_asks_for_can_be_answered() -> None:
    for step in main_flow().steps.values():
        assert set(step.ask) <= set(JOB_READINGS) | set(SET_READINGS), step.id
        assert set(step.record) <= set(SET_READINGS) | set(JOB_READINGS), step.id


def test_words_told_are_words_the_main_flow_knows() -> None:
    flow = main_flow()
    for finding, graded in FAULTS.items():
        for seed in range(4):
            one = bench((finding, 0.8 if graded else 0.0), key=f"words{seed}")
            for name, rule in JOB_READINGS.items():
                told = rule(one)
                if isinstance(told, str) and name in flow.readings:
                    words = {choice.word for choice in flow.readings[name].choices}
                    assert set(told.split(", ")) <= words, name


@pytest.mark.parametrize("name", [source.name for source in shipped()])
def test_any_shipped_flow_can_be_walked_to_a_conclusion(name: str) -> None:
    walk = begin(load_flow(find(name)))
    technician = Technician(bench())
    while walk.prompt is not None:
        walk = advance(walk, technician.answer(walk))
    assert walk.conclusion is not None


def test_a_sound_car_with_everything_at_hand_is_found_sound() -> None:
    conclusion = walked(Technician(bench())).conclusion
    assert conclusion is not None
    assert conclusion.finding in ("no-fault", "normal-part-stroke")


@pytest.mark.parametrize(
    "finding", ["solenoid-open", "drive-broken", "system-empty", "contaminated-refrigerant"]
)
def test_what_one_test_proves_is_proved(finding: str) -> None:
    way = "hydrocarbon" if finding == "contaminated-refrigerant" else ""
    conclusion = walked(Technician(bench((finding, 0.0), way=way))).conclusion
    assert conclusion is not None
    assert conclusion.finding == finding


def test_same_vehicle_same_answers() -> None:
    drawn = FLEET.draw(1, 5)
    twice = [
        walked(Technician(Bench("k", drawn.vehicle, (), drawn.weather, drawn.shop), 0.2)).answered
        for _ in range(2)
    ]
    assert twice[0] == twice[1]


def test_a_reading_left_out_is_never_one_the_procedure_hangs_on() -> None:
    walk = walked(Technician(bench(), skipped=1.0))
    read = {key[2] for key, answer in walk.answered.items() if answer.kind == ANSWERED}
    assert read <= ESSENTIAL
    assert {"low_side", "high_side", "refrigerant"} <= read


# -- sets


def test_sets_are_set_up_as_their_load_says() -> None:
    one, sets = bench(), main_flow().sets
    loaded, unloaded = set_situation(one, sets["loaded"]), set_situation(one, sets["unloaded"])
    assert (loaded.blower, loaded.intake, loaded.doors_open) == (1.0, "fresh", True)
    assert (unloaded.blower, unloaded.intake, unloaded.doors_open) == (0.0, "recirculation", False)
    assert set_situation(one, sets["static"]).engine_speed == 0.0
    assert set_situation(one, sets["raised_speed"]).engine_speed == pytest.approx(2500 / 60)
    assert set_situation(one, sets["full_command"]).command == "maximum"
    assert set_situation(one, sets["wetted"]).condenser_wetted
    assert not set_situation(one, sets["stopped"]).ac_on


def test_an_unknown_set_is_set_up_by_its_load_and_speed() -> None:
    situation = set_situation(bench(), SetState("my_own", "Mine", "raised", speed=30.0))
    assert situation.engine_speed == 30.0
    assert situation.doors_open


def test_gauges_show_the_state_within_their_error() -> None:
    walk = walked(Technician(bench()))
    for name in ("baseline", "loaded", "unloaded"):
        true = bench().state(set_situation(bench(), main_flow().sets[name]))
        low, high = walk.facts.get(f"{name}.low_side"), walk.facts.get(f"{name}.high_side")
        assert isinstance(low, float)
        assert isinstance(high, float)
        assert abs(low - true.low_side) < 3.0 * PSI  # bias 1.6, noise 0.8, half a step
        assert abs(high - true.high_side) < 7.1 * PSI  # bias 4, noise 2, half a step of 2


def test_read_too_early_lies_between_before_and_after_and_is_noted() -> None:
    hasty = replace(SHOP, hasty=1.0)
    one = Bench("early", reference(), (), HOT, hasty)
    walk = walked(Technician(one))
    settles = [answer for key, answer in walk.answered.items() if key[2] == ITEM_SETTLE]
    assert settles
    assert all(answer.detail["kept"] is False for answer in settles)
    before, after = one.state(one.moderate).high_side, one.state(one.raised).high_side
    high = walk.facts.get("loaded.high_side")
    assert isinstance(high, float)
    assert before - 7.1 * PSI < high < after + 7.1 * PSI


def test_the_cabin_that_raised_load_leaves_is_as_good_as_the_day_for_the_lowered_set() -> None:
    """Four doors open over five minutes: the cabin is warm again, so no set need remember the one before."""
    for index in range(12):
        drawn = FLEET.draw(6, index)
        one = Bench("cabin", drawn.vehicle, (), drawn.weather, drawn.shop)
        raised = one.state(one.raised)
        dried = raised.intake_ratio - raised.latent_w / (WATER_LATENT * raised.evaporator_air_kg_s)
        off_coil = Air(raised.coil_air_temperature, dried)
        left = Intake(one.vehicle.cabin, NONE, one.raised).cabin(off_coil, raised.evaporator_air_kg_s)
        followed = replace(one.lowered, cabin_start_k=left.kelvin, cabin_start_ratio=left.ratio)
        alone, after = one.state(one.lowered), one.state(followed)
        assert after.low_side == pytest.approx(alone.low_side, abs=0.5 * PSI)  # half a step of the gauge
        assert after.high_side == pytest.approx(alone.high_side, abs=1.0 * PSI)
        assert after.vent_temperature == pytest.approx(alone.vent_temperature, abs=0.2)  # a probe's noise


# -- meters


@pytest.mark.parametrize("side", ["ground", "supply"])
@pytest.mark.parametrize("edge", ["positive", "negative"])
@pytest.mark.parametrize("leads", ["wire-to-ground", "wire-to-supply", "across-coil"])
def test_the_display_turns_back_into_the_command(side: str, edge: str, leads: str) -> None:
    from engine.physics.command import commanded_duty

    car = replace(reference(), electrics=replace(reference().electrics, switched_side=side))
    one = Bench("display", car, (), HOT, replace(SHOP, leads=leads, edge=edge))
    state = one.state(one.raised)
    assert commanded_duty(displayed(one, state), leads, edge, side) == pytest.approx(state.duty)


def test_open_coil_reads_over_limit_and_a_sound_one_its_copper_and_the_leads() -> None:
    ohms = JOB_READINGS["solenoid_resistance"](bench())
    assert isinstance(ohms, Measured)
    coil_k = bench().state(bench().resting).coil_temperature
    assert ohms.true == pytest.approx(10.6 * (1 + 0.00393 * (coil_k - 293.15)) + 0.2, rel=0.01)
    broken = bench(("solenoid-open", 0.0))
    told = JOB_READINGS["solenoid_resistance"](broken)
    assert isinstance(told, Measured)
    assert broken.text(told, "ohm", "any") == "OL"


def test_a_tool_that_is_not_there_reads_nothing() -> None:
    bare = replace(
        SHOP, scan_tool=False, duty_meter=False, current_clamp=False, certified=False, identifier=False
    )
    walk = walked(Technician(Bench("bare", reference(), (), HOT, bare)))
    for name in ("loaded.duty", "loaded.duty_displayed", "loaded.solenoid_current", "recovered_charge"):
        assert walk.facts.get(name) is None or name == "loaded.duty"
    assert all(
        answer.kind == CANNOT_MEASURE for key, answer in walk.answered.items() if key[2] == "contamination"
    )


def test_charge_comes_out_as_it_is_in() -> None:
    told = JOB_READINGS["recovered_charge"](bench(("undercharge", 0.8)))
    assert isinstance(told, Measured)
    short = bench(("undercharge", 0.8)).effects.charge_factor * reference().charge.label_kg
    assert 0.95 * short < told.true <= short


def test_sensors_after_the_soak_tell_what_is_wrong_with_them() -> None:
    told = JOB_READINGS["evaporator_sensor"](bench(("sensor-misreads", 0.6), way="coil-cold"))
    assert isinstance(told, Measured)
    assert told.true == pytest.approx(HOT.ambient_k - 9.0, abs=0.1)  # 60 % of 15 K


# -- looks and proofs


def test_a_sound_pump_is_hardly_ever_called_noisy_and_a_noisy_one_is_heard() -> None:
    """One in 2000 is stated; of 4000, two are expected and eight are four standard deviations more."""
    sound = [JOB_READINGS["compressor_noise"](bench(key=f"quiet{i}")) for i in range(4000)]
    assert sound.count("yes") <= 8
    assert share_of_yes("compressor_noise", "yes", ("compressor-damaged", 0.0), way="noise") > 0.8


def test_under_load_a_noise_is_heard_that_was_not_heard_at_first() -> None:
    sound = [JOB_READINGS["noise_under_load"](bench(key=f"quiet{i}")) for i in range(400)]
    assert sound.count("quiet") >= 398
    noisy = [bench(("compressor-damaged", 0.0), way="noise", key=f"noisy{i}") for i in range(400)]
    first = [JOB_READINGS["compressor_noise"](one) for one in noisy]
    loaded = [JOB_READINGS["noise_under_load"](one) for one in noisy]
    assert loaded.count("quiet") < first.count("no")
    assert "quiet" not in {later for later, before in zip(loaded, first, strict=True) if before == "yes"}


def test_hub_stands_only_where_the_drive_is_broken() -> None:
    assert JOB_READINGS["hub_turns"](bench()) == "yes"
    assert JOB_READINGS["hub_turns"](bench(("drive-broken", 0.0))) == "no"


def test_unplugging_parts_a_stuck_valve_from_a_driver_that_holds_it_on() -> None:
    assert JOB_READINGS["unplugged_collapses"](bench()) == "yes"
    assert JOB_READINGS["unplugged_collapses"](bench(("solenoid-circuit", 0.0), way="stuck-on")) == "yes"
    assert JOB_READINGS["unplugged_collapses"](bench(("stroke-valve-stuck-high", 0.8))) == "no"


def test_low_side_follows_the_command_unless_the_stroke_is_stuck() -> None:
    assert JOB_READINGS["low_moves_with_command"](bench()) == "yes"
    assert JOB_READINGS["low_moves_with_command"](bench(("stroke-valve-stuck-low", 1.0))) in ("yes", "no")
    assert JOB_READINGS["low_moves_with_command"](bench(("solenoid-circuit", 0.0), way="supply")) == "no"


def test_ice_melts_in_a_rest_and_dirt_does_not() -> None:
    assert share_of_yes("recovers_after_rest", "yes", ("moisture-freezing", 0.9)) > 0.8
    assert share_of_yes("recovers_after_rest", "yes", ("liquid-restriction", 0.9)) == 0.0
    assert share_of_yes("recovers_after_rest", "yes") == 0.0


def test_a_valve_that_can_close_answers_to_ice_on_its_head() -> None:
    assert share_of_yes("bulb_chilled_low_falls", "yes") > 0.8
    assert share_of_yes("bulb_chilled_low_falls", "no", ("expansion-valve-stuck-open", 1.0)) > 0.8


def test_a_warmed_valve_lets_more_through_unless_it_cannot_or_nothing_comes() -> None:
    assert share_of_yes("valve_warmed_answers", "yes") > 0.8
    for shut in ("expansion-valve-restricted", "liquid-restriction"):
        assert share_of_yes("valve_warmed_answers", "no", (shut, 0.8)) > 0.8
    assert share_of_yes("valve_warmed_answers", "yes", ("moisture-freezing", 0.8)) > 0.8
    assert share_of_yes("valve_warmed_answers", "yes", ("weak-compressor", 0.5)) > 0.8


def test_speed_lost_at_the_drive_heats_it_and_a_weak_pump_does_not() -> None:
    assert share_of_yes("drive_heat", "hot", ("drive-slips", 0.4)) > 0.7
    assert share_of_yes("drive_heat", "hot", ("weak-compressor", 0.7)) < 0.1
    assert share_of_yes("drive_heat", "hot", ("compressor-damaged", 0.0), way="locked") < 0.1


def test_ice_water_shows_an_evaporator_sensor_that_is_off_where_its_table_is_at_hand() -> None:
    assert share_of_yes("sensor_in_ice", "off", ("sensor-misreads", 0.5), way="coil-warm") > 0.6
    assert share_of_yes("sensor_in_ice", "off", ("sensor-misreads", 0.5), way="pressure-high") < 0.05
    without = replace(SHOP, service_data=False)
    assert JOB_READINGS["sensor_in_ice"](Bench("no table", reference(), (), HOT, without)) is None


def test_a_leak_is_found_mostly_where_one_is() -> None:
    assert share_of_yes("leak_found", "yes", ("undercharge", 0.5)) > 0.6
    assert share_of_yes("leak_found", "yes") < 0.1


def test_two_cold_steps_are_both_told() -> None:
    two = (("condenser-restricted", 0.9), ("expansion-valve-restricted", 0.9))
    told = [str(JOB_READINGS["cold_spot"](bench(*two, key=f"two{i}"))) for i in range(60)]
    assert "condenser, valve-inlet" in told
    assert "none" in [JOB_READINGS["cold_spot"](bench(key=f"no{i}")) for i in range(5)]


def test_driven_when_off_is_a_driver_that_holds_on() -> None:
    assert JOB_READINGS["driven_when_off"](bench()) == "no"
    assert JOB_READINGS["driven_when_off"](bench(("solenoid-circuit", 0.0), way="stuck-on")) == "yes"


def test_fan_face_and_filter_are_seen_mostly_not_always() -> None:
    assert (
        share_of_yes("condenser_fan", "stopped", ("condenser-airflow", 1.0), way="fan")
        + share_of_yes("condenser_fan", "slow", ("condenser-airflow", 1.0), way="fan")
        > 0.7
    )
    assert 0.7 < share_of_yes("condenser_face", "blocked", ("condenser-airflow", 1.0), way="face") < 1.0
    assert share_of_yes("cabin_filter", "dirty", ("evaporator-airflow", 0.7), way="filter") > 0.8
    assert share_of_yes("cabin_filter", "dirty") < 0.3


def test_icing_fades_and_a_blocked_filter_is_weak_from_the_start() -> None:
    assert share_of_yes("blower_flow", "fading", ("evaporator-icing", 0.8)) > 0.7
    assert share_of_yes("blower_flow", "weak", ("evaporator-airflow", 0.8)) > 0.9
    assert share_of_yes("blower_flow", "strong") > 0.9


def test_the_reason_of_a_withheld_command_stands_in_live_data() -> None:
    assert share_of_yes("command_reason", "coolant", ("command-withheld", 0.0), way="coolant") > 0.8
    assert share_of_yes("command_reason", "at-target", ("sensor-misreads", 1.0), way="coil-cold") > 0.8


def test_clutch_plug_has_volts_where_coil_or_gap_is_at_fault() -> None:
    car = replace(reference(), compressor=replace(reference().compressor, clutch=True))
    for way, volts in (("wire", 0.0), ("coil", 13.6), ("gap", 13.6)):
        found = (injure(car, "clutch-circuit", None, Random(seed)) for seed in range(100))
        one = Bench("clutch", car, (next(i for i in found if i.way == way),), HOT, SHOP)
        assert JOB_READINGS["clutch_engaged"](one) == "no"
        told = JOB_READINGS["clutch_supply"](one)
        assert isinstance(told, Measured)
        assert told.true == pytest.approx(volts, abs=0.5)


def test_finished_walk_is_asked_nothing() -> None:
    technician = Technician(bench())
    with pytest.raises(ValueError, match="finished"):
        technician.answer(walked(technician))
