//! Air handlers: everything a job, its rules and its packet ask of one.

use super::blower::{Blower, CoolingBlock, CoolingRow, Suction, cooling_rows};
use super::cabinet::{Clearances, LargestPiece, Orientation, Ports, ServiceSpace, WorkingSpace};
use super::count::Count;
use super::electrical::{Electrical, Fitted, Safety, Terminal, Times, Transformer};
use super::record::record;
use super::shape::{Section, Size};
use super::shelf::Named;
use super::stated::Stated;
use super::tabulated::Range;
use crate::quantity::{AirFlow, HeatFlow, Length, Mass, Pressure};

record! {
    /// What the maker asks of the air side.
    AirLimits, "the air limits" {
        /// Airflow per nominal ton, for cooling.
        airflow_per_ton: Stated<Range<AirFlow>>,
        /// Pressure in the supply plenum.
        plenum_pressure: Stated<Range<Pressure>>,
        /// Greatest suction in the cabinet at the drain pan; a positive figure.
        most_suction: Option<Stated<Pressure>>,
        /// Least distance of a take-off from the unit, a tee, an elbow or an end cap.
        take_off_distance: Stated<Length>,
        /// Least distance between two take-offs on one side.
        take_off_spacing: Stated<Length>,
        /// Length of trunk next to the unit that has to come off.
        first_removable: Stated<Length>,
        /// Least and greatest length of a run to an outlet.
        run_length: Stated<Range<Length>>,
        /// Greatest number of right-angle bends in a run.
        run_bends: Stated<Count>,
    }

    /// The point the unit is designed for.
    DesignPoint, "the design point" {
        /// Airflow.
        airflow: Stated<AirFlow>,
        /// Total external static pressure.
        external_static: Stated<Pressure>,
    }

    /// What the maker asks of the drain trap.
    TrapNeed, "the trap" {
        /// Whether the primary drain needs a trap.
        required: Stated<bool>,
        /// Greatest distance of the trap from the unit.
        most_distance: Stated<Length>,
    }

    /// The filter that the unit holds, where it holds one.
    FilterSlot, "the filter" {
        /// Face, width x height.
        face: Stated<Section>,
        /// Thickness.
        thickness: Stated<Length>,
        /// Pressure loss when clean, at the design airflow.
        clean: Stated<Pressure>,
        /// Pressure loss at which it is changed.
        change: Stated<Pressure>,
    }

    /// A part that belongs to the unit.
    Part, "a part" {
        /// Whether it comes with the unit.
        fitted: Stated<Fitted>,
        /// What it is for.
        does: Stated<String>,
    }

    /// An air handler.
    AirHandler, "an air handler" {
        /// How the discharge runs.
        orientation: Stated<Orientation>,
        /// Nominal cooling, `3 ton`.
        nominal: Stated<HeatFlow>,
        /// The cabinet: along the discharge x across x up.
        size: Stated<Size>,
        /// Weight without packing.
        weight: Stated<Mass>,
        /// Refrigerant of the coil.
        refrigerant: Stated<String>,
        /// Openings and stubs.
        ports: Ports,
        /// Spaces that service needs clear.
        service_spaces: Vec<ServiceSpace>,
        /// Clear working space at the control side.
        working_space: WorkingSpace,
        /// Least distances to anything else.
        clearances: Clearances,
        /// The largest piece to carry in.
        largest_piece: LargestPiece,
        /// Taps and curves.
        blower: Blower,
        /// What the maker asks of the air side.
        air: AirLimits,
        /// The point it is designed for.
        design: DesignPoint,
        /// The cooling table.
        cooling: Vec<CoolingBlock>,
        /// Suction at the drain pan.
        suction: Suction,
        /// The filter in the unit, where it has one.
        filter: Option<FilterSlot>,
        /// Line voltage.
        electrical: Electrical,
        /// The 24 V transformer.
        transformer: Transformer,
        /// Control terminals by the letters beside them.
        control: Named<Terminal>,
        /// The call terminals that run the blower, each by itself; the fan's alone where the catalog does not say.
        blower_on: Option<Vec<Stated<String>>>,
        /// What its control board times after a call has ended.
        times: Option<Times>,
        /// Safeties by name.
        safeties: Named<Safety>,
        /// The drain trap.
        trap: TrapNeed,
        /// Adapters of the stock that fit its supply port, best first.
        adapters: Vec<Stated<String>>,
        /// Water coils that fit it.
        water_coils: Option<Vec<Stated<String>>>,
        /// Fitted, loose and optional parts.
        parts: Named<Part>,
    }
}

impl AirHandler {
    /// Nominal tons, if known.
    pub fn tons(&self) -> Option<f64> {
        self.nominal.get().map(|heat| heat.value() / 12_000.0)
    }

    /// The cooling table as rows.
    pub fn cooling_rows(&self) -> Vec<CoolingRow> {
        cooling_rows(&self.cooling)
    }
}
