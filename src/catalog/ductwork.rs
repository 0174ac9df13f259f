//! Ductwork stock: trunk, adapters, tubes, outlets, grilles, with what take-off and cut list need of each.

use super::count::{Count, Factor, Price};
use super::record::{record, words};
use super::shape::Section;
use super::stated::Stated;
use super::tabulated::{AirPoint, Range};
use crate::quantity::{AirFlow, Area, Length, Mass, Pressure, RValue, Ratio, Velocity};

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
        /// Whether a vapor retarder covers the insulation.
        vapor_retarder: Option<Stated<bool>>,
        /// The pressure that it and its joints are built for.
        pressure: Option<Stated<Pressure>>,
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
        /// Whether a vapor retarder covers the insulation.
        vapor_retarder: Option<Stated<bool>>,
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
        /// Free area through which the air comes out.
        free: Option<Stated<Area>>,
        /// Velocity in the free area with which it mixes the room's air and stays quiet.
        velocity: Option<Stated<Range<Velocity>>>,
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

    /// A return grille.
    Grille, "a return grille" {
        /// Duct opening, width x height.
        opening: Stated<Section>,
        /// Share of the opening that is free.
        free: Stated<Ratio>,
        /// Loss against flow.
        points: Vec<Stated<AirPoint>>,
        /// Price of one.
        price: Stated<Price>,
    }
}
