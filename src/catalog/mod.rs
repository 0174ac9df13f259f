//! Equipment, stock and shop standards from YAML, every value with its place.
//!
//! One file a family; the files that a job names are read and merged. A bad field costs that field.

mod air_handler;
mod blower;
mod cabinet;
mod check;
mod count;
mod cursor;
mod ductwork;
mod electrical;
mod equipment;
mod kinds;
mod measured;
mod misread;
mod node;
mod reading;
mod record;
mod schema;
mod shape;
mod shelf;
mod standards;
mod stated;
mod stock;
mod tabulated;
mod whole;
mod yaml;

pub use air_handler::{AirHandler, AirLimits, DesignPoint, FilterSlot, Part, TrapNeed};
pub use blower::{Blower, BlowerType, CoolingBlock, CoolingRow, Suction, Tap, cooling_rows, curve};
pub use cabinet::{
    Clearances, Joint, LargestPiece, Orientation, Port, Ports, ServiceSpace, Side, TrunkHere,
    WorkingSpace,
};
pub use count::{Count, Factor, Price};
pub use ductwork::{
    Adapter, Grille, Orifice, Outlet, SoundSection, TakeOff, TrunkFitting, TrunkFittingType,
    TrunkMaterial, TrunkPipe, Tube,
};
pub use electrical::{
    Call, CallSide, Electrical, Fitted, Jumper, Landing, LowSupply, Poles, Role, Safety,
    SafetyType, Terminal, Times, Transformer, VoltageSetting,
};
pub use equipment::{
    Boiler, Chiller, Circulator, Feed, Filter, FloatPlace, FloatSwitch, Heating, LineSetLimits,
    Loads, OutdoorUnit, Plate, Relay, ReversingIn, Thermostat, WaterCoil, WaterRating,
};
pub use kinds::KINDS;
pub use measured::Measured;
pub use misread::Misread;
pub(crate) use reading::UNKNOWN_FIELD;
pub use reading::nearest;
pub use schema::{catalog_schema, standards_schema};
pub use shape::{Point, Section, Size};
pub use shelf::{Named, Placed, Shelf};
pub use standards::{Root, RuleThresholds, Standards, Threshold};
pub use stated::{Cite, MAKER_SILENT, NOT_READABLE, Readable, Stated};
pub use stock::{
    Cable, CableUse, Fastener, Hanger, Holds, Pan, Pipe, PipeFitting, PipeFittingType,
    PipeMaterial, Pump, Sealant, SealantType, Sheath,
};
pub use tabulated::{AirPoint, CoolingEntry, CurvePoint, HeatingPoint, Range, WaterPoint};
pub use whole::{Catalog, read};
