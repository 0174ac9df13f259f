//! Stock: what is bought by the length, the coil or the pack, with what the take-off and the cut list need of it.

use super::amount::{AirPoint, Count, Factor, Price, Range, Section, Size, WaterPoint};
use super::electrical::Terminal;
use super::record::{record, words};
use super::shelf::Named;
use super::stated::Stated;
use crate::quantity::{
    AirFlow, Current, Length, Mass, RValue, Temperature, Voltage, Volume, WireGauge,
};

words! {
    /// What a trunk is made of.
    TrunkMaterial {
        /// Round or rectangular sheet metal.
        SheetMetal = "sheet metal",
        /// Rigid fibrous board.
        RigidBoard = "rigid board",
    }

    /// A fitting of the trunk.
    TrunkFittingType {
        /// A right-angle elbow.
        Elbow = "elbow",
        /// A tee with three equal ends.
        Tee = "tee",
        /// An end cap.
        Cap = "cap",
        /// A straight joint.
        Coupling = "coupling",
        /// From one size to another.
        Reducer = "reducer",
    }

    /// A fitting of a drain or water pipe.
    PipeFittingType {
        /// A right-angle elbow.
        Elbow = "elbow",
        /// A 45 degree elbow.
        Elbow45 = "elbow 45",
        /// A tee.
        Tee = "tee",
        /// A straight coupling.
        Coupling = "coupling",
        /// A union.
        Union = "union",
        /// A trap, made up.
        Trap = "trap",
        /// A cleanout with its plug.
        Cleanout = "cleanout",
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
    }

    /// What a cable carries.
    CableUse {
        /// Line voltage.
        Power = "power",
        /// 24 V control.
        Control = "control",
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
    /// Trunk pipe.
    TrunkPipe, "trunk pipe" {
        /// What it is made of.
        material: Stated<TrunkMaterial>,
        /// Inside cross-section.
        section: Stated<Section>,
        /// Stock length.
        stock: Stated<Length>,
        /// Length that a joint takes up.
        joint: Stated<Length>,
        /// Width that a cut takes up.
        kerf: Stated<Length>,
        /// Roughness of the inside.
        roughness: Stated<Length>,
        /// Insulation.
        insulation: Stated<RValue>,
        /// Weight of one stock length.
        weight: Stated<Mass>,
        /// Price of a stock length.
        price: Stated<Price>,
    }

    /// A fitting of the trunk.
    TrunkFitting, "a trunk fitting" {
        /// What it is.
        type_of [type]: Stated<TrunkFittingType>,
        /// The trunk it fits.
        section: Stated<Section>,
        /// The other end, for a reducer.
        to: Option<Stated<Section>>,
        /// Length it adds along the run, from joint to joint (elbow: joint to centre).
        length: Stated<Length>,
        /// Loss coefficient at the trunk's velocity.
        loss: Stated<Factor>,
        /// Price of one.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Option<Stated<Count>>,
    }

    /// A piece between a unit's supply port and the trunk.
    Adapter, "an adapter" {
        /// The unit's end.
        from: Stated<Section>,
        /// The trunk's end.
        to: Stated<Section>,
        /// What the trunk is made of.
        trunk: Stated<TrunkMaterial>,
        /// Length along the air.
        length: Stated<Length>,
        /// Whether a gasket goes between it and the unit.
        gasket: Stated<bool>,
        /// Screws that hold it.
        screws: Stated<Count>,
        /// Loss coefficient at the trunk's velocity.
        loss: Stated<Factor>,
        /// Price of one.
        price: Stated<Price>,
    }

    /// The part of a tube that quiets it.
    SoundSection, "a sound section" {
        /// Its length.
        length: Stated<Length>,
        /// How many each run needs.
        per_run: Stated<Count>,
        /// Price of one.
        price: Stated<Price>,
    }

    /// Tube from the trunk to an outlet.
    Tube, "a tube" {
        /// Inside diameter.
        inside: Stated<Length>,
        /// Diameter over the insulation.
        outside: Stated<Length>,
        /// Length of a coil.
        coil: Stated<Length>,
        /// Insulation.
        insulation: Stated<RValue>,
        /// Roughness of the inside.
        roughness: Stated<Length>,
        /// Least radius of a bend, to the centre line.
        bend_radius: Stated<Length>,
        /// Loss coefficient of one right-angle bend.
        bend_loss: Stated<Factor>,
        /// Greatest distance between supports.
        support: Stated<Length>,
        /// Airflow that one tube is used for.
        airflow: Stated<Range<AirFlow>>,
        /// Sound section at the outlet.
        sound: SoundSection,
        /// Price of a coil.
        price: Stated<Price>,
    }

    /// A collar that a tube leaves the trunk by.
    TakeOff, "a take-off" {
        /// The tube it fits, inside diameter.
        tube: Stated<Length>,
        /// Hole in the trunk.
        hole: Stated<Length>,
        /// Whether it has a gasket of its own.
        gasket: Stated<bool>,
        /// Screws that hold it.
        screws: Stated<Count>,
        /// Loss coefficient at the tube's velocity.
        loss: Stated<Factor>,
        /// Price of a pack.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Stated<Count>,
    }

    /// An outlet.
    Outlet, "an outlet" {
        /// The tube it fits, inside diameter.
        tube: Stated<Length>,
        /// Hole in the ceiling, floor or wall.
        hole: Stated<Length>,
        /// Diameter of the face.
        face: Stated<Length>,
        /// Airflow that one outlet is used for.
        airflow: Stated<Range<AirFlow>>,
        /// How far its air mixes.
        reach: Stated<Length>,
        /// Loss coefficient at the tube's velocity.
        loss: Stated<Factor>,
        /// Price of a pack.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Stated<Count>,
    }

    /// A balancing orifice.
    Orifice, "an orifice" {
        /// The tube it goes into, inside diameter.
        tube: Stated<Length>,
        /// Diameter of its bore.
        bore: Stated<Length>,
        /// Loss coefficient at the tube's velocity.
        loss: Stated<Factor>,
        /// Price of a pack.
        price: Stated<Price>,
        /// Pieces in a pack.
        pack: Stated<Count>,
    }

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
        /// Insulation it comes with.
        insulation: Option<Stated<RValue>>,
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
        /// Voltage it is made for.
        volts: Stated<Voltage>,
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

    /// A return grille.
    Grille, "a return grille" {
        /// Duct opening, width x height.
        opening: Stated<Section>,
        /// Share of the opening that is free.
        free: Stated<crate::quantity::Ratio>,
        /// Loss against flow.
        points: Vec<Stated<AirPoint>>,
        /// Price of one.
        price: Stated<Price>,
    }
}
