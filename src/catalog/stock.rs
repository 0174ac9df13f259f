//! Stock beside ductwork: pipe, cable, hangers, pumps, pans, sealants, fasteners.

use super::count::{Count, Price};
use super::electrical::Terminal;
use super::record::{record, words};
use super::shape::{Section, Size};
use super::shelf::Named;
use super::stated::Stated;
use super::tabulated::{Range, WaterPoint};
use crate::quantity::{Current, Length, Mass, RValue, Temperature, Voltage, Volume, WireGauge};

words! {
    /// A fitting of a drain or water pipe.
    PipeFittingType {
        /// A right-angle elbow.
        Elbow = "elbow",
        /// A 45 degree elbow.
        Elbow45 = "elbow 45",
        /// A tee.
        Tee = "tee",
        /// A tee whose branch sweeps into its run.
        SanitaryTee = "sanitary tee",
        /// A branch that joins its run at 45 degrees.
        Wye = "wye",
        /// A straight coupling.
        Coupling = "coupling",
        /// A union.
        Union = "union",
        /// A trap, made up.
        Trap = "trap",
        /// A cleanout with its plug.
        Cleanout = "cleanout",
        /// The plug of a cleanout, with the adapter that it threads into.
        CleanoutPlug = "cleanout plug",
        /// A male adapter to a thread.
        MaleAdapter = "male adapter",
        /// A cap or plug.
        Cap = "cap",
        /// From one size to another.
        Reducer = "reducer",
        /// An air vent or bleed.
        Vent = "vent",
        /// A shut-off valve.
        Valve = "valve",
        /// A flow check of a heating loop.
        FlowCheck = "flow check",
    }

    /// What a pipe is made of.
    PipeMaterial {
        /// PVC, Schedule 40.
        Pvc = "PVC",
        /// Copper for water, type L.
        CopperL = "copper L",
        /// Copper for water, type M.
        CopperM = "copper M",
        /// Copper for refrigerant.
        CopperRefrigerant = "copper refrigerant",
        /// Cross-linked polyethylene.
        Pex = "PEX",
        /// CPVC.
        Cpvc = "CPVC",
        /// ABS.
        Abs = "ABS",
        /// Polyethylene.
        Pe = "PE",
        /// Galvanized steel.
        Galvanized = "galvanized steel",
        /// Soft vinyl tube, for pumps.
        Vinyl = "vinyl",
        /// Black steel.
        Steel = "steel",
    }

    /// What a cable carries.
    CableUse {
        /// Line voltage.
        Power = "power",
        /// 24 V control.
        Control = "control",
    }

    /// How a power cable is made.
    Sheath {
        /// Plastic-sheathed building cable.
        Nm = "NM-B",
        /// The same for wet places and burial.
        Uf = "UF-B",
        /// Metal-clad cable.
        Mc = "MC",
        /// Single conductors in a raceway.
        Raceway = "raceway",
    }

    /// What a hanger holds.
    Holds {
        /// Trunk.
        Trunk = "trunk",
        /// Tube to an outlet.
        Tube = "tube",
        /// Pipe.
        Pipe = "pipe",
        /// The air handler.
        Unit = "unit",
        /// Cable.
        Cable = "cable",
    }

    /// What a sealant or joining material is.
    SealantType {
        /// Mastic for ducts.
        Mastic = "mastic",
        /// Listed tape for ducts.
        Tape = "tape",
        /// Foam gasket.
        Gasket = "gasket",
        /// Primer for plastic pipe.
        Primer = "primer",
        /// Solvent cement for plastic pipe.
        Cement = "cement",
        /// Sealant for threads.
        ThreadSealant = "thread sealant",
        /// Brazing rod.
        BrazingRod = "brazing rod",
        /// Solder with flux.
        Solder = "solder",
    }
}

record! {
    /// Pipe or tubing: drain, water, refrigerant.
    Pipe, "a pipe" {
        /// What it is made of.
        material: Stated<PipeMaterial>,
        /// Trade size.
        size: Stated<Length>,
        /// Outside diameter.
        outside: Stated<Length>,
        /// Inside diameter.
        inside: Stated<Length>,
        /// Stock length or coil.
        stock: Stated<Length>,
        /// Width that a cut takes up.
        kerf: Stated<Length>,
        /// Greatest distance between supports, level.
        support: Stated<Length>,
        /// Greatest distance between supports, upright.
        support_upright: Option<Stated<Length>>,
        /// Hottest air that it may stand in.
        hottest: Option<Stated<Temperature>>,
        /// Insulation it comes with.
        insulation: Option<Stated<RValue>>,
        /// Hottest water it may carry.
        hottest_water: Option<Stated<Temperature>>,
        /// Price of a stock length.
        price: Stated<Price>,
    }

    /// A fitting of a pipe.
    PipeFitting, "a pipe fitting" {
        /// What it is.
        type_of [type]: Stated<PipeFittingType>,
        /// What the pipe is made of.
        material: Stated<PipeMaterial>,
        /// Trade size.
        size: Stated<Length>,
        /// The other end, for a reducer.
        to: Option<Stated<Length>>,
        /// From the end of the pipe in its socket to the centre of the fitting.
        laying: Stated<Length>,
        /// Depth of its socket.
        socket: Stated<Length>,
        /// Price of one.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Option<Stated<Count>>,
    }

    /// A cable.
    Cable, "a cable" {
        /// What it carries.
        use_for [use]: Stated<CableUse>,
        /// Conductors that carry current or signal, the ground apart.
        conductors: Stated<Count>,
        /// Size of its conductors.
        gauge: Stated<WireGauge>,
        /// Whether it has a ground.
        ground: Stated<bool>,
        /// Colours of the conductors, the ground apart.
        colours: Vec<Stated<String>>,
        /// Hottest it may run, the ends apart.
        rated: Stated<Temperature>,
        /// How it is made; a power cable that does not say is taken for NM-B.
        sheath: Option<Stated<Sheath>>,
        /// Size of its ground, where it has one.
        ground_gauge: Option<Stated<WireGauge>>,
        /// Voltage it is made for.
        volts: Stated<Voltage>,
        /// Whether it is listed for ducts and plenums.
        plenum: Option<Stated<bool>>,
        /// Whether it may lie outdoors: sun and wet.
        outdoors: Option<Stated<bool>>,
        /// Length of a coil.
        coil: Stated<Length>,
        /// Price of a coil.
        price: Stated<Price>,
    }

    /// A hanger or support.
    Hanger, "a hanger" {
        /// What it holds.
        holds: Stated<Holds>,
        /// The size it fits.
        size: Option<Stated<Section>>,
        /// Load it carries.
        load: Stated<Mass>,
        /// Greatest distance to the next.
        spacing: Option<Stated<Length>>,
        /// Price of a pack.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Stated<Count>,
    }

    /// A condensate pump.
    Pump, "a condensate pump" {
        /// Flow against lift, the lift as a pressure, from the lowest lift to the highest.
        points: Vec<Stated<WaterPoint>>,
        /// Highest lift.
        lift: Stated<Length>,
        /// What its tank holds.
        tank: Stated<Volume>,
        /// What it pumps out each time it runs.
        cycle: Option<Stated<Volume>>,
        /// What the tank still takes once its overflow switch has tripped.
        reserve: Option<Stated<Volume>>,
        /// Whether it has a check valve of its own.
        check_valve: Option<Stated<bool>>,
        /// Trade size of its outlet.
        outlet: Stated<Length>,
        /// Its box.
        size: Stated<Size>,
        /// Supply voltages.
        supply: Stated<Range<Voltage>>,
        /// Running current.
        running: Stated<Current>,
        /// Terminals of its overflow switch.
        control: Named<Terminal>,
        /// Price of one.
        price: Stated<Price>,
    }

    /// A pan under a unit.
    Pan, "a pan" {
        /// Inside length x width x depth.
        size: Stated<Size>,
        /// Thickness of the sheet.
        thickness: Stated<Length>,
        /// What it is made of.
        material: Stated<String>,
        /// Trade size of its drain.
        drain: Stated<Length>,
        /// Price of one.
        price: Stated<Price>,
    }

    /// A sealant or joining material.
    Sealant, "a sealant" {
        /// What it is.
        type_of [type]: Stated<SealantType>,
        /// The pipe that it joins, for primer and cement.
        material: Option<Stated<PipeMaterial>>,
        /// Joint length that one pack covers.
        covers: Option<Stated<Length>>,
        /// Joints that one pack covers.
        joints: Option<Stated<Count>>,
        /// Price of a pack.
        price: Stated<Price>,
    }

    /// A fastener.
    Fastener, "a fastener" {
        /// What it is and where it goes.
        what: Stated<String>,
        /// Its length.
        length: Stated<Length>,
        /// Price of a pack.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Stated<Count>,
    }
}

impl Cable {
    /// Whether another cable has the same use, conductors and ground, whatever their thickness.
    pub fn made_like(&self, other: &Self) -> bool {
        self.use_for.get() == other.use_for.get()
            && self.conductors.get() == other.conductors.get()
            && self.ground.get() == other.ground.get()
    }
}
