"""The true state of a vehicle at one moment: everything a technician could read, and the balances.

SI units. Pressures are gauge where the name says `side` (what a gauge at the service port shows), absolute
elsewhere. A field is never None: a car that does not run has its temperatures at rest.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["State"]


@dataclass(frozen=True, slots=True)
class State:
    """One settled (or, by `engine.vehicle.time`, not yet settled) moment."""

    # -- does it run
    running: bool
    """The compressor pumps (stroke above nothing, shaft turning, clutch closed)."""
    reason: str
    """Why no cooling is asked for: empty, or off request ambient pressure-low pressure-high coolant throttle
    voltage low-charge-code at-target engine-off clutch drive evaporator-cold no-current."""
    active_limit: str
    """What holds the state: target | ceiling (command at its maximum) | stroke (full stroke) | minimum |
    back-off | stuck-high | stuck-low | fixed | rest."""
    exact: bool
    """False where the model has no single state (a run-away, a pump between dry and flooded): heat and flow
    close, but the stroke shown is not held to its limits, nor the inventory to the charge."""
    cycling: bool
    """A clutch that would switch on and off here. Where a control unit does it by its sensor, values are of
    the on-phase; where a pressure switch or a thermostat does, gauges are of the moment the clutch opens, all
    else averages over the cycle, `stroke` the share of time on."""
    on_share: float
    """Share of time the compressor is on (1 unless cycling)."""

    # -- gauges (Pa gauge)
    low_side: float
    """Where a switch cycles the clutch: as the clutch opens. `high_side` likewise."""
    high_side: float
    average_low_side: float
    """Time averages over a cycle; equal to the above unless cycling."""
    average_high_side: float
    pressure_sensor: float
    """What the scan tool shows for the high side (Pa gauge, with the sensor's error)."""

    # -- refrigerant temperatures (K)
    suction_line_temperature: float
    discharge_temperature: float
    condenser_outlet_temperature: float
    liquid_line_temperature: float
    """Before the expansion device (after an internal heat exchanger)."""
    evaporator_inlet_temperature: float
    evaporator_outlet_temperature: float
    evaporating_k: float
    condensing_k: float

    # -- air (K, unless said)
    intake_temperature: float
    intake_ratio: float
    """Humidity ratio of the air into the blower, kg/kg."""
    coil_air_temperature: float
    """Mean air off the evaporator."""
    evaporator_sensor: float
    """What the scan tool shows for it."""
    vent_left: float
    vent_right: float
    condenser_air_temperature: float
    """At the face (hot air that comes round included)."""
    condenser_air_out_temperature: float
    ambient_sensor: float
    cabin_sensor: float
    evaporator_air_kg_s: float
    condenser_air_kg_s: float
    fan_share: float
    """Condenser fan speed asked for, 0..1."""
    fan_turning: float
    """Condenser fan speed it has, 0..1."""

    # -- command and solenoid
    command_share: float
    """What the control asks: 0 minimum, 1 maximum."""
    duty: float
    """On-share of the solenoid's drive."""
    current: float
    """A, measured in the coil."""
    mean_volts: float
    """V, mean across the coil."""
    supply_volts: float
    """V at the connector, plugged in, key on."""
    coil_temperature: float
    coil_resistance: float
    """ohm at that temperature; infinite when open."""

    # -- machine
    stroke: float
    compressor_speed: float
    """1/s of the hub."""
    pulley_speed: float
    mass_flow: float
    """kg/s through the metering device."""
    compressor_flow: float
    """kg/s delivered by the compressor, worked out from its own side (equals mass_flow)."""
    cooling_w: float
    """Heat taken up in the evaporator."""
    latent_w: float
    condenser_w: float
    shaft_w: float
    gain_w: float
    """Heat into suction and liquid line from the bay."""
    loss_w: float
    """Heat from shell and discharge line to the bay."""

    stored_w: float
    """Heat that only warms the high side: not 0 in a run-away, where nothing settles and the high side is at
    the end of the model's tables (above any cut-out); then a relief device would open."""

    # -- circuit
    evaporator_superheat: float
    """K; 0 when wet."""
    suction_quality: float
    """Vapour share at the compressor, 1 = dry."""
    superheat: float
    """K at the compressor."""
    subcooling: float
    """K at the condenser outlet; 0 with vapour in it."""
    liquid_quality: float
    """Vapour share before the expansion device, 0 = solid liquid."""
    opening: float
    """Of the expansion device, share of its full area."""
    reserve_fill: float
    """Share of the receiver that holds liquid, with an orifice tube of the accumulator; 0 where there is
    none."""
    charge_kg: float
    inventory_kg: float
    """The same charge summed over the parts of the circuit, worked out from their contents."""
    air_pressure: float
    """Partial pressure of air on the high side, Pa."""
    liquid_present: bool
    frost_m: float
    evaporator_fill: float
    """Share of the evaporator that boils, 0..1."""

    # -- a clutch that a switch cycles (0 unless it does)
    on_seconds: float = 0.0
    off_seconds: float = 0.0
    low_side_at_close: float = 0.0
    """Low side (Pa gauge) as the clutch closes again."""

    # -- balances
    @property
    def vent_temperature(self) -> float:
        """Mean of both vents, K."""
        return 0.5 * (self.vent_left + self.vent_right)

    @property
    def vent_split(self) -> float:
        """Warmest less coldest vent, K."""
        return abs(self.vent_left - self.vent_right)

    @property
    def energy_error(self) -> float:
        """|evaporator + shaft + gains - condenser - losses| over the condenser's heat; 0 at rest."""
        if self.condenser_w == 0.0:
            return 0.0
        surplus = self.cooling_w + self.shaft_w + self.gain_w - self.condenser_w - self.loss_w
        surplus -= self.stored_w
        return abs(surplus) / abs(self.condenser_w)

    @property
    def mass_error(self) -> float:
        """|compressor - metering device| over the flow; 0 at rest."""
        if self.mass_flow == 0.0:
            return 0.0
        return abs(self.compressor_flow - self.mass_flow) / self.mass_flow

    @property
    def cop(self) -> float:
        """Cooling over shaft work; 0 at rest."""
        return self.cooling_w / self.shaft_w if self.shaft_w > 0.0 else 0.0
