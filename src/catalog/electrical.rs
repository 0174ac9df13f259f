//! Nameplates and terminals: voltage settings with their jumpers, control terminals with their roles, safeties.

use super::count::Count;
use super::record::{record, words};
use super::shelf::Named;
use super::stated::Stated;
use super::tabulated::Range;
use crate::quantity::{ApparentPower, Current, Duration, Ratio, Temperature, Voltage};

words! {
    /// What a terminal is for.
    Role {
        /// Takes the call for the fan.
        CallInFan = "call in fan",
        /// Takes the call for cooling, first stage.
        CallInCool = "call in cool",
        /// Takes the call for the second stage of cooling.
        CallInCool2 = "call in cool 2",
        /// Takes the call for heat, first stage.
        CallInHeat = "call in heat",
        /// Takes the call for the second stage of heat.
        CallInHeat2 = "call in heat 2",
        /// Takes the call to dry the air: less air over the coil.
        CallInDehumidify = "call in dehumidify",
        /// Takes the call for emergency heat, the compressor off.
        CallInEmergency = "call in emergency heat",
        /// Takes the call for the reversing valve.
        CallInReversing = "call in reversing",
        /// Gives the call for the fan (thermostat).
        CallOutFan = "call out fan",
        /// Gives the call for cooling (thermostat).
        CallOutCool = "call out cool",
        /// Gives the call for the second stage of cooling (thermostat).
        CallOutCool2 = "call out cool 2",
        /// Gives the call for heat (thermostat).
        CallOutHeat = "call out heat",
        /// Gives the call for the second stage of heat (thermostat).
        CallOutHeat2 = "call out heat 2",
        /// Gives the call to dry the air (thermostat).
        CallOutDehumidify = "call out dehumidify",
        /// Gives the call for emergency heat (thermostat).
        CallOutEmergency = "call out emergency heat",
        /// Gives the call for the reversing valve (thermostat).
        CallOutReversing = "call out reversing",
        /// Passes the call for cooling on, behind the safeties.
        OutputCool = "output cool",
        /// Passes the call for the second stage of cooling on, behind the safeties.
        OutputCool2 = "output cool 2",
        /// Passes the call for heat on, behind the safeties.
        OutputHeat = "output heat",
        /// Passes the call for the reversing valve on.
        OutputReversing = "output reversing",
        /// 24 V, hot side, of the unit's own transformer.
        Power = "power",
        /// 24 V, common side.
        Common = "common",
        /// Takes 24 V from elsewhere.
        PowerIn = "power in",
        /// One end of a switch's loop: float switch, freeze cut-out.
        Switch = "switch",
        /// One end of a relay's coil.
        Coil = "relay coil",
        /// The common contact of a relay.
        ContactCommon = "contact common",
        /// The contact that closes when the coil is fed.
        ContactOpen = "contact normally open",
        /// The contact that opens when the coil is fed.
        ContactClosed = "contact normally closed",
        /// A sensor's pair.
        Sensor = "sensor",
        /// Line voltage, hot.
        Line = "line",
        /// Line voltage, second hot or neutral by the setting.
        LineOrNeutral = "line or neutral",
        /// Neutral.
        Neutral = "neutral",
        /// Line voltage, the setting for the lower voltage.
        LowSetting = "low-voltage setting",
        /// Equipment ground.
        Ground = "ground",
        /// No use in the field.
        Unused = "unused",
    }

    /// What a call asks for.
    Call {
        /// The fan.
        Fan = "fan",
        /// Cooling, first stage.
        Cool = "cool",
        /// Cooling, second stage.
        Cool2 = "cool 2",
        /// Heat, first stage.
        Heat = "heat",
        /// Heat, second stage.
        Heat2 = "heat 2",
        /// Drier air: cooling at less airflow.
        Dehumidify = "dehumidify",
        /// Emergency heat, the compressor off.
        Emergency = "emergency heat",
        /// The reversing valve.
        Reversing = "reversing",
    }

    /// What a safety watches.
    SafetyType {
        /// The coil near freezing.
        Freeze = "freeze cut-out",
        /// Water in a pan or drain line.
        Float = "float switch",
        /// Air or water too hot.
        HighLimit = "high limit",
        /// Pressure of refrigerant or water.
        Pressure = "pressure switch",
        /// A panel or door that is open.
        Door = "door switch",
        /// Refrigerant that leaks: it calls the blower to dilute it.
        Leak = "leak detector",
    }

    /// Poles of a breaker.
    Poles {
        /// One pole: line and neutral.
        One = "one-pole",
        /// Two poles with a common trip.
        Two = "two-pole",
    }

    /// Whether a part comes with the unit.
    Fitted {
        /// In the unit as it is delivered.
        Fitted = "fitted",
        /// In the carton, to be fitted on site.
        Loose = "loose",
        /// Ordered apart.
        Optional = "optional",
    }
}

/// On which side of a call a terminal stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CallSide {
    /// It takes the call.
    In,
    /// A thermostat gives the call.
    Out,
    /// It passes the call on behind the safeties.
    Output,
}

impl Role {
    /// The side and the call, for terminals that carry one.
    pub const fn call(self) -> Option<(CallSide, Call)> {
        Some(match self {
            Self::CallInFan => (CallSide::In, Call::Fan),
            Self::CallInCool => (CallSide::In, Call::Cool),
            Self::CallInCool2 => (CallSide::In, Call::Cool2),
            Self::CallInHeat => (CallSide::In, Call::Heat),
            Self::CallInHeat2 => (CallSide::In, Call::Heat2),
            Self::CallInDehumidify => (CallSide::In, Call::Dehumidify),
            Self::CallInEmergency => (CallSide::In, Call::Emergency),
            Self::CallInReversing => (CallSide::In, Call::Reversing),
            Self::CallOutFan => (CallSide::Out, Call::Fan),
            Self::CallOutCool => (CallSide::Out, Call::Cool),
            Self::CallOutCool2 => (CallSide::Out, Call::Cool2),
            Self::CallOutHeat => (CallSide::Out, Call::Heat),
            Self::CallOutHeat2 => (CallSide::Out, Call::Heat2),
            Self::CallOutDehumidify => (CallSide::Out, Call::Dehumidify),
            Self::CallOutEmergency => (CallSide::Out, Call::Emergency),
            Self::CallOutReversing => (CallSide::Out, Call::Reversing),
            Self::OutputCool => (CallSide::Output, Call::Cool),
            Self::OutputCool2 => (CallSide::Output, Call::Cool2),
            Self::OutputHeat => (CallSide::Output, Call::Heat),
            Self::OutputReversing => (CallSide::Output, Call::Reversing),
            _ => return None,
        })
    }
}

record! {
    /// A terminal, by the letters printed beside it.
    Terminal, "a terminal" {
        /// What it is for.
        role: Stated<Role>,
        /// What it is for in the crew's words, where the role does not say enough.
        does: Option<Stated<String>>,
        /// The load it puts on the transformer when it is fed.
        load: Option<Stated<ApparentPower>>,
        /// How many conductors it takes.
        takes: Option<Stated<Count>>,
        /// The load while it pulls in.
        in_rush: Option<Stated<ApparentPower>>,
        /// Least voltage at which it pulls in.
        pulls_at: Option<Stated<Voltage>>,
        /// Least voltage that holds it in: below it lets go.
        holds_at: Option<Stated<Voltage>>,
    }

    /// A jumper of one voltage setting.
    Jumper, "a jumper" {
        /// The terminal it starts at.
        from: Stated<String>,
        /// The terminal it ends at.
        to: Stated<String>,
    }

    /// Which terminal each conductor of the feed lands on.
    Landing, "the landing of the feed" {
        /// First hot conductor.
        line_1: Stated<String>,
        /// Second hot conductor, where the setting has one.
        line_2: Option<Stated<String>>,
        /// Neutral, where the setting has one.
        neutral: Option<Stated<String>>,
        /// Equipment ground.
        ground: Stated<String>,
    }

    /// What a supply in the lower part of the range asks, 208 V from a wye for instance.
    LowSupply, "the lower supply" {
        /// The supply up to which it holds.
        at_most: Stated<Voltage>,
        /// What is set: a lead moved, a tap chosen.
        set: Stated<String>,
        /// Share of the airflow that is left, where the maker says so.
        airflow: Option<Stated<Ratio>>,
        /// What happens when it is left as shipped.
        if_left: Stated<String>,
    }

    /// The nameplate at one setting of the supply voltage.
    VoltageSetting, "a voltage setting" {
        /// Supply voltages it is made for.
        supply: Stated<Range<Voltage>>,
        /// Minimum circuit ampacity on the plate.
        least_ampacity: Stated<Current>,
        /// Maximum breaker or fuse on the plate.
        most_breaker: Stated<Current>,
        /// Running current.
        running: Stated<Current>,
        /// The blower's apparent power.
        blower: Stated<ApparentPower>,
        /// The breaker.
        poles: Stated<Poles>,
        /// What it carries; sized from where the plate gives no minimum.
        loads: Option<super::equipment::Loads>,
        /// What else has to be set at a supply in the lower part of the range.
        low_supply: Option<LowSupply>,
        /// Where each conductor lands.
        lands: Landing,
        /// Jumpers that the setting needs; none as shipped in most.
        jumpers: Option<Vec<Jumper>>,
        /// Terminals that stay empty at this setting.
        empty: Option<Vec<Stated<String>>>,
        /// What happens when it is wired otherwise.
        if_wrong: Stated<String>,
    }

    /// Line voltage: terminals and settings.
    Electrical, "the electrical data" {
        /// The power terminals by the letters beside them.
        terminals: Named<Terminal>,
        /// Settings by name; the first one is as shipped.
        settings: Named<VoltageSetting>,
    }

    /// The 24 V transformer in the unit.
    Transformer, "a transformer" {
        /// Its rating.
        rating: Stated<ApparentPower>,
        /// What the unit itself takes of it.
        own_load: Stated<ApparentPower>,
        /// The fuse in its secondary, where it has one.
        fuse: Option<Stated<Current>>,
        /// Whether it limits its own current; else a fuse or breaker does.
        limits_itself: Option<Stated<bool>>,
    }

    /// The times that a control board or a thermostat keeps.
    Times, "the times of a control" {
        /// How long the blower runs on after a call for cooling has ended.
        blower_after_cool: Option<Stated<Duration>>,
        /// How long the blower runs on after a call for heat has ended.
        blower_after_heat: Option<Stated<Duration>>,
        /// How long it keeps the call for cooling off after one has ended.
        time_off: Option<Stated<Duration>>,
    }

    /// A safety of the unit.
    Safety, "a safety" {
        /// What it watches.
        type_of [type]: Stated<SafetyType>,
        /// Whether it comes with the unit.
        fitted: Stated<Fitted>,
        /// Temperature at which it opens.
        opens: Option<Stated<Temperature>>,
        /// Temperature at which it closes again.
        closes: Option<Stated<Temperature>>,
        /// The terminals that its contact is wired to.
        terminals: Option<Vec<Stated<String>>>,
        /// The control terminals that go dead when it opens.
        stops: Vec<Stated<String>>,
        /// Whether the blower runs on while it is open.
        blower_runs: Stated<bool>,
        /// Whether it locks the unit out until the power is cut; else it comes back by itself.
        locks_out: Option<Stated<bool>>,
        /// What the unit's lamp shows while it is open, as the maker says it.
        code: Option<Stated<String>>,
    }
}
