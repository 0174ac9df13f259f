//! A cabinet in its own axes: ports with place, side and size, the spaces it needs, the largest piece to carry in.
//!
//! Axes as [`super::Point`]: x along the discharge from the back (return end), y to the left, z up.

use super::record::{record, words};
use super::shape::{Point, Section, Size};
use super::stated::Stated;
use crate::quantity::Length;

words! {
    /// How the discharge runs when the unit stands as it is made to.
    Orientation {
        /// Air leaves level, at the front end.
        Horizontal = "horizontal",
        /// Air leaves upward, at the top; the front is then the blower's access side.
        Vertical = "vertical",
    }

    /// A side of the cabinet.
    Side {
        /// The discharge end of a horizontal unit (largest x).
        Front = "front",
        /// The return end of a horizontal unit (x = 0).
        Back = "back",
        /// The left side seen along the discharge (largest y).
        Left = "left",
        /// The right side seen along the discharge (y = 0).
        Right = "right",
        /// The top (largest z).
        Top = "top",
        /// The bottom (z = 0).
        Bottom = "bottom",
    }

    /// How a port is joined.
    Joint {
        /// A plain collar.
        Collar = "collar",
        /// A flange or opening in the sheet metal.
        Opening = "opening",
        /// A soldered or brazed stub.
        Sweat = "sweat",
        /// A female pipe thread.
        FemaleThread = "female thread",
        /// A male pipe thread.
        MaleThread = "male thread",
        /// A plastic socket.
        Socket = "socket",
        /// A knockout for a cable or conduit fitting.
        Knockout = "knockout",
        /// A flare.
        Flare = "flare",
    }

    /// Whether the supply trunk may stand in a service space.
    TrunkHere {
        /// Never.
        KeptOut = "kept out",
        /// Only as a piece that comes off.
        IfRemovable = "if removable",
        /// As it is.
        MayPass = "may pass",
    }
}

record! {
    /// An opening or stub of a cabinet.
    Port, "a port" {
        /// The middle of the opening, in the cabinet's axes.
        place: Stated<Point>,
        /// The side that it opens to.
        facing: Stated<Side>,
        /// Its cross-section: round, width x height, or a pipe's trade size.
        size: Stated<Section>,
        /// How it is joined.
        joint: Option<Stated<Joint>>,
    }

    /// The ports of an air handler.
    Ports, "the ports of an air handler" {
        /// Supply air.
        supply: Port,
        /// Return air.
        return_air [return]: Port,
        /// The primary drain of the coil's pan.
        drain: Port,
        /// The secondary drain of the coil's pan, where the unit has one.
        secondary_drain: Option<Port>,
        /// Refrigerant, suction line.
        suction: Option<Port>,
        /// Refrigerant, liquid line.
        liquid: Option<Port>,
        /// Water coil, supply.
        water_supply: Option<Port>,
        /// Water coil, return.
        water_return: Option<Port>,
        /// Entry of the power cable.
        power: Port,
        /// Entry of the control cable.
        control: Port,
    }

    /// A box beside or ahead of the cabinet that service needs clear.
    ServiceSpace, "a service space" {
        /// What it is for, in words for the crew.
        for_what [for]: Stated<String>,
        /// The corner of the box with the smallest x, y and z, in the cabinet's axes.
        from: Stated<Point>,
        /// The box.
        size: Stated<Size>,
        /// Whether the trunk may stand in it.
        trunk: Stated<TrunkHere>,
    }

    /// The clear working space at the control side.
    WorkingSpace, "a working space" {
        /// The side it lies at.
        side: Stated<Side>,
        /// How far out from the cabinet.
        depth: Stated<Length>,
        /// Along the cabinet.
        width: Stated<Length>,
        /// Up from the floor.
        height: Stated<Length>,
    }

    /// The least distance from each side of the cabinet to anything else.
    Clearances, "clearances" {
        /// Ahead of the front.
        front: Stated<Length>,
        /// Behind the back.
        back: Stated<Length>,
        /// Beside the left.
        left: Stated<Length>,
        /// Beside the right.
        right: Stated<Length>,
        /// Over the top.
        top: Stated<Length>,
        /// Under the bottom.
        bottom: Stated<Length>,
    }

    /// The largest piece that has to pass every hatch and way.
    LargestPiece, "the largest piece" {
        /// What it is.
        what: Stated<String>,
        /// Its box; it may be turned any way.
        size: Stated<Size>,
    }
}

impl Ports {
    /// The names under which jobs speak of ports.
    pub const NAMES: &'static [&'static str] = &[
        "supply",
        "return",
        "drain",
        "secondary-drain",
        "suction",
        "liquid",
        "water-supply",
        "water-return",
        "power",
        "control",
    ];

    /// The port of that name, if the unit has it.
    pub fn named(&self, name: &str) -> Option<&Port> {
        match name {
            "supply" => Some(&self.supply),
            "return" => Some(&self.return_air),
            "drain" => Some(&self.drain),
            "secondary-drain" => self.secondary_drain.as_ref(),
            "suction" => self.suction.as_ref(),
            "liquid" => self.liquid.as_ref(),
            "water-supply" => self.water_supply.as_ref(),
            "water-return" => self.water_return.as_ref(),
            "power" => Some(&self.power),
            "control" => Some(&self.control),
            _ => None,
        }
    }

    /// The ports that the unit has, with their names.
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, &Port)> {
        Self::NAMES
            .iter()
            .filter_map(|name| self.named(name).map(|port| (*name, port)))
    }
}
