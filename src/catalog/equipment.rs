//! Equipment beside the air handler: outdoor units, water coils, boilers, chillers, circulators, controls.

use super::cabinet::{Clearances, Port};
use super::count::Count;
use super::electrical::{Poles, Terminal, Times};
use super::record::{record, words};
use super::shape::Size;
use super::shelf::Named;
use super::stated::Stated;
use super::tabulated::{AirPoint, HeatingPoint, Range, WaterPoint};
use crate::quantity::{
    AirFlow, ApparentPower, Current, Duration, HeatFlow, Length, Mass, Power, Pressure,
    Temperature, Voltage, Volume, WaterFlow,
};

words! {
    /// How a thermostat is fed.
    Feed {
        /// By its battery alone.
        Battery = "battery",
        /// Through the common conductor.
        Common = "common",
        /// Either way.
        Either = "either",
    }

    /// In which mode a thermostat feeds the reversing valve.
    ReversingIn {
        /// In cooling.
        Cooling = "cooling",
        /// In heating.
        Heating = "heating",
    }

    /// Where a float switch sits.
    FloatPlace {
        /// In the primary pan of the unit.
        PrimaryPan = "primary pan",
        /// In the secondary drain opening.
        SecondaryDrain = "secondary drain",
        /// In the pan under the unit.
        AuxiliaryPan = "auxiliary pan",
        /// In the drain line.
        DrainLine = "drain line",
    }
}

record! {
    /// What a circuit carries, by itself.
    Loads, "the loads" {
        /// Motor-compressors: rated-load or branch-circuit selection current, the greater of the two.
        compressors: Option<Vec<Stated<Current>>>,
        /// Other motors: full-load current.
        motors: Option<Vec<Stated<Current>>>,
        /// Electric heat.
        heaters: Option<Vec<Stated<Current>>>,
        /// What else lasts.
        other: Option<Vec<Stated<Current>>>,
        /// Current at the start, the rotor still at rest.
        locked_rotor: Option<Stated<Current>>,
        /// Least voltage at its terminals at which its largest motor starts.
        starts_at: Option<Stated<Voltage>>,
    }

    /// A nameplate with one supply.
    Plate, "a nameplate" {
        /// Supply voltages.
        supply: Stated<Range<Voltage>>,
        /// Minimum circuit ampacity.
        least_ampacity: Stated<Current>,
        /// Maximum breaker or fuse.
        most_breaker: Stated<Current>,
        /// Whether it asks for fuses, so that a breaker alone does not protect it.
        fuses_only: Option<Stated<bool>>,
        /// The breaker.
        poles: Stated<Poles>,
        /// What it carries; sized from where the plate gives no minimum.
        loads: Option<Loads>,
    }

    /// What the line set may be.
    LineSetLimits, "the line set" {
        /// Greatest length.
        longest: Stated<Length>,
        /// Greatest rise between the two units.
        highest: Stated<Length>,
        /// Length that the factory charge covers.
        charged_for: Stated<Length>,
        /// Refrigerant to add for each foot beyond.
        add_per_foot: Stated<Mass>,
    }

    /// What a heat pump gives, its defrosting counted.
    Heating, "the heating of a heat pump" {
        /// Air over the indoor coil that the sheet is for.
        airflow: Stated<AirFlow>,
        /// Temperature of that air as it enters.
        indoor: Stated<Temperature>,
        /// Heat by temperature outdoors, the coldest first.
        points: Vec<Stated<HeatingPoint>>,
    }

    /// An outdoor unit.
    OutdoorUnit, "an outdoor unit" {
        /// Nominal cooling.
        nominal: Stated<HeatFlow>,
        /// Stages of cooling.
        stages: Stated<Count>,
        /// Refrigerant.
        refrigerant: Stated<String>,
        /// Factory charge.
        charge: Stated<Mass>,
        /// The cabinet: depth x width x height.
        size: Stated<Size>,
        /// Weight without packing.
        weight: Stated<Mass>,
        /// Suction connection.
        suction: Port,
        /// Liquid connection.
        liquid: Port,
        /// What the line set may be.
        line_set: LineSetLimits,
        /// Nameplate.
        plate: Plate,
        /// What it gives in heating, where it is a heat pump.
        heating: Option<Heating>,
        /// Control terminals.
        control: Named<Terminal>,
        /// The shortest time that its compressor has to stand between two runs.
        least_off: Option<Stated<Duration>>,
        /// The time that its own control keeps the compressor off.
        keeps_off: Option<Stated<Duration>>,
        /// Least distances to anything else.
        clearances: Clearances,
    }

    /// The point a water coil is rated at.
    WaterRating, "the rated point" {
        /// Heat given.
        output: Stated<HeatFlow>,
        /// Water entering.
        entering_water: Stated<Temperature>,
        /// Air entering.
        entering_air: Stated<Temperature>,
        /// Airflow.
        airflow: Stated<AirFlow>,
        /// Water flow.
        flow: Stated<WaterFlow>,
        /// Loss of pressure of the water.
        water_loss: Stated<Pressure>,
        /// Loss of pressure of the air.
        air_loss: Stated<Pressure>,
    }

    /// A hot-water coil.
    WaterCoil, "a hot-water coil" {
        /// The coil: along the air x across x up.
        size: Stated<Size>,
        /// Weight dry.
        weight: Stated<Mass>,
        /// Water it holds counts as weight too.
        weight_full: Stated<Mass>,
        /// Supply, at the bottom.
        supply: Port,
        /// Return, at the top.
        return_water [return]: Port,
        /// Rated point; other conditions are scaled from it.
        rated: WaterRating,
        /// Hottest water it may see.
        hottest: Stated<Temperature>,
        /// Whether it has an air vent of its own.
        vent: Stated<bool>,
    }

    /// A boiler.
    Boiler, "a boiler" {
        /// Heat given to the water.
        output: Stated<HeatFlow>,
        /// Hottest water it makes.
        hottest: Stated<Temperature>,
        /// Loss of pressure of its water at one flow.
        water_loss: Option<Stated<WaterPoint>>,
        /// Water it holds.
        water: Option<Stated<Volume>>,
        /// Pressure at which its relief valve opens.
        relief: Option<Stated<Pressure>>,
        /// Its box.
        size: Stated<Size>,
        /// Weight.
        weight: Stated<Mass>,
        /// Nameplate.
        plate: Plate,
        /// Whether it has a 24 V transformer of its own.
        own_transformer: Stated<bool>,
        /// Control terminals.
        control: Named<Terminal>,
    }

    /// A chiller.
    Chiller, "a chiller" {
        /// Nominal cooling.
        nominal: Stated<HeatFlow>,
        /// Water leaving at the rated point.
        leaving_water: Stated<Temperature>,
        /// Water flow at the rated point.
        flow: Stated<WaterFlow>,
        /// Its box.
        size: Stated<Size>,
        /// Weight.
        weight: Stated<Mass>,
        /// Nameplate.
        plate: Plate,
        /// Whether it has a 24 V transformer of its own.
        own_transformer: Stated<bool>,
        /// Control terminals.
        control: Named<Terminal>,
        /// The shortest time that its compressor has to stand between two runs.
        least_off: Option<Stated<Duration>>,
        /// The time that its own control keeps the compressor off.
        keeps_off: Option<Stated<Duration>>,
    }

    /// A circulator.
    Circulator, "a circulator" {
        /// Flow against head, from the lowest head to the highest.
        points: Vec<Stated<WaterPoint>>,
        /// Electrical power.
        watts: Stated<Power>,
        /// Supply voltages.
        supply: Stated<Range<Voltage>>,
        /// Running current.
        running: Stated<Current>,
        /// Trade size of its flanges.
        connection: Stated<Length>,
        /// Control terminals, where it has any.
        control: Option<Named<Terminal>>,
    }

    /// A thermostat.
    Thermostat, "a thermostat" {
        /// Stages of cooling.
        cooling_stages: Stated<Count>,
        /// Stages of heat.
        heating_stages: Stated<Count>,
        /// How it is fed.
        fed_by: Stated<Feed>,
        /// What it takes of the transformer.
        load: Stated<ApparentPower>,
        /// In which mode it feeds the reversing valve; in cooling where the catalog does not say.
        reversing: Option<Stated<ReversingIn>>,
        /// What it times after a call has ended.
        times: Option<Times>,
        /// Terminals by the letters beside them.
        control: Named<Terminal>,
    }

    /// A relay.
    Relay, "a relay" {
        /// What its coil takes of the transformer.
        coil: Stated<ApparentPower>,
        /// What its coil takes while it pulls in.
        in_rush: Option<Stated<ApparentPower>>,
        /// Least voltage at which it pulls in.
        pulls_at: Option<Stated<Voltage>>,
        /// Least voltage that holds it in: below it lets go.
        holds_at: Option<Stated<Voltage>>,
        /// Current its contacts carry.
        contacts: Stated<Current>,
        /// Voltage its contacts break.
        breaks: Stated<Voltage>,
        /// Terminals by the marks beside them.
        control: Named<Terminal>,
    }

    /// A float switch.
    FloatSwitch, "a float switch" {
        /// Where it sits.
        place: Stated<FloatPlace>,
        /// Whether its contact opens when the water rises.
        opens_on_rise: Stated<bool>,
        /// Height of the water at which it trips, above the bottom that it stands on.
        trips: Option<Stated<Length>>,
        /// Terminals or leads.
        control: Named<Terminal>,
    }

    /// A filter for a grille or a cabinet.
    Filter, "a filter" {
        /// Face, width x height, and thickness.
        size: Stated<Size>,
        /// Airflow and loss when clean.
        clean: Vec<Stated<AirPoint>>,
        /// Loss at which it is changed.
        change: Stated<Pressure>,
        /// Price of a pack.
        price: Option<Stated<super::count::Price>>,
        /// Pieces in a pack.
        pack: Option<Stated<Count>>,
    }
}
